"""The register of heads: one file for a folder of records, a line for what was known of a run at a time. Pure reading.

A record whose end was cut off, that was written anew, taken away, put in or doubled differs from what stands here. The
lines are framed and chained as those of a journal are. The register is no truth about a run: the journals are, and a
register that was lost is begun anew, which its first line says. Writing is in `runner.record.registering`.
"""

import json
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from hashlib import sha256
from typing import NamedTuple

from runner.record.fields import dump
from runner.record.line import Damage, unframe

NAME = "heads.register"
FORMAT_NAME = "changeover-register"
FORMAT = 1
GENESIS = sha256(FORMAT_NAME.encode()).hexdigest()

KINDS = {
    "begun": "The register begins. `count` says how many records lay there already.",
    "rebuilt": "The register was lost or damaged and begins anew, from the `count` records that lay there.",
    "found": "A record as it lay there when the register was rebuilt.",
    "opened": "A run has begun.",
    "reached": "An open run has come so far: a hold was released, it was paused or made safe, or the program was left.",
    "closed": "A run has ended, or something was added after its end, and its record was sealed.",
    "removed": "A record was taken away on purpose, by whom and why; `head` and `count` are what was known of it last.",
}
"""Every kind of line with its meaning."""

STARTS = ("begun", "rebuilt")
REMOVED = "removed"


@dataclass(frozen=True, slots=True)
class Known:
    """One line: what was known at a time."""

    kind: str
    run: str
    """Its id; empty in the first line."""
    mode: str
    head: str
    """The hash of the newest line of the run's journal."""
    count: int
    """How many lines the journal had."""
    at: str
    """UTC, RFC 3339."""
    number: int = 0
    """Of the line in the register, from 1."""
    by: str = ""
    """Who took the record away, and `why`; in such lines only."""
    why: str = ""


SAID = {"kind": str, "run": str, "mode": str, "head": str, "count": int, "at": str}
"""What each line says, in the order of the fields."""
SAID_OF_REMOVED = {"by": str, "why": str}
"""What that of a removal says beside."""
TYPES = {**SAID, **SAID_OF_REMOVED, "n": int, "prev": str}


@dataclass(frozen=True, slots=True)
class Register:
    """What a register says, and what is wrong with it."""

    lines: tuple[Known, ...]
    flaw: str
    """What is wrong first, with its line; empty where nothing is."""
    head: str
    """The hash of the last line in order."""
    end: int
    """Bytes up to the end of that line; what stands behind it was never acknowledged, or is wrong."""

    def of(self, run: str) -> tuple[Known, ...]:
        """What it knows of a run, in order."""
        return tuple(known for known in self.lines if known.run == run)

    def runs(self) -> dict[str, Known]:
        """By run, the newest line about it."""
        return {known.run: known for known in self.lines if known.run}


class Finding(NamedTuple):
    """Something about a record that the register shows."""

    kind: str
    words: str
    grave: bool = True
    """False for what is no contradiction and should be known all the same."""


def line_of(known: Known, number: int, prev: str) -> tuple[bytes, str]:
    """(line with its newline, its hash)."""
    content: dict[str, object] = {"n": number, "prev": prev, **{key: getattr(known, key) for key in SAID}}
    if known.kind in STARTS:
        content["format"] = FORMAT
    if known.kind == REMOVED:
        content |= {key: getattr(known, key) for key in SAID_OF_REMOVED}
    text = dump(content).encode()
    own = sha256(text).hexdigest()
    return b"%d %s %s\n" % (len(text), own.encode(), text), own


def lines_of(entries: Iterable[Known], number: int, prev: str) -> tuple[bytes, str]:
    """(lines for entries after line `number`, the hash of the last)."""
    lines = []
    for known in entries:
        number += 1
        line, prev = line_of(known, number, prev)
        lines.append(line)
    return b"".join(lines), prev


def known_of(line: bytes) -> tuple[Known, str, str] | str:
    """(what a line says, its hash, the hash before it), or what is wrong with it. Never raises."""
    framed = unframe(line)
    if isinstance(framed, Damage):
        return framed.words
    try:
        content = json.loads(framed.json)
        said = {**SAID, **SAID_OF_REMOVED} if content["kind"] == REMOVED else SAID
        if any(type(content[key]) is not TYPES[key] for key in (*said, "n", "prev")) or content["kind"] not in KINDS:
            return "is no line of a register"
        if content.get("format", FORMAT) != FORMAT:
            return "is of a newer format"
    except (ValueError, KeyError, TypeError, RecursionError):
        return "is no line of a register"
    known = Known(number=content["n"], **{key: content[key] for key in said})
    return known, framed.hash, content["prev"]


def read_register(content: bytes) -> Register:
    """All lines up to the first that is wrong. A beginning of a line at the end is what a crash leaves, and no flaw."""
    found: list[Known] = []
    prev, end = GENESIS, 0
    for number, line in enumerate(content.splitlines(keepends=True), start=1):
        if line[-1:] != b"\n" or b"\0" in line:
            if torn(content[end:], not found):
                break
            return Register(tuple(found), f"line {number} has bytes that are no line", prev, end)
        known = known_of(line)
        if isinstance(known, str):
            return Register(tuple(found), f"line {number} {known}", prev, end)
        said, own, before = known
        if said.number != number or before != prev or (said.kind in STARTS) != (number == 1):
            return Register(tuple(found), f"line {number} does not follow the one before it", prev, end)
        found.append(said)
        prev, end = own, end + len(line)
    return Register(tuple(found), "", prev, end)


def torn(tail: bytes, first: bool) -> bool:
    """Whether what stands behind the last whole line may be an unfinished one: it has no line end, or zeros where sectors
    were not written. Of the two lines that begin a register (`first`) either may be so."""
    return (first or b"\n" not in tail[:-1]) and (tail[-1:] != b"\n" or b"\0" in tail)


def against(known: Sequence[Known], hashes: Sequence[str], sealed: bool, whole: bool = True) -> Iterator[Finding]:
    """What the lines about one run show about its journal, whose lines have these hashes: of each kind the first.
    `sealed`: it ends with a seal. `whole`: nothing is wrong with it, so no line stands behind those."""
    far = max(known, key=lambda one: one.count, default=None)
    if far is not None and far.count > len(hashes) and whole:
        has = f"the journal has {len(hashes)}"
        yield Finding("cut", f"line {far.number} of the register knows {far.count} lines of it ({far.at}), and {has}")
    elif far is not None and far.count > len(hashes):
        words = f"it knows {far.count} lines of the run ({far.at}), of which {len(hashes)} stand before the damage"
        yield Finding("register", words, grave=False)
    for one in known:
        if one.count < 1 or (one.count <= len(hashes) and hashes[one.count - 1] != one.head):
            words = f"line {one.number} of the register knows another line {one.count} ({one.at})"
            yield Finding("written anew", words)
            break
    if known and known[-1].kind == REMOVED:
        yield Finding("put back", f"it lies here, and {removed_words(known[-1])}", grave=False)
    newest = max((one.count for one in known if one.kind in ("closed", "found")), default=0)
    if known and sealed and newest < len(hashes):
        yield Finding("not closed", "its end, or what was added after it, is not in the register", grave=False)


def lost(known: Sequence[Known], hashes: Mapping[int, str], lines: int, zeros: bool) -> str:
    """Why an open run is not gone on with: its journal, of so many lines with these hashes by number, has lost some that
    the register knows. Empty where it has not."""
    for one in known:
        if one.count > lines:
            ends = "ends in zeros" if zeros else "ends"
            return f"it {ends} after line {lines}, and the register of heads knows {one.count} lines of it ({one.at})"
        if hashes.get(one.count) != one.head:
            return f"the register of heads knows another line {one.count} of it ({one.at})"
    return ""


def unknown(register: Register, began: str) -> Finding:
    """What it means that a run is not in the register; `began` is the time in the run's first line."""
    first = register.lines[0] if register.lines else None
    words = "the register does not have it"
    if first is None:
        return Finding("not registered", f"{words}: it is empty", grave=False)
    if began >= first.at:
        return Finding("not registered", f"{words}, though it goes back to {first.at}")
    if first.kind == "rebuilt":
        return Finding("not registered", f"{words}, though it was rebuilt from all records that lay there {first.at}")
    if not first.count:
        return Finding("not registered", f"{words}, and no record lay there when it was begun, {first.at}")
    return Finding("not registered", f"{words}; the register was begun after it, {first.at}", grave=False)


def gone(register: Register, there: Mapping[str, Sequence[str]]) -> Iterator[tuple[str, Finding]]:
    """(run, finding) of runs that the register knows and that have no record, or more than one. `there`: paths by run."""
    for run, newest in register.runs().items():
        if run in there:
            continue
        if newest.kind == REMOVED:
            yield run, Finding(REMOVED, removed_words(newest), grave=False)
            continue
        words = f"its record is not there; the register knows {newest.count} lines ({newest.at})"
        yield run, Finding("gone", words)
    for run, paths in there.items():
        if len(paths) > 1:
            yield run, Finding("doubled", f"it has {len(paths)} records: {', '.join(paths)}")


def removed_words(known: Known) -> str:
    """What the line of a removal says."""
    return f"{known.by} said {known.at} that its record of {known.count} lines was taken away: {known.why}"


def start_words(register: Register) -> str:
    """What the first line says that should be known: nothing where the register is as old as the records."""
    first = register.lines[0] if register.lines else None
    if first is None:
        return "" if register.flaw else "the register is empty: a record that was taken away or put in does not show"
    if first.kind == "begun" and not first.count:
        return ""
    lay = "1 record" if first.count == 1 else f"{first.count} records"
    if first.kind == "begun":
        return f"the register was begun {first.at}, when {lay} lay there: it shows nothing of what was before"
    return f"the register was lost and rebuilt {first.at} from {lay}: it shows nothing of what was before"
