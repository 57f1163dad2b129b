"""Opening a journal to go on with it: read and verify, set a torn tail aside, make sure of the last action.

What was kept is never cut. A tail that a crash left is copied to a file beside the journal and synced before it is
cut off, so no byte is lost; zeros at the end are room that was not used, and are cut off without a word. Where
anything was changed, or another has the run, the file stays as it is and the words say so.
"""

import os
from collections.abc import Callable
from contextlib import suppress

from runner.engine.events import TailSetAside
from runner.record.disk import Io, Lock, trouble_words
from runner.record.journal import Aside, Journal, let_go
from runner.record.line import Entry
from runner.record.reading import Reading, lines_of
from runner.record.refused import Refused
from runner.record.tail import TOO_LONG, may_be_set_aside
from runner.record.verify import Flaw
from runner.say.text import say

TORN = ".torn-"
"""Between the journal's name and a number, for what was set aside."""

Take = Callable[[Entry], Refused | None]
"""What is done with each line; it may refuse the journal."""

Agree = Callable[[int, bool], str]
"""Takes the number of the last kept line and whether zeros stand behind it; says why the journal is not gone on with."""


def open_journal(
    path: str, io: Io, take: Take, after_end: bool = False, agree: Agree = lambda _number, _zeros: ""
) -> Journal | Refused:
    """Lock the journal at a path, give every entry to `take`, and return it ready for the next action.

    Of a run that has ended only with `after_end`, for what may follow a seal; it takes no others. `agree` is asked before
    anything is cut off or written.
    """
    lock: Lock | None = None
    fd = -1
    try:
        fd = io.open_write(path)
        locked = io.lock(path)
        if isinstance(locked, Refused):
            refused = locked
        else:
            lock = locked
            opened = open_locked(path, io, take, lock, fd, after_end, agree)
            if isinstance(opened, Journal):
                return opened
            refused = opened
    except OSError as error:
        refused = Refused(trouble_words(say("Cannot open the record"), path, error))
    let_go(io, lock, fd)
    return refused


def open_locked(path: str, io: Io, take: Take, lock: Lock, fd: int, after_end: bool, agree: Agree) -> Journal | Refused:
    """The part of opening that happens under the lock."""
    reading, named = Reading(), set[str]()
    last: Entry | None = None
    with io.open_read(path) as file:
        for action in reading.actions(lines_of(file)):
            for entry in action:
                refused = take(entry)
                if refused is not None:
                    return refused
                if isinstance(entry.event, TailSetAside):
                    named.add(entry.event.file)
                last = entry
        file.seek(reading.good)
        tail = file.read(TOO_LONG + 1 if reading.damaged else reading.loose)
        if reading.damaged and (
            len(tail) > TOO_LONG or not may_be_set_aside(tail, reading.good, reading.loose, last.number if last else 0)
        ):
            file.seek(reading.good + reading.loose + len(reading.damaged) + sum(map(len, reading.ahead)))
            return changed(path, reading.finish(lines_of(file)).flaws[0])
    if last is None:
        return Refused(say("Nothing was kept in {path}: its run never began. Begin a new one.", path=path))
    outcome = reading.verifier.outcome
    if after_end and not outcome:
        return Refused(say("This run has not ended. Go on with it and end it first."))
    if outcome and not after_end:
        if reading.verifier.padding and reading.verifier.result().whole:
            cut_ended(io, fd, reading.good)
        return Refused(
            say("This run was {outcome}: its record is closed. It can be read and reported.", outcome=say(outcome))
        )
    against = agree(last.number, b"\0" in tail or bool(reading.verifier.padding))
    if against:
        return Refused(
            say(
                "The record {path} has lost lines that were kept: {why}. Nothing was touched. "
                "Keep the file as it is, look at the press, and begin a new run.",
                path=path,
                why=against,
            ),
            damaged=True,
        )
    # A failed sync may have left the last action in memory only, where it reads as if it were on the disk.
    io.rewrite(path, reading.good - len(reading.last_action), reading.last_action)
    tail = tail.rstrip(b"\0")
    if tail:
        set_aside(path, io, tail, named)
    if tail or reading.verifier.padding:
        io.truncate(fd, reading.good)
        io.sync_whole(fd)
    journal = Journal(path, io, lock, fd, last.mark, reading.good)
    journal.number, journal.head, journal.outcome = last.number, last.hash, outcome
    journal.asides = unreported(path, io, named)
    return journal


def cut_ended(io: Io, fd: int, good: int) -> None:
    """Cut off what a crash between the closing event and the cut left. Where that fails it stays, and is no flaw."""
    with suppress(OSError):
        io.truncate(fd, good)
        io.sync_whole(fd)


def changed(path: str, flaw: Flaw) -> Refused:
    """A record that cannot be gone on with."""
    return Refused(
        say(
            "The record {path} is damaged in line {line}: it {fault}. Nothing was touched. Keep the file as it is, look at the press, and begin a new run.",
            path=path,
            line=flaw.line,
            fault=flaw.words,
        )
    )


def torn_files(path: str, io: Io) -> tuple[str, ...]:
    """The names of what was set aside of a journal, in order."""
    stem = os.path.basename(path) + TORN
    found = [name for name in io.names(os.path.dirname(path) or ".") if name.startswith(stem)]
    numbered = [(int(name[len(stem) :]), name) for name in found if name[len(stem) :].isdecimal()]
    return tuple(name for _, name in sorted(numbered))


def read_whole(path: str, io: Io) -> bytes:
    """The content of a file beside a journal."""
    with io.open_read(path) as file:
        return file.read(TOO_LONG + 1)


def set_aside(path: str, io: Io, tail: bytes, named: set[str]) -> None:
    """Copy the tail to a file of its own and sync that, before it is cut off.

    A crash on the way leaves a copy or a beginning of one that no event names; the next opening makes it whole.
    """
    folder, before = os.path.dirname(path), torn_files(path, io)
    newest = before[-1] if before else ""
    there = read_whole(os.path.join(folder, newest), io) if newest and newest not in named else b""
    if newest and newest not in named and tail.startswith(there):
        copy = io.open_write(os.path.join(folder, newest))
    else:
        there = b""
        copy = io.create(f"{path}{TORN}{int(newest.rpartition('-')[2]) + 1 if newest else 1}")
    try:
        if io.write(copy, tail[len(there) :], len(there)) != len(tail) - len(there):
            raise OSError(say("the disk took only a part of what is to be set aside"))
        io.sync(copy)
    finally:
        io.close(copy)
    io.sync_folder(folder)


def unreported(path: str, io: Io, named: set[str]) -> tuple[Aside, ...]:
    """What was set aside and has no event yet, be it from an opening that was itself cut short."""
    folder = os.path.dirname(path)
    asides = (Aside(name, len(read_whole(os.path.join(folder, name), io))) for name in torn_files(path, io))
    return tuple(aside for aside in asides if aside.file not in named)
