"""The door of a simulated run: intents go in, the real engine decides, and nothing is written.

It takes what `record.run.Run` takes, so that the same walk writes a journal where one is wanted. Time stands still until told.
"""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import Protocol

from runner.engine.decide import AnyIntent, take
from runner.engine.events import Event
from runner.engine.evolve import begin_state
from runner.engine.intents import BeginRun, Refusal
from runner.engine.moment import Moment
from runner.engine.state import RunState
from runner.procedure.model import Procedure
from runner.record.clock import Clock, SteppedClock
from runner.record.run import Run
from runner.record.store import Store


class SimulatedClock(SteppedClock):
    """Seconds since the run began; the moment is made once for each of them."""

    def __init__(self) -> None:
        super().__init__(boot="simulated")
        self.moment: Moment | None = None

    def now(self) -> Moment:
        """The moment it stands at."""
        moment = self.moment
        if moment is None:
            moment = self.moment = super().now()
        return moment

    def advance(self, seconds: float) -> None:
        """Time goes by."""
        if seconds > 0.0:
            super().advance(seconds)
            self.moment = None


class Door(Protocol):
    """What a walk needs of a run."""

    procedure: Procedure
    state: RunState

    def submit(self, intent: AnyIntent) -> tuple[Event, ...] | Refusal:
        """What the intent led to, or why it was not taken."""
        ...


Tell = Callable[[Iterable[Event]], None]

Opener = Callable[[Procedure, BeginRun, Clock, Tell], Door | Refusal]
"""Begins a run: the run, or why it has not begun. `Tell` hears of what happened with it."""


class Unkept:
    """A run that nobody keeps."""

    def __init__(self, procedure: Procedure) -> None:
        self.procedure = procedure
        self.state = begin_state(procedure)

    def submit(self, intent: AnyIntent) -> tuple[Event, ...] | Refusal:
        """Decide, and move the state; the walk stamps its intents."""
        taken = take(self.procedure, self.state, intent)
        if isinstance(taken, Refusal):
            return taken
        self.state = taken.state
        return taken.events


def open_unkept(procedure: Procedure, intent: BeginRun, _clock: Clock, tell: Tell) -> Door | Refusal:
    """A run that nobody keeps, begun."""
    run = Unkept(procedure)
    decided = run.submit(intent)
    if isinstance(decided, Refusal):
        return decided
    tell(decided)
    return run


@dataclass(frozen=True, slots=True)
class Kept:
    """Begins runs whose journals lie in a folder."""

    folder: str

    def __call__(self, procedure: Procedure, intent: BeginRun, clock: Clock, tell: Tell) -> Door | Refusal:
        """A run, begun."""
        run = Run.begin(Store(self.folder), procedure, intent, clock)
        if isinstance(run, Refusal):
            return run
        tell(entry.event for entry in run.entries())
        return run


def open_kept(folder: str) -> Opener:
    """Begins runs whose journals lie in a folder."""
    return Kept(folder)
