"""A journal that another process writes, folded line by line up to where that process says that it is on the disk.

Every line is verified as it is read, and folded as a replay folds it: what is seen is what a replay would give.
"""

from collections import deque

from runner.engine.events import Event
from runner.engine.state import RunState
from runner.procedure.model import Procedure
from runner.record.disk import DISK, Io, trouble_words
from runner.record.line import LONGEST, Entry
from runner.record.refused import Refused
from runner.record.run import Replay
from runner.record.verify import Verifier
from runner.say.text import say

RECENT = 400
"""So many of the newest entries are at hand."""


class Follower:
    """As far as it has been read."""

    def __init__(self, path: str, io: Io = DISK) -> None:
        self.path, self.io = path, io
        self.replay = Replay(path)
        self.verifier = Verifier()
        self.at = 0
        """Bytes that have been read."""
        self.number = 0
        """Of the newest line that is folded."""
        self.recent: deque[Entry] = deque(maxlen=RECENT)

    @property
    def procedure(self) -> Procedure:
        """As pinned in line 1; there is one once anything was read."""
        if self.replay.procedure is None:
            raise ValueError("nothing was read yet")
        return self.replay.procedure

    @property
    def state(self) -> RunState:
        """After line `number`."""
        if self.replay.state is None:
            raise ValueError("nothing was read yet")
        return self.replay.state

    def read_to(self, number: int) -> tuple[Event, ...] | Refused:
        """Read on to the line of a number; what is new."""
        new: list[Event] = []
        if number <= self.number:
            return ()
        try:
            with self.io.open_read(self.path) as file:
                file.seek(self.at)
                while self.number < number:
                    line = file.readline(LONGEST)
                    entry = self.verifier.take(line)
                    if entry is None:
                        said = self.verifier.result().flaws
                        words = str(said[-1]) if said else f"line {self.number + 1} is not there"
                        return Refused(say("The record cannot be followed: {why}.", why=words))
                    refused = self.replay.take(entry)
                    if refused is not None:
                        return refused
                    self.at, self.number = self.at + len(line), entry.number
                    self.recent.append(entry)
                    new.append(entry.event)
        except OSError as error:
            return Refused(trouble_words("Cannot follow the record", self.path, error))
        return tuple(new)

    def events(self, first: int, last: int) -> tuple[Event, ...]:
        """Those of the lines from `first` to `last`, as far as they are at hand."""
        return tuple(entry.event for entry in self.recent if first <= entry.number <= last)
