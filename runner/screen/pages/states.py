"""The state board: what the press is taken for, and where a person says what they see.

What was known before an interruption is not shown where the value is picked, so that it is looked at and not copied.
"""

# ruff: noqa: ARG002 - every page answers the same calls, whether or not it needs all that comes with them

from dataclasses import dataclass, replace
from functools import partial

from runner.engine.intents import LookAt
from runner.procedure.model import TrackedState
from runner.screen import words
from runner.screen.blocks import Big, Block, Gap, Ink, Row, Rows, Say, Sheet
from runner.screen.desk import Back, Desk, Move, Open, Page, Send, Tell, Turn, TurnTo, moved, numbered
from runner.screen.keys import Action
from runner.screen.listed import state_row
from runner.screen.pages.menu import MenuPage
from runner.screen.pages.who import who
from runner.screen.view import StateView, states_view


@dataclass(frozen=True, slots=True)
class StatesPage(Page):
    """`resumed` is true right after the run was taken up again."""

    cursor: int | None = None
    resumed: bool = False
    looker: str = ""
    """Who looked last, asked first next time."""

    def show(self, desk: Desk) -> Sheet:
        """All tracked states; those that nobody vouches for are marked."""
        board = states_view(desk.procedure, desk.state)
        blocks: list[Block] = []
        if self.resumed and desk.state.intention:
            blocks += [Big("Next I will", desk.state.intention), Gap()]
        if desk.state.unconfirmed:
            blocks += [Say("Go and look. Pick a line and say what you see.", "look", Ink.ABNORMAL), Gap()]
        if not board:
            blocks.append(Say("This procedure tracks no states."))
        blocks.append(Rows(tuple(state_row(state) for state in board), self._at(board), numbered=True))
        go = "to the step" if self.resumed and self._at(board) is None else "say it"
        title = "What the press is taken for: you confirm what you see"
        return Sheet("working", title, tuple(blocks), go, subject="states")

    def _at(self, board: tuple[StateView, ...]) -> int | None:
        if self.cursor is not None:
            return self.cursor
        return next((at for at, state in enumerate(board) if state.before and not state.known), None)

    def go(self, desk: Desk, typed: str) -> Move:
        """Pick the value that is seen."""
        board = states_view(desk.procedure, desk.state)
        at = self._at(board)
        if at is None:
            return Back() if self.resumed or not board else Tell(words.PICK)
        return Open(_values(desk.procedure.states[at], replace(self, cursor=None)))

    def press(self, desk: Desk, action: Action) -> Move:
        """Arrows choose; Tab shows the values; Esc leaves."""
        board = states_view(desk.procedure, desk.state)
        match action:
            case Action.BACK:
                return Back()
            case Action.SIDE:
                return TurnTo("working")
            case _:
                return Turn(replace(self, cursor=moved(self._at(board), action, len(board), desk.room)))

    def choose(self, desk: Desk, number: int) -> Move:
        """A digit chooses."""
        return Turn(replace(self, cursor=numbered(number, len(desk.procedure.states))))


def _values(tracked: TrackedState, board: StatesPage) -> Page:
    def seen(desk: Desk, value: str) -> Move:
        def looked(_: Desk, name: str) -> Move:
            return Send(LookAt(name, tracked.name, value), replace(board, looker=name))

        return who(desk, f"{tracked.label}: {value}. Who looked?", looked, first=board.looker)

    rows = tuple(Row(value) for value in tracked.of)
    moves = tuple(partial(seen, value=value) for value in tracked.of)
    above = (Say("You have looked at it yourself, now. What do you see?"),)
    return MenuPage(f"{tracked.label}: what do you see?", rows, moves, above)


def opened(_: Desk) -> Page:
    """The page as it is turned to from the values."""
    return StatesPage()
