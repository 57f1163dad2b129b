"""Reading a journal without changing anything: action by action, in little memory, verified on the way.

An action is what one intent led to, one or more lines; it counts whole or not at all. Reading stops at the first
flaw: what stands behind it is looked at only to say better what is wrong. A journal may be read while another process
writes it: what looks unfinished is read a second time before anything is said of it.
"""

import os
from collections.abc import Callable, Iterator
from itertools import chain
from typing import BinaryIO

from runner.record.disk import DISK, Io, trouble_words
from runner.record.line import LONGEST, Damage, Entry, decode
from runner.record.refused import Refused
from runner.record.verify import Verification, Verifier, verify
from runner.say.text import say

Action = tuple[Entry, ...]

TOGETHER = 256
"""Lines that are read before anything is done with them."""
MOST_TOGETHER = 1 << 20
"""Bytes from which on no further line is read along."""


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
    """One pass over a journal; where it stands is known once all actions were given out."""

    def __init__(self) -> None:
        self.verifier = Verifier()
        self.good = 0
        """Bytes up to the end of the last whole action."""
        self.last_action = b""
        """The bytes of the last whole action."""
        self.damaged = b""
        """The line at which reading stopped; empty where all lines are in order."""
        self.begun: list[tuple[Entry, bytes]] = []
        """Lines of an action of which the end has not come."""
        self.ahead: list[bytes] = []
        """Lines behind that one which were read along with it."""
        self.loose = 0
        """Bytes of whole lines behind `good`: an action of which the rest is not there."""

    def actions(self, lines: Iterator[bytes]) -> Iterator[Action]:
        """The whole actions up to the first flaw."""
        for block in blocks_of(lines):
            # each thing is done with all of them before the next, which takes a good part less time than line by line
            yield from self.whole_actions(block, [decode(line) for line in block])
            if self.damaged:
                return

    def whole_actions(self, block: list[bytes], read: list[Entry | Damage]) -> list[Action]:
        """The actions that end in these lines, which were read to that."""
        found: list[Action] = []
        for at, line in enumerate(block):
            entry = self.verifier.checked(line, read[at])
            if entry is None:
                if not self.verifier.flaws:
                    continue  # room that was not used
                self.damaged, self.ahead = line, block[at + 1 :]
                break
            if not self.begun and entry.left == 0:  # most actions have one line
                self.last_action = line
                self.good += len(line)
                found.append((entry,))
                continue
            self.begun.append((entry, line))
            self.loose += len(line)
            if entry.left == 0:
                self.last_action = b"".join([line for _, line in self.begun])
                self.good, self.loose = self.good + self.loose, 0
                found.append(tuple([entry for entry, _ in self.begun]))
                self.begun = []
        return found

    def finish(self, lines: Iterator[bytes]) -> Verification:
        """Look at what is left of the same lines, so that the flaws are named as well as they can be."""
        for line in chain(self.ahead, lines):
            self.verifier.take(line)
        return self.verifier.result()


def blocks_of(lines: Iterator[bytes]) -> Iterator[list[bytes]]:
    """Lines together, some hundred at a time and never much more than a megabyte."""
    block: list[bytes] = []
    size = 0
    for line in lines:
        block.append(line)
        size += len(line)
        if len(block) == TOGETHER or size >= MOST_TOGETHER:
            yield block
            block, size = [], 0
    if block:
        yield block


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
