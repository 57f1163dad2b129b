"""Which files a lint command is about: those that are named, and in folders those whose names lint knows.

In folders, hidden ones and ones that hold other people's files are passed by; a folder that is named itself never is. Links
to folders are followed, each folder once, so that a circle of links ends.
"""

import os
from typing import NamedTuple

from runner.cli.files import Unreadable
from runner.lint.kinds import KINDS, kind_of, of_lint, unreadable
from runner.procedure.finding import Finding

PASSED_BY = frozenset({"node_modules", "site-packages", "third_party", "vendor", "venv", "__pycache__"})
"""Names of folders that hold what others wrote, or what programs made."""

STDIN = "-"


class Found(NamedTuple):
    """What to look at."""

    paths: tuple[str, ...]
    """As given, or below a folder as given; each file once, `-` for standard input."""
    findings: tuple[Finding, ...]
    """Folders that cannot be looked into."""


def files_of(given: list[str], stdin_name: str) -> Found | Unreadable:
    """The files to look at, in the order given and in folders by their paths."""
    found: list[str] = []
    closed: list[Finding] = []
    for path in given:
        if path == STDIN or os.path.isfile(path):
            name = stdin_name if path == STDIN else path
            if not kind_of(name):
                return Unreadable(f"{name}: lint reads files named {', '.join(f'*{kind}' for kind in KINDS)}")
            found.append(path)
        elif os.path.isdir(path):
            found += of_lint(_inside(path, closed))
        else:
            return Unreadable(f"{path}: there is no such file or folder")
    once = {path if path == STDIN else os.path.normpath(path): path for path in reversed(found)}
    return Found(tuple(reversed(once.values())), tuple(closed))


def _inside(top: str, closed: list[Finding]) -> list[str]:
    """The paths of all files below a folder."""
    paths: list[str] = []
    seen: set[tuple[int, int]] = set()

    def note(fault: OSError) -> None:
        closed.append(unreadable(str(fault.filename), fault.strerror or str(fault)))

    for folder, inner, names in os.walk(top, onerror=note, followlinks=True):
        try:
            at = os.stat(folder)
        except OSError as fault:
            note(fault)
            continue
        if (at.st_dev, at.st_ino) in seen:
            inner.clear()
            continue
        seen.add((at.st_dev, at.st_ino))
        inner[:] = sorted(name for name in inner if not _passed_by(folder, name))
        paths += [os.path.join(folder, name) for name in names]
    return paths


def _passed_by(folder: str, name: str) -> bool:
    """Whether a folder inside another is left out; any with `pyvenv.cfg` holds a Python installation."""
    return name.startswith(".") or name in PASSED_BY or os.path.exists(os.path.join(folder, name, "pyvenv.cfg"))


def beside(path: str) -> str:
    """A path as a build server knows it: from the current folder where it lies below it, else whole; forward slashes."""
    whole = os.path.abspath(path)
    start = os.path.join(os.getcwd(), "")
    told = whole.removeprefix(start) if whole.startswith(start) else whole
    return told.replace(os.sep, "/")
