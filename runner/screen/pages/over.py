"""The run has ended: how, the head code of its record, and how to read it."""

# ruff: noqa: ARG002 - every page answers the same calls, whether or not it needs all that comes with them

from dataclasses import dataclass
from shlex import quote

from runner.engine.decisions.identity import crew_words
from runner.report.contents.words import counted
from runner.screen.blocks import Big, Block, Gap, Ink, Say, Sheet
from runner.screen.desk import Desk, Leave, Move, Page
from runner.screen.words import head_words


@dataclass(frozen=True, slots=True)
class OverPage(Page):
    """Finished or abandoned."""

    def show(self, desk: Desk) -> Sheet:
        """What a person writes into the shift book."""
        state = desk.state
        blocks: list[Block] = [Big("run", f"{state.run}: {state.outcome}"), Gap()]
        if desk.head:
            blocks.append(Say(head_words(desk.head), "head code", Ink.STRONG))
            blocks.append(Say("Write it down: a record that was changed afterwards has another one.", "", Ink.QUIET))
        if state.open_exceptions:
            blocks += [
                Gap(),
                Say(
                    f"{counted(len(state.open_exceptions), 'exception is', 'exceptions are')} open.",
                    "open",
                    Ink.ABNORMAL,
                ),
            ]
            blocks += [Say(f"{noted.number}, {noted.severity}: {noted.words}") for noted in state.open_exceptions]
        blocks += [
            Gap(),
            Say(f"changeover report {quote(desk.path or state.run)}", "report"),
            Say(f"changeover verify {quote(desk.path or state.run)}", "verify"),
        ]
        if state.identity:
            blocks.append(Say(crew_words(state), "people", Ink.QUIET))
        title = "FINISHED" if state.outcome == "finished" else "ENDED UNFINISHED"
        return Sheet("over", title, tuple(blocks), "leave", "leave", subject="over")

    def go(self, desk: Desk, typed: str) -> Move:
        """Leave."""
        return Leave()
