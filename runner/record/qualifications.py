"""The register of qualifications: one file beside the site file, a line for each person, procedure and level shown.

Lines are only ever added, framed and chained as those of a journal are, each bound to the record that shows it. A wrong
entry is answered by a later one that withdraws it. What stands behind a damaged line counts for nobody.
"""

import json
import os
from collections.abc import Iterable
from contextlib import suppress
from dataclasses import asdict, dataclass, fields
from hashlib import sha256

from runner.procedure.qualified import Qualification
from runner.record.disk import DISK, Io, trouble_words
from runner.record.fields import dump
from runner.record.line import Damage, unframe
from runner.record.refused import Refused
from runner.record.registering import MOST, patient_lock

NAME = "qualifications.register"
FORMAT = 1
GENESIS = sha256(b"changeover-qualifications").hexdigest()
WITHDRAWN = "withdrawn"
"""The level of a line that takes back what the person had for the procedure before it."""


@dataclass(frozen=True, slots=True)
class Entered:
    """One line."""

    person: str
    procedure: str
    """Its id."""
    revision: int
    revision_class: str
    """What the newest change of that revision asked for: none, read or demonstrate."""
    level: str
    """perform, simulate, observe, discuss, read or withdrawn."""
    day: str
    """YYYY-MM-DD."""
    until: str
    """The last day on which it counts; empty: no end."""
    assessor: str
    identity: str
    """How it was established who the assessor is."""
    scenario: str
    """Its id; empty where there was none."""
    run: str
    """The run that shows it; empty where none does."""
    head: str
    """The hash of the newest line of that record, as it was signed."""
    count: int
    """How many lines the record had."""
    words: str
    """What the assessor said."""
    at: str
    """When it was entered: UTC, RFC 3339."""

    @property
    def qualification(self) -> Qualification:
        """As the rule of who may do what sees it."""
        return Qualification(
            self.person, self.procedure, self.revision, self.level, self.day, self.until, self.assessor
        )


@dataclass(frozen=True, slots=True)
class Qualifications:
    """What the register says, and what is wrong with it."""

    entries: tuple[Entered, ...]
    flaw: str
    """What is wrong first, with its line; empty where nothing is."""
    head: str
    end: int
    """Bytes up to the end of the last line in order."""


def line_of(entry: Entered, number: int, prev: str) -> tuple[bytes, str]:
    """(line with its newline, its hash)."""
    text = dump({"n": number, "prev": prev, "format": FORMAT, **asdict(entry)}).encode()
    own = sha256(text).hexdigest()
    return b"%d %s %s\n" % (len(text), own.encode(), text), own


def entered_of(line: bytes, number: int, prev: str) -> tuple[Entered, str] | str:
    """(what a line says, its hash), or what is wrong with it. Never raises."""
    framed = unframe(line)
    if isinstance(framed, Damage):
        return framed.words
    try:
        content = json.loads(framed.json)
        said = {one.name: content[one.name] for one in fields(Entered)}
        whole = all(type(said[one.name]) is (int if one.type in (int, "int") else str) for one in fields(Entered))
        if not whole or content.get("format") != FORMAT:
            return "is no line of this register, or of a newer format"
        if content["n"] != number or content["prev"] != prev:
            return "does not follow the one before it"
    except (ValueError, KeyError, TypeError, RecursionError):
        return "is no line of this register"
    return Entered(**said), framed.hash


def read_qualifications(content: bytes) -> Qualifications:
    """All lines up to the first that is wrong. The beginning of a line at the end is what a crash leaves, and no flaw."""
    found: list[Entered] = []
    prev, end = GENESIS, 0
    for number, line in enumerate(content.splitlines(keepends=True), start=1):
        if line[-1:] != b"\n":
            break
        entered = entered_of(line, number, prev)
        if isinstance(entered, str):
            return Qualifications(tuple(found), f"line {number} {entered}", prev, end)
        found.append(entered[0])
        prev, end = entered[1], end + len(line)
    return Qualifications(tuple(found), "", prev, end)


def qualifications_at(path: str, io: Io = DISK) -> Qualifications | Refused:
    """The register at a path; an empty one where there is none."""
    if os.path.basename(path) not in io.names(os.path.dirname(path) or "."):
        return Qualifications((), "", GENESIS, 0)
    try:
        with io.open_read(path) as file:
            return read_qualifications(file.read(MOST))
    except OSError as error:
        return Refused(trouble_words("Cannot read the register of qualifications", path, error))


def in_force(entries: Iterable[Entered]) -> tuple[Qualification, ...]:
    """What counts: a line that withdraws takes back all that its person had for its procedure before."""
    kept: list[Entered] = []
    for entry in entries:
        if entry.level == WITHDRAWN:
            kept = [one for one in kept if not same(one, entry)]
        else:
            kept.append(entry)
    return tuple(one.qualification for one in kept)


def same(one: Entered, other: Entered) -> bool:
    """Of the same person and procedure."""
    names = [" ".join(entry.person.split()).casefold() for entry in (one, other)]
    return names[0] == names[1] and one.procedure == other.procedure


def enter_qualification(path: str, entry: Entered, io: Io = DISK) -> Refused | None:
    """Append a line, and begin the register where there is none; None once it is on the disk."""
    try:
        folder = os.path.dirname(os.path.abspath(path))
        lock = patient_lock(path, io)
        if isinstance(lock, Refused):
            return Refused(f"The register {path} is held by another program.")
        try:
            return append(path, folder, entry, io)
        finally:
            with suppress(OSError):
                io.unlock(lock)
    except OSError as error:
        return Refused(trouble_words("Cannot write the register of qualifications", path, error))


def append(path: str, folder: str, entry: Entered, io: Io) -> Refused | None:
    """The part of entering that happens under the lock; what a crash left behind the last line is cut off first."""
    there = os.path.basename(path) in io.names(folder)
    known = qualifications_at(path, io)
    if isinstance(known, Refused):
        return known
    if known.flaw:
        return Refused(f"The register {path} is damaged: {known.flaw}. Put a whole copy in its place first.")
    line, _ = line_of(entry, len(known.entries) + 1, known.head)
    fd = io.open_write(path) if there else io.create(path)
    try:
        io.truncate(fd, known.end)
        if io.write(fd, line, known.end) != len(line):
            return Refused(f"The disk took only a part of what was to be entered in {path}.")
        io.sync_whole(fd)
        if not there:
            io.sync_folder(folder)
    finally:
        with suppress(OSError):
            io.close(fd)
    return None
