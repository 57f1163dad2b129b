"""Changed procedures: real ones with characters, words and lines taken out, doubled, moved or replaced; the same by seed."""

from pathlib import Path
from random import Random

from tests.bench.written import procedure

FOLDER = Path(__file__).parent.parent.parent.parent / "procedures"
BASES = (
    *((path.name, path.read_text("utf-8")) for path in sorted(FOLDER.glob("*.procedure.yaml"))),
    *((f"written-{count}.procedure.yaml", procedure(count)) for count in (8, 24)),
)
"""(name, text) of what is changed."""

FRAGMENTS = {path.name: path.read_text("utf-8") for path in FOLDER.glob("*.fragment.yaml")}

ODD = (
    "\t", "\u0000", "\u202e", "\ufeff", "&a", "*a", "<<: *a", "!!python/object:x", "%YAML 1.1", "---", "...", "{{", "}}",
    "{", "}", "[", "]", "'", '"', "|", ">", "#", ": ", "? ", "- ", "\r", "\u2028", "0x1F", "1e999", "-0", "1,5", "NaN", "null",
    "∞", "𝔘", "a" * 300, "unwind_drive", "roll_mass", "g_n", "* * *", "((((((((", "1/0", "kg^-9", "lb", "mm·m", "yes", "no", "010",
    "12:30", "unknown", "back_to: lift", "together:", "repeat: {until: 1, at_most: 999999}", "within: [9, 1]", "when: x",
)  # fmt: skip


def change(text: str, random: Random) -> str:
    """The text with one to four changes."""
    for _ in range(random.randint(1, 4)):
        text = CHANGES[random.randrange(len(CHANGES))](text, random)
    return text


def cut_out(text: str, random: Random) -> str:
    """A few characters less."""
    at = random.randrange(len(text) + 1)
    return text[:at] + text[at + random.randint(1, 12) :]


def put_in(text: str, random: Random) -> str:
    """Something odd more."""
    at = random.randrange(len(text) + 1)
    return text[:at] + random.choice(ODD) + text[at:]


def replace_word(text: str, random: Random) -> str:
    """A word, a number or a value in the place of another."""
    words = text.split(" ")
    words[random.randrange(len(words))] = random.choice([*ODD, *(random.choice(words) for _ in range(3))])
    return " ".join(words)


def move_line(text: str, random: Random) -> str:
    """A line somewhere else."""
    lines = text.split("\n")
    line = lines.pop(random.randrange(len(lines)))
    lines.insert(random.randrange(len(lines) + 1), line)
    return "\n".join(lines)


def double_lines(text: str, random: Random) -> str:
    """Some lines twice."""
    lines = text.split("\n")
    at = random.randrange(len(lines))
    return "\n".join(lines[: at + random.randint(1, 9)] + lines[at:])


def indent(text: str, random: Random) -> str:
    """A line further in or out."""
    lines = text.split("\n")
    at = random.randrange(len(lines))
    lines[at] = " " * random.randint(1, 4) + lines[at] if random.random() < 0.5 else lines[at].removeprefix("  ")
    return "\n".join(lines)


def break_off(text: str, random: Random) -> str:
    """The beginning alone, as while it is typed."""
    return text[: random.randrange(len(text) + 1)]


CHANGES = (cut_out, put_in, replace_word, move_line, double_lines, indent, break_off)
