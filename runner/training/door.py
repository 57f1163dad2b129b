"""What playing needs of a run and of a clock: a run by itself, or one behind a lesson, and any time that can be stepped."""

from collections.abc import Callable
from typing import Protocol

from runner.engine.decide import AnyIntent
from runner.engine.events import Event
from runner.engine.intents import NoteTraining, Refusal
from runner.engine.moment import Moment
from runner.engine.state import RunState
from runner.procedure.asks.ask import Ask
from runner.procedure.model import Procedure, Step


class Played(Protocol):
    """A run that is played."""

    @property
    def procedure(self) -> Procedure:
        """Compiled."""

    @property
    def state(self) -> RunState:
        """As of the newest event."""

    def submit(self, intent: AnyIntent) -> tuple[Event, ...] | Refusal:
        """What the intent led to, or why it was not taken."""


class Stepped(Protocol):
    """Time that can be stepped."""

    def now(self) -> Moment:
        """This moment."""

    def advance(self, seconds: float) -> None:
        """Time goes by."""


class Explained(Protocol):
    """A run in which questions are asked."""

    def explained(self, question: str, share: float, words: str) -> NoteTraining | None:
        """What the coach says of an answer, by the question's id; None where there is no such question."""


Shows = Callable[[Step, Ask], str]
"""What the equipment shows where a step asks; empty where nothing can be said."""
Until = Callable[[], str]
"""Why playing ends here; empty: it goes on."""
