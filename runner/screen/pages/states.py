"""The state board: what the press is taken for, and where a person says what they see.

After an interruption each state is looked at by itself, one key each: as it was, or another. What it was is shown at the
line that is up alone, and not where a value is picked.
"""

# ruff: noqa: ARG002 - every page answers the same calls, whether or not it needs all that comes with them

from dataclasses import dataclass, replace
from functools import partial

from runner.engine.intents import LookAt
from runner.procedure.model import TrackedState
from runner.say.text import say
from runner.screen import words
from runner.screen.blocks import Big, Block, Gap, Ink, Row, Rows, Say, Sheet
from runner.screen.desk import Back, Desk, Move, Open, Page, Send, Stay, Tell, Turn, TurnTo, moved, numbered
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
            blocks += [Big(say("Next I will"), desk.state.intention), Gap()]
        if desk.state.unconfirmed:
            told = say(
                "Go and look. {enter}: you see it as it was. {key}: it differs.",
                enter=desk.enter("same"),
                key=desk.cap(Action.UNEXPECTED),
            )
            blocks += [Say(told, say("look"), Ink.ABNORMAL), Gap()]
        if not board:
            blocks.append(Say(say("This procedure tracks no states.")))
        at = self._at(board)
        rows = tuple(_row(state, desk.plain or place == at) for place, state in enumerate(board))
        blocks.append(Rows(rows, at, numbered=True))
        title = say("What the press is taken for: you confirm what you see")
        named = ((Action.SIDE, say("values")),)
        if at is not None and board[at].before and not board[at].known:
            # each look is its own: a key held down, or pressed for the line above, confirms nothing here
            return Sheet("looks", title, tuple(blocks), say("as it was"), "same", subject=f"looks/{at}", named=named)
        go = say("to the step") if self.resumed and at is None else say("say it")
        return Sheet("working", title, tuple(blocks), go, subject="states", named=named)

    def _at(self, board: tuple[StateView, ...]) -> int | None:
        if self.cursor is not None:
            return self.cursor
        return next((at for at, state in enumerate(board) if state.before and not state.known), None)

    def go(self, desk: Desk, typed: str) -> Move:
        """It is seen as it was before the interruption, or the value that is seen is picked."""
        board = states_view(desk.procedure, desk.state)
        at = self._at(board)
        if at is None:
            return Back() if self.resumed or not board else Tell(say(words.PICK))
        if board[at].before and not board[at].known:
            return self._as_it_was(desk, board[at])
        return Open(_values(desk.procedure.states[at], replace(self, cursor=None)))

    def _as_it_was(self, desk: Desk, state: StateView) -> Move:
        """The look of the one who looks on this page; asked for once."""
        page = replace(self, cursor=None)

        def looked(_: Desk, name: str) -> Move:
            return Send(LookAt(name, state.name, state.before), replace(page, looker=name))

        if self.looker:
            return looked(desk, self.looker)
        return who(desk, say("{label}: {value}. Who looked?", label=state.label, value=state.before), looked)

    def press(self, desk: Desk, action: Action) -> Move:
        """Arrows choose; Tab shows the values; Esc leaves; what differs is picked."""
        board = states_view(desk.procedure, desk.state)
        match action:
            case Action.UNEXPECTED:
                at = self._at(board)
                return Stay() if at is None else Open(_values(desk.procedure.states[at], replace(self, cursor=None)))
            case Action.BACK:
                return Back()
            case Action.SIDE:
                return TurnTo("working")
            case _:
                return Turn(replace(self, cursor=moved(self._at(board), action, len(board), desk.room)))

    def choose(self, desk: Desk, number: int) -> Move:
        """A digit chooses."""
        return Turn(replace(self, cursor=numbered(number, len(desk.procedure.states))))


def _row(state: StateView, told: bool) -> Row:
    """A state; what it was before is told where it can be confirmed, and only there."""
    row = state_row(state)
    return (
        row._replace(text=say("{state}; it was {before}", state=row.text, before=state.before))
        if told and state.before and not state.known
        else row
    )


def _values(tracked: TrackedState, board: StatesPage) -> Page:
    def seen(desk: Desk, value: str) -> Move:
        def looked(_: Desk, name: str) -> Move:
            return Send(LookAt(name, tracked.name, value), replace(board, looker=name))

        return who(
            desk, say("{label}: {value}. Who looked?", label=tracked.label, value=value), looked, first=board.looker
        )

    rows = tuple(Row(value) for value in tracked.of)
    moves = tuple(partial(seen, value=value) for value in tracked.of)
    above = (Say(say("You have looked at it yourself, now. What do you see?")),)
    return MenuPage(say("{label}: what do you see?", label=tracked.label), rows, moves, above)


def opened(_: Desk) -> Page:
    """The page as it is turned to from the values."""
    return StatesPage()
