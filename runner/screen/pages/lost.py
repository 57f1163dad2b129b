"""The terminal that kept the record is gone: said large, with the two ways on, to take the run over or to leave it.

Stopping takes the run over at once, as every act does. Nothing that was told as kept is lost by any of this.
"""

# ruff: noqa: ARG002 - every page answers the same calls, whether or not it needs all that comes with them

from dataclasses import dataclass

from runner.engine.intents import Resume
from runner.say.text import say
from runner.screen.blocks import Big, Block, Gap, Ink, Say, Sheet
from runner.screen.desk import Desk, Leave, Move, Page, Send, Stay
from runner.screen.keys import Action


@dataclass(frozen=True, slots=True)
class LostPage(Page):
    """Nobody keeps the record now."""

    def show(self, desk: Desk) -> Sheet:
        """What happened, what is sure, and what can be done."""
        title = say("NOBODY KEEPS THE RECORD")
        blocks: tuple[Block, ...] = (
            Big(say("LOST"), desk.lost),
            Gap(),
            Say(
                say("What you were told was kept is kept. Nothing is accepted until somebody takes the run over."),
                ink=Ink.STRONG,
            ),
            Gap(),
            Say(
                say("{enter} takes it over: this terminal keeps the record from then on.", enter=desk.enter("over")),
                say("go on"),
            ),
            Say(say("{key} takes it over and stops.", key=desk.cap(Action.SAFE)), say("stop")),
            Say(say("{key} leaves; the run stays open at this place.", key=desk.cap(Action.BACK)), say("leave")),
            Gap(),
            Say(desk.path, say("record"), Ink.QUIET),
        )
        return Sheet("lost", title, blocks, say("take over"), "over", subject="lost", loud=True)

    def go(self, desk: Desk, typed: str) -> Move:
        """Take the run over. It is found interrupted then, and resumed with a key of its own."""
        return Send(Resume(desk.person))

    def press(self, desk: Desk, action: Action) -> Move:
        """Leave."""
        return Leave() if action is Action.BACK else Stay()
