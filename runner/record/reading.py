"""Reading a journal without changing anything: action by action, in little memory, verified on the way.

An action is what one intent led to, one or more lines; it counts whole or not at all. Reading stops at the first
flaw: what stands behind it is looked at only to say better what is wrong. A journal may be read while another process
writes it: what looks unfinished is read a second time before anything is said of it.
"""

import os
from collections.abc import Callable, Iterator
from typing import BinaryIO

from runner.record.disk import DISK, Io, trouble_words
from runner.record.line import LONGEST, Entry, decode
from runner.record.refused import Refused
from runner.record.verify import Verification, Verifier, verify
from runner.say.text import say

Action = tuple[Entry, ...]


def lines_of(file: BinaryIO) -> Iterator[bytes]:
    """Lines with their newline; a line that is longer than any of ours comes in pieces, none of which verifies.

    Zeros may have been read where a writer has put lines since, with later lines behind them: the first such piece is
    read anew until it stays the same. A piece that ends with the file is the last one, even if the file has grown since.
    """
    at, settled = file.tell(), False
    while line := file.readline(LONGEST):
        while not settled and (line[-1:] != b"\n" or b"\0" in line):
            file.seek(0, os.SEEK_END)  # within what it has read ahead a file does not ask the disk again
            file.seek(at)
            before, line = line, file.readline(LONGEST)
            settled = line == before
        yield line
        if line[-1:] != b"\n" and len(line) < LONGEST:
            return
        at += len(line)


class Reading:
    """One pass over a journal; where it stands is known after each action."""

    def __init__(self) -> None:
        self.verifier = Verifier()
        self.good = 0
        """Bytes up to the end of the last whole action."""
        self.last_action = b""
        """The bytes of the last whole action."""
        self.damaged = b""
        """The line at which reading stopped; empty where all lines are in order."""
        self.loose = 0
        """Bytes of whole lines behind `good`: an action of which the rest is not there."""

    def actions(self, lines: Iterator[bytes]) -> Iterator[Action]:
        """The whole actions up to the first flaw."""
        entries: list[Entry] = []
        kept: list[bytes] = []
        for line in lines:
            entry = self.verifier.check(line, decode)
            if entry is None:
                if not self.verifier.flaws:
                    continue  # room that was not used
                self.damaged = line
                return
            if not entries and entry.left == 0:  # most actions have one line
                self.last_action = line
                self.good += len(line)
                yield (entry,)
                continue
            entries.append(entry)
            kept.append(line)
            self.loose += len(line)
            if entry.left == 0:
                self.last_action = b"".join(kept)
                self.good, self.loose = self.good + self.loose, 0
                yield tuple(entries)
                entries, kept = [], []

    def finish(self, lines: Iterator[bytes]) -> Verification:
        """Look at what is left, so that the flaws are named as well as they can be."""
        for line in lines:
            self.verifier.take(line)
        return self.verifier.result()


def read_journal(path: str, take: Callable[[Entry], object], io: Io = DISK) -> Verification | Refused:
    """Give every line of every whole action up to the first flaw to `take`; then what verifying found."""
    try:
        with io.open_read(path) as file:
            reading, lines = Reading(), lines_of(file)
            for action in reading.actions(lines):
                for entry in action:
                    take(entry)
            return reading.finish(lines)
    except OSError as error:
        return Refused(trouble_words(say("Cannot read the journal"), path, error))


def verify_journal(path: str, io: Io = DISK) -> Verification | Refused:
    """What is wrong with the journal at a path."""
    try:
        with io.open_read(path) as file:
            return verify(lines_of(file))
    except OSError as error:
        return Refused(trouble_words(say("Cannot read the journal"), path, error))
