"""A run that does not go on: paused, stopped and made safe, or found interrupted. Nothing goes on but by Enter here.

Coming back, the next intention stands large; after resuming, what may have changed is to be looked at, one by one.
"""

# ruff: noqa: ARG002 - every page answers the same calls, whether or not it needs all that comes with them

from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import partial

from runner.engine.decisions.check import same_person
from runner.engine.intents import DoSafeAct, MakeSafe, Resume, SkipSafeAct
from runner.say.text import say
from runner.screen import words
from runner.screen.blocks import Big, Block, Gap, Ink, Row, Rows, Say, Sheet
from runner.screen.desk import Desk, Move, Open, Page, Reset, Send, Stay, Tell, Turn, moved, numbered
from runner.screen.keys import Action
from runner.screen.marks import NOT_NEEDED, TICKED, UNTICKED
from runner.screen.pages.confirm import ConfirmPage
from runner.screen.pages.form import FormPage, Question
from runner.screen.pages.pause import abandon, what_is_open
from runner.screen.pages.states import StatesPage
from runner.screen.pages.who import people, who


@dataclass(frozen=True, slots=True)
class HaltedPage(Page):
    """The chosen row of the make-safe list, and who works through it."""

    cursor: int | None = None
    stopper: str = ""
    """Who stopped and does the acts, once it was asked: stopping itself waits for no question."""

    def show(self, desk: Desk) -> Sheet:
        """Why the run stands, and what to do."""
        if desk.state.halted == "make-safe":
            return self._safe(desk)
        state, blocks = desk.state, list[Block]()
        paused = state.halted == "pause"
        if paused:
            blocks += [Big(say("Next I will"), state.intention or say("(nothing was said)")), Gap()]
        else:
            blocks += [Say(say("The program had ended while this run was open."), ink=Ink.ABNORMAL)]
        if desk.kept:
            blocks.append(Say(desk.kept, say("last kept"), Ink.STRONG))
        if not paused or desk.kept:
            blocks.append(Gap())
        blocks += [*what_is_open(desk), Gap()]
        blocks.append(
            Say(say("After resuming, what may have changed meanwhile counts as unknown until somebody looks."))
        )
        hint = say("Was work done on paper meanwhile? Leave, then resume with --from-paper: each act gets its time.")
        blocks.append(Say(hint, ink=Ink.QUIET))
        when = state.last.utc[:19].replace("T", " ") if state.last else ""
        if paused:
            title = say("PAUSED at {time} UTC", time=when) if when else say("PAUSED")
        else:
            title = say("INTERRUPTED: last kept at {time} UTC", time=when) if when else say("INTERRUPTED: last kept")
        return Sheet("halted", title, tuple(blocks), say("resume"), "resume", subject=title, loud=True)

    def _safe(self, desk: Desk) -> Sheet:
        state = desk.state
        rows = [
            Row(act, UNTICKED, ink=Ink.STRONG)
            if at in state.safe_acts_open
            else Row(act, TICKED, ink=Ink.QUIET)
            if at in state.safe_acts_done
            else Row(say("{act}  (not needed)", act=act), NOT_NEEDED, ink=Ink.QUIET)
            for at, act in enumerate(state.safe_acts)
        ]
        blocks: list[Block] = [
            Say(
                say("Do these acts now, in this order, each ticked when it is done. This program moves nothing."),
                ink=Ink.STRONG,
            ),
        ]
        if not rows:
            blocks.append(
                Say(say("The procedure lists no acts. Stop and make safe by the posted rules."), ink=Ink.ABNORMAL)
            )
        rows += [
            Row(say("Go on with the run, as after a pause"), "   "),
            Row(say("Abandon: end the run unfinished"), "   "),
        ]
        if state.safe_acts_open:
            rows.append(Row(say("An act is not needed: say which, and why"), "   "))
        at = self._at(desk)
        blocks += [Gap(), Rows(tuple(rows), at, numbered=True)]
        go = say("choose first") if at is None else say("tick it") if at < len(state.safe_acts) else say("take it")
        subject = f"safe/{len(state.safe_acts_open)}/{self.cursor}"
        word = "tick" if at is not None and at < len(state.safe_acts) else "go"
        return Sheet("halted", say("STOP, MAKE SAFE"), tuple(blocks), go, word, subject=subject, loud=True)

    def _at(self, desk: Desk) -> int | None:
        if self.cursor is not None:
            return self.cursor
        return next(iter(desk.state.safe_acts_open), None)

    def go(self, desk: Desk, typed: str) -> Move:
        """Tick an act, resume or abandon."""
        if desk.state.halted != "make-safe":
            return self._resume(desk)
        at = self._at(desk)
        if at is None:
            return Tell(say(words.PICK))
        if self.stopper or len(people(desk)) < 2:
            return self._take(desk, at, self.stopper or desk.person)
        return who(desk, say("Who stopped the press, and does these acts?"), partial(self._stopped, at=at))

    def _stopped(self, desk: Desk, name: str, at: int) -> Move:
        """Stopping was put down at once, under the name of who has the list; where it was another, that is kept too."""
        page = replace(self, stopper=name)
        if not same_person(name, desk.person) and not desk.state.safe_acts_done:
            return Send(MakeSafe(name, words.STOPPED), replace(page, cursor=at), after="reset")
        return page._take(desk, at, name) if at < len(desk.state.safe_acts) else Reset(page)

    def _take(self, desk: Desk, at: int, name: str) -> Move:
        acts = len(desk.state.safe_acts)
        if at < acts:
            return Send(DoSafeAct(name, at), replace(self, cursor=None), after="reset")
        if at == acts:
            return self._resume(desk)
        return abandon(desk) if at == acts + 1 else self._not_needed(desk, name)

    def _not_needed(self, desk: Desk, name: str) -> Move:
        """Which act, and why."""
        numbers = desk.state.safe_acts_open
        acts = tuple(desk.state.safe_acts[number] for number in numbers)

        def skipped(_: Desk, answers: tuple[str, ...]) -> Move:
            number = numbers[acts.index(answers[0])]
            return Send(SkipSafeAct(name, number, answers[1]), replace(self, cursor=None), after="reset")

        questions = (Question(say("Which act is not needed?"), acts), Question(say("Why is it not needed?")))
        return Open(FormPage(say("An act is not needed"), questions, skipped, last=say("keep it")))

    def _resume(self, desk: Desk) -> Move:
        def resumed(_: Desk, name: str) -> Move:
            return Send(Resume(name), StatesPage(resumed=True, looker=name))

        def whom(d: Desk) -> Move:
            return who(d, say("Who resumes the run?"), resumed, first=self.stopper)

        return Open(_left_open(desk, whom)) if desk.state.safe_acts_open else whom(desk)

    def press(self, desk: Desk, action: Action) -> Move:
        """Arrows choose."""
        if desk.state.halted != "make-safe":
            return Stay()
        return Turn(replace(self, cursor=moved(self._at(desk), action, self._rows(desk))))

    def choose(self, desk: Desk, number: int) -> Move:
        """A digit chooses."""
        if desk.state.halted != "make-safe":
            return Stay()
        return Turn(replace(self, cursor=numbered(number, self._rows(desk))))

    def _rows(self, desk: Desk) -> int:
        return len(desk.state.safe_acts) + 2 + bool(desk.state.safe_acts_open)


def _left_open(desk: Desk, move: Callable[[Desk], Move]) -> Page:
    """Whoever goes on while acts are open may be another than the one who stopped, at another terminal."""
    acts = tuple(Row(desk.state.safe_acts[at], UNTICKED, ink=Ink.ABNORMAL) for at in desk.state.safe_acts_open)
    blocks = (
        Say(say("Somebody stopped the press, and these acts are not ticked:"), ink=Ink.STRONG),
        Gap(),
        Rows(acts),
        Gap(),
        Say(say("Ask who stopped. Go on only where everybody at the press knows why, and that it is over.")),
    )
    return ConfirmPage(say("GO ON WITH ACTS LEFT OPEN?"), blocks, say("it is over"), move)
