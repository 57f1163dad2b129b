"""The end of the work: what is still missing as a list, then the person who ends the run says so."""

# ruff: noqa: ARG002 - every page answers the same calls, whether or not it needs all that comes with them

from dataclasses import dataclass

from runner.engine import flow
from runner.engine.intents import Finish
from runner.screen.blocks import Block, Gap, Ink, Row, Rows, Say, Sheet
from runner.screen.desk import Desk, Move, Page, Send
from runner.screen.keys import Action


@dataclass(frozen=True, slots=True)
class FinishPage(Page):
    """All phases have ended; the run has not."""

    def show(self, desk: Desk) -> Sheet:
        """What is missing, or that nothing is."""
        rows = missing_rows(desk)
        blocks: list[Block] = [Say("Every list of every phase has ended.", ink=Ink.STRONG), Gap()]
        if rows:
            blocks += [Say("Still missing before the run may be finished:"), Rows(rows), Gap()]
            blocks.append(
                Say(
                    f"States: {desk.cap(Action.WORKING)}, {desk.cap(Action.SIDE)}. "
                    f"Exceptions: {desk.cap(Action.UNEXPECTED)}. Steps: {desk.cap(Action.PLACES)}."
                )
            )
        else:
            blocks.append(Say("Nothing is missing. With Enter you say that the work is done as written."))
        still = [noted for noted in desk.state.open_exceptions if not noted.blocking]
        if still:
            blocks += [Gap(), Say(f"{len(still)} exceptions stay open and are carried into the report.", "open")]
        return Sheet("finish", "Finish", tuple(blocks), "FINISH", subject=f"finish{len(rows)}")

    def go(self, desk: Desk, typed: str) -> Move:
        """End the run; the engine refuses while something is missing."""
        return Send(Finish(desk.person), after="keep")


def missing_rows(desk: Desk) -> tuple[Row, ...]:
    """States that are not at their end value, and exceptions that keep the run open."""
    rows = [
        Row(flow.need_words(desk.procedure.states[at], value, desk.state.position.states[at]), " ! ", ink=Ink.ABNORMAL)
        for at, value in flow.missing_at_end(desk.procedure, desk.state.position)
    ]
    rows += [
        Row(f"exception {noted.number} is open: {noted.words}", " ! ", ink=Ink.ABNORMAL)
        for noted in desk.state.open_exceptions
        if noted.blocking
    ]
    return tuple(rows)
