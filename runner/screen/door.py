"""What the screen is given: a run behind a few methods, or what pages are shown over while no run is open yet."""

from collections.abc import Callable, Iterator
from typing import NamedTuple, Protocol, runtime_checkable

from runner.engine.events import Event
from runner.engine.intents import Refusal, Wanted
from runner.engine.state import RunState
from runner.procedure.model import Procedure
from runner.record.behind import Told


class Kept(Protocol):
    """A line of the record."""

    @property
    def event(self) -> Event:
        """What happened."""


class Door(Told, Protocol):
    """What the screen knows of a run: `runner.record.run.Run`, or its like in a test."""

    def submit(self, intent: Wanted) -> tuple[Event, ...] | Refusal:
        """What the intent led to, kept; or why it was not taken."""

    def entries(self) -> Iterator[Kept]:
        """Everything that is kept. Raises OSError where the disk does not give it."""


@runtime_checkable
class Shared(Protocol):
    """What a run has besides where other terminals may have joined it."""

    @property
    def lost(self) -> str:
        """Why nobody keeps the record now; empty while somebody does. The next act takes the run over."""

    @property
    def joined(self) -> bool:
        """True where it is another terminal that keeps the record, or kept it when this one joined."""

    def watch(self, watcher: Callable[[str, tuple[Event, ...]], None]) -> None:
        """Tell of what is not done here: words about the terminals, and what happened. In a thread of its own."""


def shared(run: Door | None) -> Shared | None:
    """The run as one that other terminals share; None where none can."""
    if run is None:
        return None
    return run if isinstance(run, Shared) else None


def lost_of(run: Door) -> str:
    """Why nobody keeps the record now; empty while somebody does."""
    found = shared(run)
    return found.lost if found is not None else ""


Starter = Callable[[tuple[tuple[str, str], ...], tuple[tuple[str, str], ...]], "Door | Refusal"]
"""Begins a run from (role, name) and (input, as typed)."""


class Idle(NamedTuple):
    """What pages are shown over where no run is open yet."""

    procedure: Procedure
    state: RunState
    dry: str = ""
    """What a dry run will be called."""


def last_act(run: Door) -> Event | None:
    """The newest thing that somebody did, as it is on the disk; what followed by itself is left out."""
    last = None
    try:
        for entry in run.entries():
            if entry.event.by:
                last = entry.event
    except OSError:
        return None
    return last
