"""The record could not be written: said large, and nothing is accepted any more."""

# ruff: noqa: ARG002 - every page answers the same calls, whether or not it needs all that comes with them

from dataclasses import dataclass

from runner.say.text import say
from runner.screen import words
from runner.screen.blocks import Big, Gap, Ink, Say, Sheet
from runner.screen.desk import Desk, Leave, Move, Page


@dataclass(frozen=True, slots=True)
class BrokenPage(Page):
    """`why` is what the record said."""

    why: str = ""

    def show(self, desk: Desk) -> Sheet:
        """What happened and what to do."""
        blocks = (
            Big(say("STOP"), say(words.BROKEN)),
            Gap(),
            Say(say(words.BROKEN_WHAT), ink=Ink.STRONG),
            Gap(),
            Say(self.why, say("why"), Ink.ABNORMAL),
            Say(desk.path, say("record")),
        )
        return Sheet("broken", say(words.BROKEN), blocks, say("leave"), "leave", subject="broken", loud=True)

    def go(self, desk: Desk, typed: str) -> Move:
        """Leave."""
        return Leave()
