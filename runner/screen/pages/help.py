"""Help: what the program is and is not, and the table of keys."""

# ruff: noqa: ARG002 - every page answers the same calls, whether or not it needs all that comes with them

from dataclasses import dataclass
from shlex import quote

from runner.engine.state import StepStatus
from runner.say.text import say
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
        blocks: list[Block] = [
            Say(say(words.AID)),
            Say(say(words.FIRST)),
            Say(say(words.CONFIRM)),
            Gap(),
            Heading(say("Keys")),
        ]
        blocks.append(Facts(tuple(Fact(f"{key.cap}  {say(key.label)}", say(key.help)) for key in KEYS)))
        marks = tuple(Fact(MARKS[status], say(status.value)) for status in StepStatus)
        blocks += [
            Gap(),
            Heading(say("Marks")),
            Facts((*marks, Fact(HOLD, say("the step has a hold: another person releases it")))),
        ]
        if desk.path:
            told = say(
                "A second terminal shares this run with: {command}", command=f"changeover join {quote(desk.path)}"
            )
            blocks += [Gap(), Heading(say("Two terminals")), Say(told)]
        return Sheet("help", say("Help"), tuple(blocks), say("back"), "back", subject="help")

    def go(self, desk: Desk, typed: str) -> Move:
        """Back."""
        return Back()

    def press(self, desk: Desk, action: Action) -> Move:
        """Back."""
        return Back() if action is Action.BACK else Stay()


def opened(_: Desk) -> Page:
    """The page as its key opens it."""
    return HelpPage()
