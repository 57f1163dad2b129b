"""The terminal that keeps the record: its run behind the same few methods, and others let in over a socket.

What they want goes through `Run.submit` like what is wanted here, in a thread of its own that `turns` leads.
"""

import os
import socket
import threading
from collections.abc import Callable, Iterator
from contextlib import suppress
from typing import TYPE_CHECKING

from runner.engine.events import Event
from runner.engine.intents import Refusal, Wanted
from runner.record.behind import Behind
from runner.record.line import Entry
from runner.record.refused import Refused
from runner.record.run import Run
from runner.record.shared.address import Place, listen

if TYPE_CHECKING:
    from runner.record.shared.guests import Done
    from runner.record.shared.turns import Turns

Watch = Callable[[str, tuple[Event, ...]], None]
"""Told of what was not done here: words about the terminals, and what happened. Called in a thread of its own."""

LEAVING_S = 3.0
"""So long leaving waits for those that have joined to be told."""


class Keeper(Behind[Run]):
    """A run that is written here, and those that have joined it. Has the methods that the screen knows of a run."""

    lost = ""
    joined = False
    goes_on = False

    def __init__(self, run: Run) -> None:
        self.run = run
        self.watchers: list[Watch] = []
        self.place: Place | None = None
        self.thread: threading.Thread | None = None
        self.alone = ""
        """Why nobody can join; empty while they can."""
        self.closing = False
        self.newest = (run.journal.number, run.interrupted)
        self.kept: tuple[int, int] = (0, 0)
        """The lines that the act of a joined terminal has led to so far; 0 where there are none."""
        self.turns: Turns | None = None
        self.name = os.urandom(16).hex()
        """By chance: of this opening of the run."""
        run.watchers.append(self.keeping)

    def entries(self) -> Iterator[Entry]:
        """Everything that is kept."""
        return self.run.entries()

    def submit(self, intent: Wanted) -> tuple[Event, ...] | Refusal:
        """What the intent led to, kept; or why it was not taken."""
        done = self.run.submit(intent)
        self.wake()
        return done

    def watch(self, watcher: Watch) -> None:
        """Tell `watcher` of all that is not done here."""
        self.watchers.append(watcher)

    def open(self) -> "Keeper":
        """Let others in, where a place for that is found; the run goes on without them where none is."""
        place = listen(self.run.path)
        if isinstance(place, Refused):
            self.alone = place.words
            return self
        self.place = place
        self.waker, self.woken = socket.socketpair()
        for one in (place.socket, self.waker, self.woken):
            one.setblocking(False)
        self.thread = threading.Thread(target=self.serve, name="joined terminals", daemon=True)
        self.thread.start()
        return self

    def serve(self) -> None:
        """The thread: take turns with all that join."""
        from runner.record.shared.turns import Turns

        if self.place is not None:
            self.turns = Turns(self, self.place, self.woken)
            self.turns.serve()

    def close(self) -> None:
        """Tell those that have joined, be met no more, and let go of the run."""
        self.closing = True
        if self.thread is not None:
            self.wake()
            self.thread.join(LEAVING_S)
            self.waker.close()
            self.woken.close()
        self.run.close()

    def wake(self) -> None:
        """There is something to tell."""
        if self.place is not None:
            with suppress(OSError):
                self.waker.send(b"!")

    def keeping(self, events: tuple[Event, ...], first: int, last: int) -> None:
        """Something was kept; called while no other intent gets in, in whichever thread."""
        self.newest = (last, self.run.interrupted)
        if threading.current_thread() is self.thread:
            self.kept = (self.kept[0] or first, last)
            self.tell("", events)

    def tell(self, words: str, events: tuple[Event, ...] = ()) -> None:
        """Tell the terminal here."""
        for watcher in self.watchers:
            watcher(words, events)

    def do(self, wanted: Wanted, terminal: str, seen: int) -> "Done":
        """An intent of a joined terminal, through the one door."""
        from runner.record.shared.guests import Done

        self.kept = (0, 0)
        done = self.run.submit(wanted, terminal, seen)
        return Done(done if isinstance(done, Refusal) else None, *self.kept)
