"""What a page is given, and what it may ask for. A page is a frozen value: it shows itself and answers keys with a Move.

Both rims, the full screen and plain mode, drive the same pages through these few methods, so that nothing can be done
in one that cannot be done in the other. A page decides nothing about the run: it sends an intent and is told.
"""

# ruff: noqa: ARG002 - every page answers the same calls, whether or not it needs all that comes with them

from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING, NamedTuple

from runner.engine import flow
from runner.engine.intents import Wanted
from runner.engine.moment import Moment
from runner.engine.shown import doer
from runner.engine.state import RunState
from runner.procedure.model import Procedure
from runner.screen.blocks import Sheet
from runner.screen.keys import Action, key_for

if TYPE_CHECKING:
    from runner.training.lesson import Lesson


class Desk(NamedTuple):
    """All that a page may look at."""

    procedure: Procedure
    state: RunState
    now: Moment
    lane: int = 0
    room: int = 16
    """Rows that the page has."""
    head: str = ""
    """The hash of the newest line of the record."""
    path: str = ""
    """Where the record lies."""
    interrupted: bool = False
    """True where the program had ended while the run was open, until the run is resumed."""

    plain: bool = False
    """True in plain mode, where keys are words."""
    kept: str = ""
    """The last act that is on record, where a run was opened again; empty where nothing is known of it."""
    lost: str = ""
    """Why nobody keeps the record now, where this terminal had joined the run of another; empty while somebody does."""
    typed: str = ""
    """What stands in the line that is typed."""
    practice: "Lesson | None" = None
    """The scenario of a dry run; None where there is none."""

    def cap(self, action: Action) -> str:
        """How a person calls for an action: the key, or in plain mode the word."""
        key = key_for(action)
        return f"`{key.word}`" if self.plain else key.cap

    def enter(self, word: str) -> str:
        """How a person goes on: with Enter, or in plain mode with the word for it."""
        return f"`{word}`" if self.plain else "Enter"

    @property
    def person(self) -> str:
        """The name under which acts outside a step are noted: who has the list that is shown, else anybody here."""
        lanes = len(self.state.position.cursors)
        if lanes:
            step = flow.current(self.procedure, self.state.position, min(self.lane, lanes - 1))
            if step is not None and doer(self.state, step):
                return doer(self.state, step)
        return next((name for name in self.state.crew.values() if name), "")

    @property
    def step_id(self) -> str:
        """The step that is up in the list that is shown; empty where there is none."""
        lanes = len(self.state.position.cursors)
        step = flow.current(self.procedure, self.state.position, min(self.lane, lanes - 1)) if lanes else None
        return step.id if step else ""


@dataclass(frozen=True, slots=True)
class Page:
    """One page. What it does not answer leaves everything as it is."""

    def show(self, desk: Desk) -> Sheet:
        """What is on the screen."""
        raise NotImplementedError

    def go(self, desk: Desk, typed: str) -> "Move":
        """Enter, with what was typed; empty where nothing was."""
        return Stay()

    def press(self, desk: Desk, action: Action) -> "Move":
        """Another key of the table."""
        return Stay()

    def choose(self, desk: Desk, number: int) -> "Move":
        """A digit, on a page where nothing is typed; from 1."""
        return Stay()


class Stay(NamedTuple):
    """Nothing happens."""


class Send(NamedTuple):
    """Submit an intent; where it is refused, nothing moves and the reason is said."""

    intent: Wanted
    then: Page | None = None
    after: str = "home"
    """Once taken: home (the run's own page, with `then` on top of it), reset (`then` alone), back (the page beneath) or
    keep (this page, or `then` in its place)."""


class Open(NamedTuple):
    """Put a page on top."""

    page: Page


class Turn(NamedTuple):
    """Put a page in place of the one on top, and say something where there is something to say."""

    page: Page
    words: str = ""


class TurnTo(NamedTuple):
    """Put another page in place of the one on top, by its name: pages that lead to each other need not import."""

    name: str


class Reset(NamedTuple):
    """Put a page in place of all that are open."""

    page: Page


class Back(NamedTuple):
    """Leave the page on top."""


class Tell(NamedTuple):
    """Say something in the message line."""

    words: str


class ToLane(NamedTuple):
    """Show another list."""

    lane: int


class Leave(NamedTuple):
    """End the program; the run stays as the record has it."""

    choice: tuple[str, str] = ("", "")
    """From the home page: what to do (run, resume or report) and with which file."""


class Begin(NamedTuple):
    """Begin the run with this crew and these values of the job, as typed."""

    crew: tuple[tuple[str, str], ...]
    inputs: tuple[tuple[str, str], ...]


Move = Stay | Send | Open | Turn | TurnTo | Reset | Back | Tell | ToLane | Leave | Begin
Done = Callable[[Desk, tuple[str, ...]], Move]


def moved(cursor: int | None, action: Action, count: int, room: int = 10) -> int | None:
    """The chosen row after an arrow key; the first arrow chooses the first row."""
    if not count:
        return None
    match action:
        case Action.DOWN:
            return 0 if cursor is None else min(count - 1, cursor + 1)
        case Action.UP:
            return count - 1 if cursor is None else max(0, cursor - 1)
        case Action.PAGE_DOWN:
            return min(count - 1, (cursor or 0) + room)
        case Action.PAGE_UP:
            return max(0, (cursor or 0) - room)
        case _:
            return cursor


def numbered(number: int, count: int) -> int | None:
    """The row of a number that was typed; none where there is no such row, so that nothing else is taken for it."""
    return number - 1 if 1 <= number <= count else None
