"""The end of the work: what is still missing as a list, then the person who ends the run says so."""

# ruff: noqa: ARG002 - every page answers the same calls, whether or not it needs all that comes with them

from dataclasses import dataclass

from runner.engine.decisions.run import missing_to_finish
from runner.engine.intents import Finish
from runner.say.text import say, say_n
from runner.screen.blocks import Block, Gap, Ink, Row, Rows, Say, Sheet
from runner.screen.desk import Desk, Move, Page, Send
from runner.screen.keys import Action


@dataclass(frozen=True, slots=True)
class FinishPage(Page):
    """All phases have ended; the run has not."""

    def show(self, desk: Desk) -> Sheet:
        """What is missing, or that nothing is."""
        rows = tuple(Row(text, " ! ", ink=Ink.ABNORMAL) for text in missing_to_finish(desk.procedure, desk.state))
        blocks: list[Block] = [Say(say("Every list of every phase has ended."), ink=Ink.STRONG), Gap()]
        if rows:
            blocks += [Say(say("Still missing before the run may be finished:")), Rows(rows), Gap()]
            blocks.append(
                Say(
                    say(
                        "States: {working}, {side}. Exceptions: {unexpected}. Steps: {places}.",
                        working=desk.cap(Action.WORKING),
                        side=desk.cap(Action.SIDE),
                        unexpected=desk.cap(Action.UNEXPECTED),
                        places=desk.cap(Action.PLACES),
                    )
                )
            )
        else:
            blocks.append(
                Say(
                    say(
                        "Nothing is missing. With {enter} you say that the work is done as written.",
                        enter=desk.enter("finish"),
                    )
                )
            )
        still = [noted for noted in desk.state.open_exceptions if not noted.keeps]
        if still:
            stay = say_n(
                "{n} exception stays open, carried into the report.",
                "{n} exceptions stay open, carried into the report.",
                len(still),
            )
            blocks += [Gap(), Say(stay, say("open"))]
        return Sheet("finish", say("Finish"), tuple(blocks), say("FINISH"), "finish", subject=f"finish{len(rows)}")

    def go(self, desk: Desk, typed: str) -> Move:
        """End the run; the engine refuses while something is missing."""
        return Send(Finish(desk.person), after="keep")
