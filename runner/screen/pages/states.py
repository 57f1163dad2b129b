"""The state board: what the press is taken for, and where a person says what they see.

After an interruption each state is looked at by itself: the number of what is seen is one key, and nothing else puts it
down, so that whoever has not looked has no key to press. What it was before is told when it has been looked at.
"""

# ruff: noqa: ARG002 - every page answers the same calls, whether or not it needs all that comes with them

from dataclasses import dataclass, replace
from functools import partial

from runner.engine.intents import LookAt
from runner.procedure.model import TrackedState
from runner.say.text import mark, say
from runner.screen import words
from runner.screen.blocks import Big, Block, Gap, Ink, Row, Rows, Say, Sheet
from runner.screen.desk import Back, Desk, Move, Open, Page, Send, Tell, Turn, TurnTo, moved, numbered
from runner.screen.keys import Action
from runner.screen.listed import state_row
from runner.screen.pages.menu import MenuPage
from runner.screen.pages.who import who
from runner.screen.view import StateView, states_view

TITLE = mark("What the press is taken for: you confirm what you see")
QUICK = 9
"""Values up to here have one digit each, which alone puts a look down."""


@dataclass(frozen=True, slots=True)
class StatesPage(Page):
    """`resumed` is true right after the run was taken up again."""

    cursor: int | None = None
    resumed: bool = False
    looker: str = ""
    """Who looked last, asked first next time."""
    seen: int | None = None
    """The value that is picked for the state that is up, where it is to be looked at again."""

    def show(self, desk: Desk) -> Sheet:
        """All tracked states; after an interruption those that are to be looked at, one at a time."""
        board = states_view(desk.procedure, desk.state)
        blocks: list[Block] = []
        if self.resumed and desk.state.intention:
            blocks += [Big(say("Next I will"), desk.state.intention), Gap()]
        at = self._at(board)
        named = ((Action.SIDE, say("values")),)
        if at is not None and _again(board[at]):
            return self._look(desk, board, at, blocks)._replace(named=named)
        if not board:
            blocks.append(Say(say("This procedure tracks no states.")))
        blocks.append(Rows(tuple(state_row(state) for state in board), at, numbered=True))
        go = say("to the step") if self.resumed and at is None else say("say it")
        return Sheet("working", say(TITLE), tuple(blocks), go, subject="states", named=named)

    def _look(self, desk: Desk, board: tuple[StateView, ...], at: int, blocks: list[Block]) -> Sheet:
        """One state and its values, none of them chosen; each look is its own, so that no key for the one before counts."""
        values = desk.procedure.states[at].of
        rest = tuple(state.label for place, state in enumerate(board) if place != at and _again(state))
        quick = len(values) <= QUICK
        told = say("Go and look. The number of what you see puts it down.")
        blocks += [
            Say(told, say("look"), Ink.ABNORMAL),
            Gap(),
            Say(say("{label}: what do you see?", label=board[at].label), ink=Ink.STRONG),
            Rows(tuple(Row(value) for value in values), self.seen, numbered=True),
        ]
        if rest:
            blocks += [Gap(), Say(", ".join(rest), say("then"), Ink.QUIET)]
        go = say("give a number") if self.seen is None else say("say it")
        return Sheet("looks", say(TITLE), tuple(blocks), go, subject=f"looks/{at}", quick=quick)

    def _at(self, board: tuple[StateView, ...]) -> int | None:
        if self.cursor is not None:
            return self.cursor
        return next((at for at, state in enumerate(board) if _again(state)), None)

    def go(self, desk: Desk, typed: str) -> Move:
        """What is seen is put down where it was picked; of a state that is known the values come up."""
        board = states_view(desk.procedure, desk.state)
        at = self._at(board)
        if at is None:
            return Back() if self.resumed or not board else Tell(say(words.PICK))
        if not _again(board[at]):
            return Open(_values(desk.procedure.states[at], replace(self, cursor=None)))
        if self.seen is None:
            return Tell(say("Look, then give the number of what you see. Enter alone confirms nothing."))
        return self._looked(desk, board[at], desk.procedure.states[at].of[self.seen])

    def _looked(self, desk: Desk, state: StateView, value: str) -> Move:
        """The look of the one who looks on this page; asked for once."""
        page = replace(self, cursor=None, seen=None)

        def looked(_: Desk, name: str) -> Move:
            return Send(LookAt(name, state.name, value), replace(page, looker=name))

        if self.looker:
            return looked(desk, self.looker)
        return who(desk, say("{label}: {value}. Who looked?", label=state.label, value=value), looked)

    def press(self, desk: Desk, action: Action) -> Move:
        """Arrows choose a state; Tab shows the values; Esc leaves."""
        board = states_view(desk.procedure, desk.state)
        match action:
            case Action.BACK:
                return Back()
            case Action.SIDE:
                return TurnTo("working")
            case _:
                return Turn(replace(self, cursor=moved(self._at(board), action, len(board), desk.room), seen=None))

    def choose(self, desk: Desk, number: int) -> Move:
        """A digit picks what is seen of the state that is up, else a state."""
        board = states_view(desk.procedure, desk.state)
        at = self._at(board)
        if at is not None and _again(board[at]):
            return Turn(replace(self, cursor=at, seen=numbered(number, len(desk.procedure.states[at].of))))
        return Turn(replace(self, cursor=numbered(number, len(board))))


def _again(state: StateView) -> bool:
    """Whether it was known before an interruption, and nobody has looked since."""
    return bool(state.before) and not state.known


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
