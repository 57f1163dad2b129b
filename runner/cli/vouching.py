"""Records as `verify` looks at them: one with all that vouches for it, or a whole folder against its register."""

import argparse
import os
import sys
from collections.abc import Callable, Mapping
from dataclasses import replace
from typing import NamedTuple

from runner.cli.files import Unreadable, read_text
from runner.cli.site import site_path
from runner.procedure.clean import clean
from runner.record.keys import KEY, key_name
from runner.record.line import Entry
from runner.record.reading import read_journal
from runner.record.refused import Refused
from runner.record.register import NAME, Finding, Register, start_words
from runner.record.registering import folder_of, register_about, register_at
from runner.record.store import mixed, run_of
from runner.record.verify import Verification
from runner.record.vouched import Vouched, vouched


class Trust(NamedTuple):
    """Whose signatures count."""

    keys: Mapping[str, str]
    """By public key the terminal's name."""
    must: bool
    """Whether a record is to be signed by one of them: where keys were named on the command line."""


class Looked(NamedTuple):
    """One record."""

    path: str
    found: Verification
    vouched: Vouched
    register: Register | None

    @property
    def good(self) -> bool:
        """Whether nothing is wrong."""
        return self.found.whole and not self.vouched.grave


def trust_of(options: argparse.Namespace) -> Trust | Unreadable:
    """The keys of `--key FILE`, else those of the site file. A site file that cannot be used only names no keys here."""
    if options.key:
        text = read_text(options.key)
        if isinstance(text, Unreadable):
            return text
        rows = [line.split(None, 1) for line in text.splitlines() if line.strip() and not line.startswith("#")]
        keys = {row[0].lower(): (row[1].strip() if len(row) > 1 else options.key) for row in rows}
        if not keys or any(KEY.fullmatch(key) is None for key in keys):
            return Unreadable(
                f"{options.key}: a public key is 64 hexadecimal digits, one a line, perhaps with a name behind it"
            )
        return Trust(keys, must=True)
    path = site_path(options)
    text = read_text(path) if path else ""
    if not text or isinstance(text, Unreadable):
        return Trust({}, must=False)
    from runner.procedure.site import read_site

    site, _ = read_site(text, path)
    if site is None:
        print(f"changeover: the site file {path} cannot be used; no terminal's key is taken from it", file=sys.stderr)
    return Trust({key: name for name, key in site.terminals} if site is not None else {}, must=False)


def look(
    path: str,
    trust: Trust,
    given: str | None,
    register: Register | Refused | None,
    alone: bool = True,
    also: Callable[[Entry], object] | None = None,
) -> Looked | Refused:
    """Read one record. What is wrong with the register itself is said of a record that is looked at alone. `also` is given
    each line of each whole action."""
    hashes: list[str] = []
    began = ""

    def take(entry: Entry) -> None:
        nonlocal began
        hashes.append(entry.hash)
        if also is not None:
            also(entry)
        began = began or entry.event.at.utc

    found = read_journal(path, take)
    if isinstance(found, Refused):
        return found
    known = None if isinstance(register, Refused) else register
    place = run_of(path) if folder_of(path) else ""
    beside = vouched(found, hashes, began, known, trust.keys, trust.must, given, place)
    misplaced = mixed(os.path.abspath(path), found.mode, found.run) if found.run else None
    first = (Finding("misplaced", misplaced.words),) if misplaced is not None else ()
    more: list[Finding] = []
    if alone and isinstance(register, Refused):
        more.append(Finding("register", register.words))
    elif alone and known is not None and known.flaw:
        more.append(Finding("register", f"the register is damaged: {known.flaw}"))
    return Looked(path, found, replace(beside, findings=(*first, *beside.findings, *more)), known)


NOBODY = Trust({}, must=False)
"""No keys are at hand: whether a signature is that of the key beside it can be said all the same."""


def contradictions(looked: Looked) -> tuple[str, ...]:
    """What speaks against a record beside its own lines."""
    return tuple(f"{finding.kind}: {finding.words}" for finding in looked.vouched.findings if finding.grave)


def register_beside(path: str) -> Register | Refused | None:
    """The register of the folder in which a journal lies."""
    folder = folder_of(path)
    return register_at(folder) if folder else None


def known_beside(path: str) -> Register | Refused | None:
    """The same with no more than the lines about that journal's run, which takes no time."""
    folder = folder_of(path)
    return register_about(folder, run_of(path)) if folder else None


def lines_of(looked: Looked) -> list[str]:
    """What is said of one record, a line each, the path first."""
    path, found, beside = clean(looked.path), looked.found, looked.vouched
    if found.whole:
        said = [f"{path}: whole; {found.events} events; {found.outcome or 'open'}; head {found.head}"]
    else:
        said = [f"{path}:{flaw.line}: {flaw.kind}: {flaw.words}" for flaw in found.flaws]
    if beside.code and found.whole:
        said.append(f"{path}: head code {beside.code}")
    said += [f"{path}: seal in line {one.line}: {one.words}" for one in beside.seals if one.fits is not False]
    said += [f"{path}: {finding.kind}: {finding.words}" for finding in beside.findings]
    if looked.register is None and not any(finding.kind == "register" for finding in beside.findings):
        said.append(f"{path}: register: there is none beside this record")
    elif looked.register is not None and registered_well(looked):
        said.append(f"{path}: register: agrees")
    if beside.code_words and not any(finding.kind == "code" for finding in beside.findings):
        said.append(f"{path}: code: {beside.code_words}")
    return said


REGISTERED = ("register", "cut", "written anew", "not closed", "not registered", "misplaced")


def registered_well(looked: Looked) -> bool:
    """Whether the register says nothing against a record."""
    return not any(finding.kind in REGISTERED for finding in looked.vouched.findings)


def data_of(looked: Looked) -> dict[str, object]:
    """The same as plain data."""
    found, beside = looked.found, looked.vouched
    return {
        "journal": looked.path,
        "run": found.run,
        "mode": found.mode,
        "whole": found.whole,
        "good": looked.good,
        "events": found.events,
        "head": found.head,
        "code": beside.code,
        "outcome": found.outcome or "open",
        "format": found.version,
        "flaws": [{"line": flaw.line, "kind": str(flaw.kind), "message": flaw.words} for flaw in found.flaws],
        "seals": [
            {
                "line": one.line,
                "key": one.key or None,
                "key_name": key_name(one.key) if one.key else None,
                "terminal": one.terminal or None,
                "signature_fits": one.fits,
                "message": one.words,
            }
            for one in beside.seals
        ],
        "register": looked.register is not None,
        "findings": [{"kind": one.kind, "grave": one.grave, "message": one.words} for one in beside.findings],
        "code_given": beside.code_words or None,
    }


def register_words(folder: str, register: Register | Refused | None) -> list[str]:
    """What is said of a folder's register itself."""
    if isinstance(register, Refused):
        return [register.words]
    if register is None:
        return [f"{folder}: there is no register of heads: a record that was taken away does not show"]
    said = [f"{folder}/{NAME}: damaged: {register.flaw}"] if register.flaw else []
    start = start_words(register)
    return [*said, f"{folder}/{NAME}: {start}"] if start else said
