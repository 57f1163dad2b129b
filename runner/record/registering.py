"""Writing the register of heads: locked, appended and synced, a line at a time.

A run does not depend on it. What could not be entered is entered with what comes next, and `verify` says so where
nothing came. After a write or a sync that failed nothing more is entered by this process.
"""

import os
import time
from collections.abc import Collection, Sequence
from contextlib import suppress
from itertools import chain

from runner.engine.events import Event, HoldReleased, MadeSafe, Paused, Resumed
from runner.record.disk import DISK, Io, Lock, trouble_words
from runner.record.line import LONGEST, Entry, decode
from runner.record.refused import Refused
from runner.record.register import GENESIS, NAME, REMOVED, Known, Register, known_of, lines_of, read_register, torn
from runner.record.store import BLOCK, SUFFIX, Store, last_whole_line, mode_of_folder

PATIENCE_S = 2.0
"""How long another terminal is waited for, which needs a few milliseconds."""
BREATH_S = 0.004

MOST = 1 << 30
"""Bytes; no register comes near."""


def folder_of(journal: str) -> str:
    """The folder of records in which a journal lies; empty where it lies in none."""
    path = os.path.abspath(journal)
    if not mode_of_folder(path):
        return ""
    for _ in range(4):
        path = os.path.dirname(path)
    return path


def register_at(folder: str, io: Io = DISK) -> Register | Refused | None:
    """The register of a folder of records; None where there is none."""
    path = os.path.join(folder, NAME)
    if NAME not in io.names(folder):
        return None
    try:
        with io.open_read(path) as file:
            return read_register(file.read(MOST))
    except OSError as error:
        return Refused(trouble_words("Cannot read the register", path, error))


def lines_about(folder: str, run: str, io: Io = DISK) -> tuple[Known, ...]:
    """What the register says of one run: the lines that name it, each whole in itself. The others are not looked at, so a
    register of any length takes no time; only `verify` looks at all of it."""
    try:
        with io.open_read(os.path.join(folder, NAME)) as file:
            return lines_naming(run, file.read(MOST))
    except OSError:
        return ()


def register_about(folder: str, run: str, io: Io = DISK) -> Register | Refused | None:
    """The register of a folder with its first line and those that name a run, as `lines_about` reads them; None where there
    is none."""
    path = os.path.join(folder, NAME)
    if NAME not in io.names(folder):
        return None
    try:
        with io.open_read(path) as file:
            content = file.read(MOST)
    except OSError as error:
        return Refused(trouble_words("Cannot read the register", path, error))
    end = content.find(b"\n") + 1
    first = known_of(content[:end]) if end else ""
    lines = () if isinstance(first, str) else (first[0],)
    return Register((*lines, *lines_naming(run, content)), "", "", len(content))


def lines_naming(run: str, content: bytes) -> tuple[Known, ...]:
    """The lines of a register that name a run."""
    found: list[Known] = []
    needle, at = f'"run":"{run}"'.encode(), 0
    while (at := content.find(needle, at)) >= 0:
        begin, end = content.rfind(b"\n", 0, at) + 1, content.find(b"\n", at) + 1
        known = known_of(content[begin:end]) if end else ""
        if not isinstance(known, str):
            found.append(known[0])
        at += len(needle)
    return tuple(found)


class Registrar:
    """Enters what is known of one run into the register of its folder."""

    def __init__(self, journal: str, run: str, mode: str, io: Io) -> None:
        self.folder, self.run, self.mode, self.io = folder_of(journal), run, mode, io
        self.count = 0
        """Up to which line the journal is entered."""
        self.trouble = ""
        """Why nothing more is entered by this process; empty while all is well."""

    @classmethod
    def of(cls, journal: str, io: Io) -> "Registrar":
        """For a journal that is there; run and mode are those of its place."""
        return cls(
            journal, os.path.basename(journal).removesuffix(".journal"), mode_of_folder(os.path.abspath(journal)), io
        )

    def enter(self, kind: str, head: str, count: int, utc: str) -> None:
        """One line more, where it says anything new; no kind enters nothing."""
        if not kind or not self.folder or self.trouble or count <= self.count:
            return
        refused = enter(self.folder, (Known(kind, self.run, self.mode, head, count, utc),), self.io)
        if refused is None:
            self.count = count
        else:
            self.trouble = refused.words

    def known(self) -> tuple[Known, ...]:
        """What stands there of the run; nothing where there is no register, or none that can be read."""
        known = lines_about(self.folder, self.run, self.io) if self.folder else ()
        self.count = max((one.count for one in known), default=0)
        return known


MARKED = (HoldReleased, Paused, MadeSafe, Resumed)
"""An open run that has come to one of these is entered again."""


def kind_of(events: Sequence[Event], first: bool, ended: bool) -> str:
    """As what the end of an action is entered; empty where it is not."""
    if ended:
        return "closed"
    if first:
        return "opened"
    return "reached" if any(isinstance(event, MARKED) for event in events) else ""


def enter(folder: str, entries: tuple[Known, ...], io: Io = DISK) -> Refused | None:
    """Append lines to the register of a folder, and begin it where there is none; None once they are on the disk."""
    path = os.path.join(folder, NAME)
    try:
        lock = patient_lock(path, io)
        if isinstance(lock, Refused):
            return Refused(f"The register {path} is held by another program.")
        try:
            return append(path, folder, entries, io)
        finally:
            with suppress(OSError):
                io.unlock(lock)
    except OSError as error:
        return Refused(trouble_words("Cannot write the register", path, error))


def patient_lock(path: str, io: Io) -> Lock | Refused:
    """The lock, waited for as long as another terminal may need it."""
    tries = int(PATIENCE_S / BREATH_S)
    lock = io.lock(path)
    while isinstance(lock, Refused) and tries:
        tries -= 1
        time.sleep(BREATH_S)
        lock = io.lock(path)
    return lock


def append(path: str, folder: str, entries: tuple[Known, ...], io: Io) -> Refused | None:
    """The part of entering that happens under the lock."""
    if NAME in io.names(folder):
        number, prev, end, size = last_of(path, io)
        if end < 0:
            return Refused(
                f"The register {path} is damaged at its end. `changeover verify {folder} --rebuild` begins it anew."
            )
        fd = io.open_write(path)
    else:
        number, prev, end, size = 0, GENESIS, 0, 0
        fd = io.create(path)
    try:
        if end == 0:
            mine = {known.run for known in entries}
            paths = sum(os.path.basename(one).removesuffix(".journal") not in mine for one in Store(folder, io).paths())
            entries = (Known("begun", "", "", "", paths, entries[0].at), *entries)
        content, _ = lines_of(entries, number, prev)
        if size > end:
            io.truncate(fd, end)
        if io.write(fd, content, end) != len(content):
            return Refused(f"The disk took only a part of what was to be entered in {path}.")
        io.sync(fd)
        if end == 0:
            io.sync_folder(folder)
    finally:
        with suppress(OSError):
            io.close(fd)
    return None


def last_of(path: str, io: Io) -> tuple[int, str, int, int]:
    """(number, hash, end, size): of the last whole line, where it ends, how long the file is; an end of -1 where it is
    damaged. What a crash left behind that line is to be cut off: nobody was told that it was kept."""
    with io.open_read(path) as file:
        size = file.seek(0, os.SEEK_END)
        file.seek(max(0, size - BLOCK))
        tail = file.read(BLOCK)
        whole, _, rest = tail.rpartition(b"\n")
        if b"\0" in whole[whole.rfind(b"\n") + 1 :] and size:  # sectors of the last line were not written
            whole, _, late = whole.rpartition(b"\n")
            rest = late + b"\n" + rest
        end = size - len(rest)
        line = whole[whole.rfind(b"\n") + 1 :] + b"\n"
    if end == 0 or (len(tail) == size and not whole):
        return 0, GENESIS, 0 if not size or torn(tail, True) else -1, size
    known = known_of(line)
    if isinstance(known, str) or (rest and not torn(rest, False)):
        return 0, "", -1, size
    return known[0].number, known[1], end, size


def rebuild(folder: str, utc: str, io: Io = DISK) -> int | Refused:
    """Begin the register of a folder anew from the records that lie there; how many they are. The old one is kept beside."""
    path = os.path.join(folder, NAME)
    found = tuple(as_found(one, utc, io) for one in sorted(Store(folder, io).paths(), key=os.path.basename))
    known = tuple(one for one in found if one is not None)
    removed = removed_before(folder, {one.run for one in known}, io)
    try:
        lock = patient_lock(path, io)
        if isinstance(lock, Refused):
            return Refused(f"The register {path} is held by another program.")
        try:
            there = NAME in io.names(folder)
            if there:
                keep_old(path, folder, io)
            fd = io.open_write(path) if there else io.create(path)
            try:
                content, _ = lines_of(
                    chain((Known("rebuilt", "", "", "", len(known), utc),), known, removed), 0, GENESIS
                )
                io.truncate(fd, 0)
                if io.write(fd, content, 0) != len(content):
                    return Refused(
                        f"The disk took only a part of the register {path}. Make room, then rebuild it again."
                    )
                io.sync_whole(fd)
                io.sync_folder(folder)
            finally:
                io.close(fd)
        finally:
            with suppress(OSError):
                io.unlock(lock)
    except OSError as error:
        return Refused(trouble_words("Cannot rebuild the register", path, error))
    return len(known)


def removed_before(folder: str, there: Collection[str], io: Io) -> tuple[Known, ...]:
    """What the old register, as far as it is in order, said of records that were taken away on purpose and are not there."""
    old = register_at(folder, io)
    newest = old.runs().values() if isinstance(old, Register) else ()
    return tuple(one for one in newest if one.kind == REMOVED and one.run not in there)


def keep_old(path: str, folder: str, io: Io) -> None:
    """A copy of the register as it was, synced, under a name that is free."""
    with io.open_read(path) as file:
        content = file.read(MOST)
    taken = set(io.names(folder))
    number = next(number for number in range(1, 1 << 20) if f"{NAME}.old-{number}" not in taken)
    fd = io.create(f"{path}.old-{number}")
    try:
        if io.write(fd, content, 0) != len(content):
            raise OSError("the disk took only a part of the old register")
        io.sync_whole(fd)
    finally:
        io.close(fd)
    io.sync_folder(folder)


def as_found(path: str, utc: str, io: Io) -> Known | None:
    """What a journal says of itself: its last line, not verified. None where nothing was kept in it or it is damaged."""
    try:
        with io.open_read(path) as file:
            first = decode(file.readline(LONGEST))
            last = decode(last_whole_line(file))
    except OSError:
        return None
    if not isinstance(first, Entry) or not isinstance(last, Entry):
        return None
    return Known("found", last.mark.run, last.mark.mode, last.hash, last.number, utc)


def runs_there(folder: str, io: Io = DISK) -> dict[str, list[str]]:
    """The paths of all journals in a folder of records, by the run that the name says."""
    there: dict[str, list[str]] = {}
    for path in Store(folder, io).paths():
        there.setdefault(os.path.basename(path).removesuffix(".journal"), []).append(path)
    return there


DEEP = 5
"""Folders below that of the records in which a journal is looked for."""


def strays(folder: str, io: Io = DISK) -> list[str]:
    """Journals below a folder of records that lie where no record lies, so that nothing else looks at them."""
    known, found = set(Store(folder, io).paths()), list[str]()
    looking = [(os.path.abspath(folder), 0)]
    while looking:
        here, depth = looking.pop()
        paths = [os.path.join(here, name) for name in io.names(here)]
        found += [path for path in paths if path.endswith(SUFFIX) and path not in known]
        if depth < DEEP:
            looking += [(path, depth + 1) for path in paths if "." not in os.path.basename(path)]
    return sorted(found)
