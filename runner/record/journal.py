"""The journal of one run as its one writer has it: make it, append whole actions to it.

An action is one write of all its lines and one sync, and it is kept when `append` says so, not before. One failed
write or sync poisons: after it nothing is written or synced by this journal again, because the system may have
dropped what it could not write and would call the next sync a success. Opening anew starts from what the disk holds.
"""

import os
from collections.abc import Sequence
from contextlib import suppress
from dataclasses import dataclass

from runner.engine.events import Event
from runner.record.disk import Io, Lock, trouble_words
from runner.record.line import GENESIS, Mark, encode
from runner.record.refused import Refused, words_of


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
    """Open for appending, by this process alone."""

    def __init__(self, path: str, io: Io, lock: Lock, fd: int, mark: Mark) -> None:
        self.path, self.io, self.mark = path, io, mark
        self.lock: Lock | None = lock
        self.fd = fd
        self.number, self.head = 0, GENESIS
        self.poisoned = ""
        """Why nothing more is written; empty while all is well."""
        self.asides: tuple[Aside, ...] = ()
        """Set aside and not yet on record."""

    @property
    def closed(self) -> bool:
        """True after `close`."""
        return self.lock is None

    def append(self, events: Sequence[Event]) -> Refused | None:
        """Keep the events of one action; None means that they are on the disk."""
        if self.poisoned or self.closed:
            return Refused(self.poisoned or "The journal is closed")
        number, head, lines = self.number, self.head, list[bytes]()
        try:
            for event in events:
                number += 1
                line, head = encode(event, number, head, self.mark, left=len(events) - 1 - len(lines))
                lines.append(line)
        except ValueError:
            return Refused("It holds characters or numbers that cannot be kept")
        content = b"".join(lines)
        try:
            if self.io.write(self.fd, content) != len(content):
                self.poisoned = "The disk took only a part of it"
                return Refused(self.poisoned)
            self.io.sync(self.fd)
        except OSError as error:
            self.poisoned = words_of(error)
            return Refused(self.poisoned)
        self.number, self.head = number, head
        return None

    def close(self) -> None:
        """Let others write. Nothing is synced: what counts was synced when it was kept."""
        if self.lock is None:
            return
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
        words = f"There is a record at {path} already; a run's record is never written over. Begin again."
        refused = Refused(words)
    except OSError as error:
        refused = Refused(trouble_words("Cannot begin a record at", path, error))
    let_go(io, lock, fd)
    return refused
