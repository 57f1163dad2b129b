"""The journal of one run as its one writer has it: make it, write whole actions at its end.

An action is one write of all its lines and one sync, and it is kept when `append` says so, not before. One failed
write or sync poisons: after it nothing is written or synced by this journal again, because the system may have
dropped what it could not write and would call the next sync a success. Opening anew starts from what the disk holds.

The file is given room ahead, which reads as zeros, since a file that grows with every action costs more to sync. The
room is a matter of time and of nothing else: where none is to be had the file grows, and what is left is cut off when
the run ends or the journal is closed.

The action that ends a run closes with a seal, and so does each of the few that may come after it.
"""

import os
from collections.abc import Callable, Sequence
from contextlib import suppress
from dataclasses import dataclass

from runner.engine.events import AFTER_SEAL, Event, Sealed
from runner.record.disk import Io, Lock, trouble_words
from runner.record.line import GENESIS, ROOM, Mark, encode
from runner.record.refused import Refused, words_of
from runner.record.seal import Signer, seal
from runner.record.verify import OUTCOMES
from runner.say.text import say


@dataclass(frozen=True, slots=True)
class Aside:
    """A torn tail that was set aside."""

    file: str
    """Its name, in the folder of the journal."""
    size: int


def let_go(io: Io, lock: Lock | None, fd: int) -> None:
    """Close what is open. An error here is of no account: nothing that was kept depends on it."""
    if fd >= 0:
        with suppress(OSError):
            io.close(fd)
    if lock is not None:
        with suppress(OSError):
            io.unlock(lock)


class Journal:
    """Open for writing at its end, by this process alone."""

    def __init__(self, path: str, io: Io, lock: Lock, fd: int, mark: Mark, end: int = 0) -> None:
        self.path, self.io, self.mark = path, io, mark
        self.lock: Lock | None = lock
        self.fd = fd
        self.number, self.head = 0, GENESIS
        self.end = end
        """Bytes that are kept: the next action is written here."""
        self.room = end
        """Up to here room was asked for, whether it was given or not."""
        self.padded = False
        """Whether the file may be longer than `end`."""
        self.outcome = ""
        """How the run ended, once that is kept: only what may follow a seal is written after it."""
        self.signing: Callable[[str], Signer | None] = lambda _path: None
        """Gives the terminal's key for the journal at a path; seals are not signed without one."""
        self.sealed: Sealed | None = None
        """The newest seal that was written here."""
        self.poisoned = ""
        """Why nothing more is written; empty while all is well."""
        self.asides: tuple[Aside, ...] = ()
        """Set aside and not yet on record."""

    @property
    def closed(self) -> bool:
        """True after `close`."""
        return self.lock is None

    @property
    def ended(self) -> bool:
        """Whether the end of the run is kept."""
        return bool(self.outcome)

    def append(self, events: Sequence[Event]) -> Refused | None:
        """Keep the events of one action; None means that they are on the disk."""
        if self.poisoned or self.closed:
            return Refused(self.poisoned or say("The journal is closed"))
        if self.ended and any(type(event) not in AFTER_SEAL for event in events):
            return Refused(say("The run has ended, and its record with it"))
        number, head, lines, sealed = self.number, self.head, list[bytes](), None
        outcome = OUTCOMES.get(type(events[-1]), self.outcome) if events else ""
        of = len(events) + bool(outcome)
        try:
            for event in events:
                number += 1
                line, head = encode(event, number, head, self.mark, of - 1 - len(lines), of)
                lines.append(line)
            if outcome:
                sealed = seal(self.mark, events[-1].at, head, number, outcome, self.signing(self.path))
                number += 1
                line, head = encode(sealed, number, head, self.mark, 0, of)
                lines.append(line)
        except ValueError:
            return Refused(say("It holds characters or numbers that cannot be kept"))
        content = b"".join(lines)
        end = self.end + len(content)
        if end > self.room and not self.ended:
            self.make_room(end)
        try:
            if self.io.write(self.fd, content, self.end) != len(content):
                self.poisoned = say("The disk took only a part of it")
                return Refused(self.poisoned)
            self.io.sync(self.fd)
        except OSError as error:
            self.poisoned = words_of(error)
            return Refused(self.poisoned)
        self.number, self.head, self.end = number, head, end
        if outcome:
            self.outcome, self.sealed = outcome, sealed
            self.cut()
        return None

    def make_room(self, end: int) -> None:
        """Ask for room up to the next whole step beyond `end`. Once for each step: where none is given, the file grows."""
        room, self.room, self.padded = self.end, (end // ROOM + 1) * ROOM, True
        with suppress(OSError):
            self.io.make_room(self.fd, room, self.room - room)

    def cut(self) -> None:
        """Cut off the room that is left. Tried once; where it fails zeros stay, and nothing that was kept depends on it."""
        if self.padded and not self.poisoned:
            self.padded = False
            with suppress(OSError):
                self.io.truncate(self.fd, self.end)
                self.io.sync_whole(self.fd)

    def close(self) -> None:
        """Cut the file to its length and let others write. What counts was synced when it was kept."""
        if self.lock is None:
            return
        self.cut()
        let_go(self.io, self.lock, self.fd)
        self.lock = None


def create_journal(path: str, io: Io, mark: Mark) -> Journal | Refused:
    """A new journal without a line in it, locked, its name on the disk."""
    lock: Lock | None = None
    fd = -1
    try:
        folder = os.path.dirname(path)
        io.make_folder(folder)
        locked = io.lock(path)
        if isinstance(locked, Refused):
            return locked
        lock = locked
        fd = io.create(path)
        io.sync(fd)
        io.sync_folder(folder)
        return Journal(path, io, lock, fd, mark)
    except FileExistsError:
        words = say(
            "There is a record at {path} already; a run's record is never written over. Begin again.", path=path
        )
        refused = Refused(words)
    except OSError as error:
        refused = Refused(trouble_words(say("Cannot begin a record at"), path, error))
    let_go(io, lock, fd)
    return refused
