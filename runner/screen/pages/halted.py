"""A run that does not go on: paused, stopped and made safe, or found interrupted. Nothing goes on but by Enter here.

Coming back, the next intention stands large; after resuming, what may have changed is to be looked at, one by one.
"""

# ruff: noqa: ARG002 - every page answers the same calls, whether or not it needs all that comes with them

from dataclasses import dataclass, replace

from runner.engine.intents import DoSafeAct, Resume
from runner.screen import words
from runner.screen.blocks import Big, Block, Gap, Ink, Row, Rows, Say, Sheet
from runner.screen.desk import Desk, Move, Open, Page, Send, Stay, Tell, Turn, moved, numbered
from runner.screen.keys import Action
from runner.screen.marks import TICKED, UNTICKED
from runner.screen.pages.pause import abandon, what_is_open
from runner.screen.pages.states import StatesPage


@dataclass(frozen=True, slots=True)
class HaltedPage(Page):
    """The chosen row of the make-safe list."""

    cursor: int | None = None

    def show(self, desk: Desk) -> Sheet:
        """Why the run stands, and what to do."""
        if desk.state.halted == "make-safe":
            return self._safe(desk)
        state, blocks = desk.state, list[Block]()
        paused = state.halted == "pause"
        if paused:
            blocks += [Big("Next I will", state.intention or "(nothing was said)"), Gap()]
        else:
            blocks += [Say("The program had ended while this run was open.", ink=Ink.ABNORMAL), Gap()]
        blocks += [*what_is_open(desk), Gap()]
        blocks.append(Say("After resuming, what may have changed meanwhile counts as unknown until somebody looks."))
        when = f" at {state.last.utc[:19].replace('T', ' ')} UTC" if state.last else ""
        title = f"PAUSED{when}" if paused else f"INTERRUPTED: last kept{when}"
        return Sheet("halted", title, tuple(blocks), "resume", subject=title, loud=True)

    def _safe(self, desk: Desk) -> Sheet:
        state = desk.state
        rows = [
            Row(act, TICKED if at in state.safe_acts_done else UNTICKED,
                ink=Ink.QUIET if at in state.safe_acts_done else Ink.STRONG)
            for at, act in enumerate(state.safe_acts)
        ]  # fmt: skip
        blocks: list[Block] = [
            Say(
                "Do these acts now, in this order, each ticked when it is done. This program moves nothing.",
                ink=Ink.STRONG,
            ),
        ]
        if not rows:
            blocks.append(Say("The procedure lists no acts. Stop and make safe by the posted rules.", ink=Ink.ABNORMAL))
        rows += [Row("Go on with the run, as after a pause", "   "), Row("Abandon: end the run unfinished", "   ")]
        at = self._at(desk)
        blocks += [Gap(), Rows(tuple(rows), at, numbered=True)]
        go = "choose first" if at is None else "tick it" if at < len(state.safe_acts) else "take it"
        subject = f"safe/{len(state.safe_acts_done)}/{self.cursor}"
        return Sheet("halted", "STOP, MAKE SAFE", tuple(blocks), go, subject=subject, loud=True)

    def _at(self, desk: Desk) -> int | None:
        if self.cursor is not None:
            return self.cursor
        return next((at for at in range(len(desk.state.safe_acts)) if at not in desk.state.safe_acts_done), None)

    def go(self, desk: Desk, typed: str) -> Move:
        """Tick an act, resume or abandon."""
        resume = Send(Resume(desk.person), StatesPage(resumed=True))
        if desk.state.halted != "make-safe":
            return resume
        at, acts = self._at(desk), len(desk.state.safe_acts)
        if at is None:
            return Tell(words.PICK)
        if at < acts:
            return Send(DoSafeAct(desk.person, at), HaltedPage(), after="keep")
        return resume if at == acts else Open(abandon())

    def press(self, desk: Desk, action: Action) -> Move:
        """Arrows choose."""
        if desk.state.halted != "make-safe":
            return Stay()
        return Turn(replace(self, cursor=moved(self._at(desk), action, len(desk.state.safe_acts) + 2)))

    def choose(self, desk: Desk, number: int) -> Move:
        """A digit chooses."""
        if desk.state.halted != "make-safe":
            return Stay()
        return Turn(replace(self, cursor=numbered(self.cursor, number, len(desk.state.safe_acts) + 2)))
