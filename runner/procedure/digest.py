"""The one number that stands for a text: SHA-256 over the procedure with its fragments.

The `status` line and the `approval` block are left out, so that approving a text does not change the number that is
approved. Line ends count as line feeds, so that the number is the same on every machine.
"""

from runner.procedure.nodes import Map

try:  # the interpreter's own where it has one: hashlib loads a whole library first
    from _sha2 import sha256  # type: ignore[import-not-found]  # Python 3.12 and up, not in the stubs of 3.11
except ImportError:
    try:
        from _sha256 import sha256  # type: ignore[import-not-found]  # Python 3.11, not in the stubs
    except ImportError:
        from hashlib import sha256

LEFT_OUT = ("status", "approval")


def digest(sources: tuple[tuple[str, str], ...], root: Map) -> str:
    """Hexadecimal SHA-256 of (path, text) pairs, the procedure first; `root` is the procedure's top map.

    Fragments' paths count from the procedure's folder, so that the number is the same from wherever it is asked for.
    The procedure's own path does not count: a file may be renamed.
    """
    kept = [("", without(sources[0][1], left_out_lines(root))), *sources[1:]]
    return sha256_of("".join(canonical(path, text) for path, text in kept).encode("utf-8"))


def sha256_of(content: bytes) -> str:
    """Hexadecimal SHA-256."""
    return str(sha256(content).hexdigest())


def canonical(path: str, text: str) -> str:
    """A file as it goes into the number: its path, how many lines, and the lines. Where files end is part of it."""
    lines = text.removeprefix("\ufeff").replace("\r\n", "\n").split("\n")
    return f"{path}\n{len(lines)}\n" + "\n".join(lines) + "\n"


def without(text: str, numbers: frozenset[int]) -> str:
    """The text without the lines of these numbers, from 0."""
    lines = text.replace("\r\n", "\n").split("\n")
    return "\n".join(line for number, line in enumerate(lines) if number not in numbers)


def left_out_lines(root: Map) -> frozenset[int]:
    """Numbers of the lines of `status` and `approval`: from the key to the last indented line before the next key.

    A procedure written in braces has no such lines of its own; nothing of it is left out.
    """
    starts = sorted(spot[0] for spot in root.places.values())
    lines = root.origin.text.split("\n")
    numbers: set[int] = set()
    for key in LEFT_OUT:
        if key not in root.places or root.places[key][1] != 0 or lines[root.at[0]].startswith("{"):
            continue
        first = root.places[key][0]
        stop = next((start for start in starts if start > first), len(lines))
        last = first
        for number in range(first + 1, stop):
            if lines[number].startswith((" ", "}")):
                last = number
        numbers.update(range(first, last + 1))
    return frozenset(numbers)
