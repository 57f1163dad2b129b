"""The run has ended: how, the head code of its record, and how to read it."""

# ruff: noqa: ARG002 - every page answers the same calls, whether or not it needs all that comes with them

from dataclasses import dataclass
from shlex import quote

from runner.engine.decisions.identity import crew_words
from runner.say.text import say, say_as, say_n
from runner.screen.blocks import Big, Block, Gap, Ink, Say, Sheet
from runner.screen.desk import Desk, Leave, Move, Page
from runner.screen.keys import Action
from runner.screen.words import head_words


@dataclass(frozen=True, slots=True)
class OverPage(Page):
    """Finished or abandoned."""

    def show(self, desk: Desk) -> Sheet:
        """What a person writes into the shift book."""
        state = desk.state
        blocks: list[Block] = [Big(say_as("heading", "run"), f"{state.run}: {say(state.outcome)}"), Gap()]
        if desk.head:
            blocks.append(Say(head_words(desk.head), say("head code"), Ink.STRONG))
            blocks.append(
                Say(say("Write it down: a record that was changed afterwards has another one."), "", Ink.QUIET)
            )
        review = say("{key}: decide about exceptions and sign the record.", key=desk.cap(Action.UNEXPECTED))
        blocks.append(Say(review, say("review")))
        if state.open_exceptions:
            blocks += [
                Gap(),
                Say(
                    say_n("{n} exception is open.", "{n} exceptions are open.", len(state.open_exceptions)),
                    say("open"),
                    Ink.ABNORMAL,
                ),
            ]
            blocks += [Say(f"{noted.number}, {noted.severity}: {noted.words}") for noted in state.open_exceptions]
            if state.mode == "live" and not state.played:
                stays = say("They stay open for this press and are read at the start of its next run.")
                blocks.append(Say(stays, "", Ink.QUIET))
        blocks += [
            Gap(),
            Say(f"changeover report {quote(desk.path or state.run)}", say("report")),
            Say(f"changeover verify {quote(desk.path or state.run)}", say("verify")),
        ]
        if state.identity:
            blocks.append(Say(crew_words(state), say("people"), Ink.QUIET))
        title = say("FINISHED") if state.outcome == "finished" else say("ENDED UNFINISHED")
        named = ((Action.UNEXPECTED, say("review")),)
        return Sheet("over", title, tuple(blocks), say("leave"), "leave", subject="over", named=named)

    def go(self, desk: Desk, typed: str) -> Move:
        """Leave."""
        return Leave()
