"""Records to the plant: all that have ended and are not there yet. What is sent was verified a moment before, in full, and
the register of heads does not contradict it.

A terminal that was away sends later what it could not; a server that goes in the middle costs what had not been told, and
nothing of that is lost here, where the journals stay.
"""

import socket
from collections.abc import Sequence
from dataclasses import dataclass, field

from runner.record.disk import DISK
from runner.record.index.base import Index, summary_text
from runner.record.index.kept import Kept
from runner.record.line import HASH_LENGTH
from runner.record.plant.base import Plant, Sent
from runner.record.refused import Refused
from runner.record.register import Known, Register, lost
from runner.record.registering import folder_of, register_at
from runner.record.store import last_whole_line
from runner.record.verify import verify_bytes


@dataclass(slots=True)
class Told:
    """What came of it."""

    sent: int = 0
    there: int = 0
    """Were there before."""
    open: int = 0
    """Have not ended, so they are not sent yet."""
    waiting: int = 0
    """Ended, and not there: the server did not take them."""
    faulty: list[tuple[str, str]] = field(default_factory=list)
    """(path, words) of records that are damaged or cannot be read: they are not sent."""
    forked: list[str] = field(default_factory=list)
    """Runs of which the plant has a record that is no beginning of the one here."""
    stopped: str = ""
    """Why nothing more was sent; empty where all was."""


def send(rows: Sequence[Kept], index: Index, plant: Plant) -> Told:
    """Send what is not there. Rows are those of the index over a store."""
    told, heads, entered = Told(), plant.heads(), Entered()
    if isinstance(heads, Refused):
        told.stopped, heads = heads.words, set()
    known: dict[str, list[str]] = {}
    for run, head in heads:
        known.setdefault(run, []).append(head)
    for row in rows:
        if row.summary.words:
            told.faulty.append((row.summary.path, row.summary.words))
        elif not row.summary.outcome:
            told.open += 1
        elif told.stopped:
            told.waiting += 1
        elif head_of(row.summary.path) in known.get(row.summary.run, ()):
            told.there += 1
        else:
            send_one(row, index, plant, known.get(row.summary.run, []), told, entered)
    return told


class Entered:
    """What registers of heads know, each read when it is first asked for."""

    def __init__(self) -> None:
        self.folders: dict[str, dict[str, list[Known]]] = {}

    def against(self, path: str, run: str, content: bytes) -> str:
        """Why the record of a run is not the one that was entered; empty where nothing speaks against it."""
        folder = folder_of(path)
        if folder not in self.folders:
            register = register_at(folder) if folder else None
            known: dict[str, list[Known]] = {}
            for one in register.lines if isinstance(register, Register) else ():
                known.setdefault(one.run, []).append(one)
            self.folders[folder] = known
        known_of_run, lines = self.folders[folder].get(run, []), content.splitlines()
        hashes = {
            one.count: lines[one.count - 1].split(b" ", 2)[1].decode("ascii", "replace")
            for one in known_of_run
            if 1 <= one.count <= len(lines)
        }
        return lost(known_of_run, hashes, len(lines), zeros=False)


def send_one(row: Kept, index: Index, plant: Plant, before: Sequence[str], told: Told, entered: Entered) -> None:
    """Verify and send one record."""
    path = row.summary.path
    try:
        with DISK.open_read(path) as file:
            content = file.read().rstrip(b"\0")
    except OSError as error:
        told.faulty.append((path, str(error.strerror or error)))
        return
    found = verify_bytes(content)
    if not found.whole or not found.outcome:
        told.faulty.append((path, str(found.flaws[0]) if found.flaws else "it has changed while it was read"))
        return
    against = entered.against(path, found.run, content)
    if against:
        told.faulty.append((path, f"the record is contradicted: {against}"))
        return
    if any(head.encode() not in content for head in before):
        told.forked.append(found.run)
    kept = plant.put(sent_of(row, index, content, found.head, found.events))
    if isinstance(kept, Refused):
        told.stopped = kept.words
        told.waiting += 1
    elif kept:
        told.sent += 1
    else:
        told.there += 1  # another terminal was quicker


def sent_of(row: Kept, index: Index, content: bytes, head: str, events: int) -> Sent:
    """A record as it is sent."""
    one = row.summary
    more = row.more or (index.more(row) if row.extract else "")
    return Sent(
        one.run, head, one.mode, one.procedure, one.title, one.revision, one.played, one.began, one.last, events,
        one.outcome, socket.gethostname(), content, index.kind, summary_text(one), row.extract if more else "", more,
        row.shared if more else "",
    )  # fmt: skip


def head_of(path: str) -> str:
    """The hash of the last line as it stands there, unverified; empty where it cannot be read."""
    try:
        with DISK.open_read(path) as file:
            line = last_whole_line(file)
    except OSError:
        return ""
    return line.partition(b" ")[2][:HASH_LENGTH].decode("ascii", "replace")


def count_waiting(rows: Sequence[Kept], heads: set[tuple[str, str]]) -> Told:
    """How `send` would find things, without sending."""
    told = Told()
    for row in rows:
        one = row.summary
        if one.words:
            told.faulty.append((one.path, one.words))
        elif not one.outcome:
            told.open += 1
        elif (one.run, head_of(one.path)) in heads:
            told.there += 1
        else:
            told.waiting += 1
    return told
