"""Something to be read before one key takes it: what will happen stands on the page, Esc leaves it undone."""

# ruff: noqa: ARG002 - every page answers the same calls, whether or not it needs all that comes with them

from collections.abc import Callable
from dataclasses import dataclass

from runner.screen.blocks import Block, Sheet
from runner.screen.desk import Back, Desk, Move, Page, Stay
from runner.screen.keys import Action


@dataclass(frozen=True, slots=True)
class ConfirmPage(Page):
    """What will happen, and the Move that makes it happen."""

    title: str
    blocks: tuple[Block, ...]
    label: str
    move: Callable[[Desk], Move]
    page: str = "form"
    word: str = "go"
    """For plain mode."""

    def show(self, desk: Desk) -> Sheet:
        """The text."""
        return Sheet(self.page, self.title, self.blocks, self.label, self.word, subject=self.title)

    def go(self, desk: Desk, typed: str) -> Move:
        """Do it."""
        return self.move(desk)

    def press(self, desk: Desk, action: Action) -> Move:
        """Esc leaves."""
        return Back() if action is Action.BACK else Stay()
