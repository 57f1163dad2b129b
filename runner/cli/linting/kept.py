"""What was found before, kept by the digest of everything that it came from.

The name of an entry is made of the program as it lies on the disk, the options, the file's name and its text; inside stand the digests of all
texts that were asked for meanwhile, also of those that were not there. So an entry is used only where a new look could find
nothing else. A damaged entry, or a folder that cannot be used, is passed by with one line about it: findings never depend on it.
"""

import os
import sys
from collections.abc import Callable, Iterator
from typing import Any, NamedTuple

from runner.cli.files import read_up_to
from runner.procedure.finding import Finding, Place, Severity

try:  # hashlib loads a whole library first
    from _blake2 import blake2b
except ImportError:
    from hashlib import blake2b

MOST = 5000
"""Entries that are kept; when there are more, the oldest quarter goes."""
LARGEST = 1024 * 1024
"""Bytes of an entry; a larger one is not kept."""
PROGRAM_OF_OTHERS = ("ruamel/yaml/__init__.py", "jsonschema/__init__.py")
"""Files of libraries whose words findings hold: another version of theirs is another program."""


def digest_in(content: bytes) -> str:
    """Hexadecimal BLAKE2b-256, which is several times as fast as SHA-256 here; it names entries and nothing else."""
    return str(blake2b(content, digest_size=32).hexdigest())


class Needed(NamedTuple):
    """A text that the linter asked for, None where there is none."""

    path: str
    text: str | None


class Known(NamedTuple):
    """What was found in a text, and the other texts that this depends on."""

    findings: tuple[Finding, ...]
    needed: tuple[Needed, ...]


class Kept:
    """The folder of entries. Nothing in here raises; `note` says what was wrong with it, empty where nothing was."""

    __slots__ = ("folder", "note", "program")

    def __init__(self, folder: str, program: str) -> None:
        self.folder = folder
        self.program = program
        self.note = ""

    def known(self, name: str, text: str, fetch: Callable[[str], str | None]) -> Known | None:
        """What was found in this text under this name; None where that is not known for certain."""
        import json

        path = self.path_of(name, text)
        try:
            raw = read_up_to(path, LARGEST + 1)
        except FileNotFoundError:
            return None
        except OSError as fault:
            self.complain(fault)
            return None
        mark, _, content = raw.partition(b"\n")
        if mark != digest_in(content).encode():
            self.note = "what was kept of an earlier look is damaged in part, and was not used"
            return None
        entry = json.loads(content)
        needed = []
        for wanted, digest in entry["needed"]:
            found = fetch(wanted)
            if digest_of(found) != digest:
                return None
            needed.append(Needed(wanted, found))
        return Known(tuple(finding_of(row) for row in entry["findings"]), tuple(needed))

    def keep(self, name: str, text: str, known: Known) -> None:
        """Write an entry, whole or not at all: it is written beside its place and then moved there."""
        import json

        entry = {
            "needed": [(need.path, digest_of(need.text)) for need in known.needed],
            "findings": [row_of(finding) for finding in known.findings],
        }
        content = json.dumps(entry, separators=(",", ":")).encode()
        if len(content) > LARGEST - 100:
            return
        path = self.path_of(name, text)
        beside = f"{path}.{os.getpid()}"
        try:
            os.makedirs(self.folder, mode=0o700, exist_ok=True)
            with open(beside, "xb") as file:
                file.write(digest_in(content).encode() + b"\n" + content)
            os.replace(beside, path)
        except OSError as fault:
            self.complain(fault)
            remove(beside)

    def path_of(self, name: str, text: str) -> str:
        """Where the entry of this text under this name stands. Lengths keep the parts apart."""
        parts = (self.program, name, text)
        whole = "".join(f"{len(part)}\n{part}" for part in parts)
        return os.path.join(self.folder, digest_in(whole.encode("utf-8", "surrogatepass")))

    def trim(self) -> None:
        """Remove the oldest entries where there are too many; files that a stopped command left go with them."""
        try:
            with os.scandir(self.folder) as entries:
                files = [entry for entry in entries if entry.is_file(follow_symlinks=False)]
            if len(files) > MOST:
                files.sort(key=lambda entry: entry.stat(follow_symlinks=False).st_mtime_ns)
                for entry in files[: len(files) - MOST * 3 // 4]:
                    remove(entry.path)
        except FileNotFoundError:
            return
        except OSError as fault:
            self.complain(fault)

    def complain(self, fault: OSError) -> None:
        """What keeps the folder from being used."""
        self.note = f"nothing was kept for the next time: {fault.strerror or fault}"


def remove(path: str) -> None:
    """Remove a file, or leave it."""
    try:
        os.remove(path)
    except OSError:
        return


def digest_of(text: str | None) -> str:
    """The digest of a text, empty where there is none."""
    return "" if text is None else digest_in(text.encode("utf-8", "surrogatepass"))


def row_of(finding: Finding) -> list[Any]:
    """A finding as JSON has it."""
    return [
        finding.rule,
        int(finding.severity),
        finding.message,
        list(finding.place),
        finding.hint,
        list(finding.trace),
    ]


def finding_of(row: list[Any]) -> Finding:
    """A finding from JSON."""
    rule, severity, message, place, hint, trace = row
    return Finding(rule, Severity(severity), message, Place(*place), hint, tuple(trace))


def kept_in(given: str | None) -> Kept | None:
    """The folder of entries for the program as it is; None where the program cannot tell what it is (packed in one file)."""
    try:
        return Kept(folder_of(given), program_now())
    except OSError:
        return None


def program_now() -> str:
    """Stands for the program that looks: sizes and times of all its modules, those libraries, and the interpreter."""
    top = os.path.dirname(os.path.dirname(os.path.dirname(os.path.abspath(__file__))))
    libraries = [os.path.join(folder, name) for name in PROGRAM_OF_OTHERS for folder in sys.path]
    lines = [sys.version, *_stamps(top), *(stamp for path in libraries for stamp in _stamp(path))]
    return digest_in("\n".join(lines).encode("utf-8", "surrogatepass"))


def _stamps(folder: str) -> Iterator[str]:
    """Names, sizes and times of the modules in a folder and below."""
    with os.scandir(folder) as entries:
        inside = sorted(entries, key=lambda entry: entry.name)
    for entry in inside:
        if entry.is_dir():
            if entry.name != "__pycache__":
                yield from _stamps(entry.path)
        elif entry.name.endswith(".py"):
            at = entry.stat()
            yield f"{entry.path} {at.st_size} {at.st_mtime_ns}"


def _stamp(path: str) -> Iterator[str]:
    """The same of one file, nothing where there is none."""
    try:
        at = os.stat(path)
    except OSError:
        return
    yield f"{path} {at.st_size} {at.st_mtime_ns}"


def folder_of(given: str | None) -> str:
    """Where entries are kept: the option, else the user's folder for what may be deleted."""
    if given:
        return given
    from platformdirs import user_cache_dir

    return os.path.join(user_cache_dir("changeover", appauthor=False), "lint")
