"""A list of which one thing is picked: its number or the arrows, then Enter. Nothing is chosen beforehand."""

# ruff: noqa: ARG002 - every page answers the same calls, whether or not it needs all that comes with them

from collections.abc import Callable
from dataclasses import dataclass, replace

from runner.say.text import say
from runner.screen import words
from runner.screen.blocks import Block, Gap, Row, Rows, Sheet
from runner.screen.desk import Back, Desk, Move, Page, Tell, Turn, moved, numbered
from runner.screen.keys import Action


@dataclass(frozen=True, slots=True)
class MenuPage(Page):
    """Rows, and for each the Move that it leads to."""

    title: str
    rows: tuple[Row, ...]
    moves: tuple[Callable[[Desk], Move], ...]
    above: tuple[Block, ...] = ()
    cursor: int | None = None
    page: str = "form"

    def show(self, desk: Desk) -> Sheet:
        """The list."""
        listed = Rows(self.rows, self.cursor, numbered=True)
        blocks = (*self.above, Gap(), listed) if self.above else (listed,)
        return Sheet(self.page, self.title, blocks, say("take it"), subject=self.title)

    def go(self, desk: Desk, typed: str) -> Move:
        """The chosen row's Move."""
        if self.cursor is None:
            return Tell(say(words.PICK))
        return self.moves[self.cursor](desk)

    def press(self, desk: Desk, action: Action) -> Move:
        """Arrows choose, Esc leaves."""
        if action is Action.BACK:
            return Back()
        return Turn(replace(self, cursor=moved(self.cursor, action, len(self.rows), desk.room)))

    def choose(self, desk: Desk, number: int) -> Move:
        """A digit chooses; Enter takes it."""
        return Turn(replace(self, cursor=numbered(number, len(self.rows))))
