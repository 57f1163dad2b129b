"""One file looked at: read, known from before or linted, and kept for the next time.

Whatever happens inside the linter, what comes out is findings: a fault of the program is one about the file it failed on.
"""

import os
import sys
from collections.abc import Callable
from functools import lru_cache
from typing import NamedTuple

from runner.cli.files import Unreadable, fetch_beside, read_text
from runner.cli.linting.found import STDIN
from runner.cli.linting.kept import Kept, Known, Needed
from runner.lint.kinds import SITE, broken_off, kind_of, unreadable
from runner.procedure.finding import Finding


class Looked(NamedTuple):
    """What was found in one file, with the texts that the findings stand in, by path."""

    findings: tuple[Finding, ...]
    texts: dict[str, str]


class Asked(NamedTuple):
    """What is asked about a file, besides its name and text."""

    site: str = ""
    """The path of the site file; empty: the one beside the procedure."""
    today: str = ""
    """YYYY-MM-DD, for a site file, whose days may be past; empty for all others, which know no days."""

    def key(self, name: str) -> str:
        """Stands for all of it, where a look is kept."""
        return name if self == NOTHING_MORE else f"{name}\n{self.site}\n{self.today}"


NOTHING_MORE = Asked()


class Unknown(NamedTuple):
    """A file that has to be looked at, and its text."""

    name: str
    text: str
    asked: Asked = NOTHING_MORE


def known(path: str, stdin_name: str, kept: Kept | None, site: str = "") -> Looked | Unknown:
    """What was found in the file before; or its text where nobody has looked at it as it is now."""
    name = stdin_name if path == STDIN else path
    text = read_text(path)
    if isinstance(text, Unreadable):
        words = text.words.removeprefix(f"{path}: ")
        return Looked((unreadable(name, words),), {})
    asked = Asked(site, today() if kind_of(name) == SITE else "")
    before = kept.known(asked.key(name), text, fetch_of(name, site)) if kept else None
    return Unknown(name, text, asked) if before is None else told(name, text, before)


def today() -> str:
    """The day by this machine."""
    from time import strftime

    return strftime("%Y-%m-%d")


def fetch_of(name: str, site: str) -> Callable[[str], str | None]:
    """What may be asked for with a file: those beside and below it, and the site file that was named."""
    folder, kind = os.path.dirname(name), kind_of(name)

    def fetched(wanted: str) -> str | None:
        if wanted != site:
            return read_beside(folder, kind, wanted)
        text = read_text(site)
        return None if isinstance(text, Unreadable) else text

    return fetched


@lru_cache(maxsize=512)
def read_beside(folder: str, kind: str, wanted: str) -> str | None:
    """A text that may be asked for with a file of a folder. Many files of a folder ask for the same: its site file, a fragment."""
    return fetch_beside(os.path.join(folder, f"any{kind}"))(wanted)


def told(name: str, text: str, known: Known) -> Looked:
    """Only the texts that findings stand in are carried on; of the file itself always its name."""
    texts = {name: text, **{need.path: need.text for need in known.needed if need.text is not None}}
    places = {finding.place.path for finding in known.findings}
    return Looked(known.findings, {name: ""} | {path: texts[path] for path in places if path in texts})


def look(unknown: Unknown, kept: Kept | None) -> Looked:
    """Lint a text, and keep what was found."""
    name, text, asked = unknown
    fetch = fetch_of(name, asked.site)
    needed: dict[str, Needed] = {}

    def noted(path: str) -> str | None:
        found = fetch(path)
        needed[path] = Needed(path, found)
        return found

    from runner.lint.linter import Options, lint

    try:
        findings = lint(text, name, noted, Options(today=asked.today, site=asked.site)).findings
    except Exception as fault:
        if os.environ.get("CHANGEOVER_DEBUG"):
            sys.excepthook(type(fault), fault, fault.__traceback__)
        return Looked((broken_off(name, words_of(fault)),), {name: text})
    result = Known(findings, tuple(needed.values()))
    if kept:
        kept.keep(asked.key(name), text, result)
    return told(name, text, result)


def words_of(fault: BaseException) -> str:
    """A fault of the program in a line: its kind, where it stands, and what it says."""
    place = fault.__traceback__
    while place is not None and place.tb_next is not None:
        place = place.tb_next
    where = f" at {os.path.basename(place.tb_frame.f_code.co_filename)}:{place.tb_lineno}" if place else ""
    return f"{type(fault).__name__}{where}: {fault}"[:300]
