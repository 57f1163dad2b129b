"""Help: what the program is and is not, and the table of keys."""

# ruff: noqa: ARG002 - every page answers the same calls, whether or not it needs all that comes with them

from dataclasses import dataclass

from runner.engine.state import StepStatus
from runner.screen import words
from runner.screen.blocks import Block, Fact, Facts, Gap, Heading, Say, Sheet
from runner.screen.desk import Back, Desk, Move, Page, Stay
from runner.screen.keys import KEYS, Action
from runner.screen.marks import HOLD, MARKS


@dataclass(frozen=True, slots=True)
class HelpPage(Page):
    """Text; arrows scroll it."""

    def show(self, desk: Desk) -> Sheet:
        """The usual cautions, the keys, the marks."""
        blocks: list[Block] = [Say(words.AID), Say(words.FIRST), Say(words.CONFIRM), Gap(), Heading("Keys")]
        blocks.append(Facts(tuple(Fact(f"{key.cap}  {key.label}", key.help) for key in KEYS)))
        marks = tuple(Fact(MARKS[status], status.value) for status in StepStatus)
        blocks += [
            Gap(),
            Heading("Marks"),
            Facts((*marks, Fact(HOLD, "the step has a hold: another person releases it"))),
        ]
        return Sheet("help", "Help", tuple(blocks), "back", "back", subject="help")

    def go(self, desk: Desk, typed: str) -> Move:
        """Back."""
        return Back()

    def press(self, desk: Desk, action: Action) -> Move:
        """Back."""
        return Back() if action is Action.BACK else Stay()


def opened(_: Desk) -> Page:
    """The page as its key opens it."""
    return HelpPage()
