"""A run into which is entered what was done on paper: each act is asked when it was done, before it counts.

It stands between the screen and the run and changes nothing but that: an act that a paper form has room for goes no
further without its time. `now` in place of a time enters it as it is done; `same` takes the last time once more.
"""

from collections.abc import Callable, Iterator
from dataclasses import replace

from runner.engine.decisions.paper import FROM_PAPER
from runner.engine.events import Event
from runner.engine.intents import Refusal, Wanted, WithPin
from runner.record.behind import Behind
from runner.say.text import say
from runner.screen.door import Door, Kept, lost_of, shared

NOW, SAME = "now", "same"


class PaperDoor(Behind[Door]):
    """The run behind it, with the question of when."""

    def __init__(self, run: Door) -> None:
        self.run = run
        self.time = ""
        """The last time that was taken, as typed."""

    @property
    def lost(self) -> str:
        """Why nobody keeps the record now; empty while somebody does."""
        return lost_of(self.run)

    @property
    def joined(self) -> bool:
        """True where it is another terminal that keeps the record."""
        found = shared(self.run)
        return found is not None and found.joined

    def watch(self, watcher: Callable[[str, tuple[Event, ...]], None]) -> None:
        """Tell of what is done at other terminals."""
        found = shared(self.run)
        if found is not None:
            found.watch(watcher)

    def entries(self) -> Iterator[Kept]:
        """Everything that is kept. Raises OSError where the disk does not give it."""
        return self.run.entries()

    def submit(self, intent: Wanted) -> tuple[Event, ...] | Refusal:
        """What the intent led to; a refusal that asks for the time where it has none."""
        wanted = intent.intent if isinstance(intent, WithPin) else intent
        if not isinstance(wanted, FROM_PAPER):
            return self.run.submit(intent)
        typed = wanted.paper.strip()
        if not typed:
            return Refusal(say("When was it done on paper?"), when=True)
        if typed.casefold() == SAME and not self.time:
            return Refusal(say("No time was given yet: type one."))
        time = "" if typed.casefold() == NOW else self.time if typed.casefold() == SAME else typed
        timed = replace(wanted, paper=time)
        kept = self.run.submit(replace(intent, intent=timed) if isinstance(intent, WithPin) else timed)
        if time and not isinstance(kept, Refusal):
            self.time = time
        return kept
