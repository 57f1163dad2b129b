"""The place list: all steps with mark and word, looked through freely without losing the place or changing anything.

From a step that is looked at, what is possible there is offered: go back to it, correct an answer, leave it out.
"""

# ruff: noqa: ARG002 - every page answers the same calls, whether or not it needs all that comes with them

from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import partial

from runner.engine import flow
from runner.engine.intents import CorrectAnswer, GoBack, LeaveOut
from runner.engine.shown import doer, role_label
from runner.engine.state import NotedException, RunState
from runner.procedure.model import Step
from runner.say.text import say
from runner.screen.blocks import Block, Gap, Ink, Row, Rows, Say, Sheet
from runner.screen.desk import Back, Desk, Move, Open, Page, Send, Turn, moved
from runner.screen.keys import Action
from runner.screen.pages.confirm import ConfirmPage
from runner.screen.pages.form import FormPage, Question
from runner.screen.pages.menu import MenuPage
from runner.screen.pages.step import act_block, answer_blocks, caution_blocks, remarks
from runner.screen.pages.unexpected import close_exception
from runner.screen.pages.who import who
from runner.screen.places import here, outline, window
from runner.screen.view import step_view


@dataclass(frozen=True, slots=True)
class PlacesPage(Page):
    """The step that is looked at in the list; None: the one that is up."""

    cursor: int | None = None
    lane: int = 0

    def show(self, desk: Desk) -> Sheet:
        """As many rows as there is room for."""
        at = self._at(desk)
        first, rows = window(desk.procedure, desk.state, at, max(3, desk.room - 3))
        spot = outline(desk.procedure).spots[at] if rows else None
        phase = desk.procedure.phases[spot.phase].name if spot else ""
        blocks: tuple[Block, ...] = (
            Say(say("Phase {place}: {name}", place=spot.phase + 1 if spot else 0, name=phase), ink=Ink.STRONG),
            Rows(rows, at - first),
        )
        count = len(outline(desk.procedure).spots)
        title = say("Steps: {place} of {count}. Looking about changes nothing", place=at + 1, count=count)
        alone = () if len(desk.state.position.cursors) > 1 else (Action.SIDE,)
        return Sheet("places", title, blocks, say("look at it"), "look", without=alone, subject="places")

    def _at(self, desk: Desk) -> int:
        return here(desk.procedure, desk.state, desk.lane) if self.cursor is None else self.cursor

    def go(self, desk: Desk, typed: str) -> Move:
        """Look at the step."""
        spots = outline(desk.procedure).spots
        return Open(look(desk, spots[self._at(desk)].step)) if spots else Back()

    def press(self, desk: Desk, action: Action) -> Move:
        """Arrows look about; Tab jumps to the step that is up in the other list."""
        count = len(outline(desk.procedure).spots)
        match action:
            case Action.BACK:
                return Back()
            case Action.SIDE:
                lane = (self.lane + 1) % max(1, len(desk.state.position.cursors))
                return Turn(PlacesPage(here(desk.procedure, desk.state, lane), lane))
            case _:
                return Turn(replace(self, cursor=moved(self._at(desk), action, count, desk.room - 4)))


def look(desk: Desk, step: Step) -> Page:
    """A step that is looked at, and what is possible there."""
    seen = step_view(desk.procedure, desk.state, step, desk.now)
    blocks: list[Block] = [*caution_blocks(seen), act_block(seen), *remarks(seen), *answer_blocks(seen)]
    if step.explain:
        blocks.append(Say(step.explain, say("more"), Ink.QUIET))
    rows: list[Row] = []
    moves: list[Callable[[Desk], Move]] = []
    at = flow.find(desk.procedure, desk.state.position, step.id)
    cursor = None if at is None else desk.state.position.cursors[at[0]]
    if at is not None and cursor is not None and not desk.state.halted:
        if at[1] < cursor.step or (at[1] == cursor.step and cursor.begun):
            rows.append(Row(say("Go back to this step; steps from here are to be done again")))
            moves.append(lambda _: Open(_go_back(step)))
        if at[1] == cursor.step and not cursor.begun and step.optional:
            rows.append(Row(say("Leave this step out")))
            moves.append(lambda d: Open(_leave_out(d, step)))
    for ask in step.asks:
        known = desk.state.values.get(ask.name)
        if known is not None and known.source == step.id and not known.stale and known.verdict != "hidden":
            rows.append(Row(say("Correct: {ask} {shown}", ask=ask.ask, shown=known.shown)))
            moves.append(partial(_correct, step=step, name=ask.name, question=ask.ask, old=known.shown))
    if at is None and seen.old:
        for noted in late_exceptions(desk.state, step.id):
            rows.append(
                Row(say("Say what was decided about this step, and close exception {number}", number=noted.number))
            )
            moves.append(partial(close_exception, noted=noted))
    title = say("LOOKING at step {number}; your place is kept", number=step.number)
    if not rows:
        return ConfirmPage(title, tuple(blocks), say("back"), lambda _: Back(), page="places", word="back")
    return MenuPage(title, tuple(rows), tuple(moves), tuple(blocks))


def late_exceptions(state: RunState, step_id: str) -> tuple[NotedException, ...]:
    """Open exceptions that ask what becomes of a step after a late correction."""
    asked = {number for _, number in state.record(step_id).old}
    return tuple(noted for noted in state.open_exceptions if noted.number in asked)


def _go_back(step: Step) -> Page:
    def back(desk: Desk, answers: tuple[str, ...]) -> Move:
        return Send(GoBack(doer(desk.state, step) or desk.person, step.id, answers[0]))

    above = (
        Say(
            say(
                "The list goes on from step {number}. What was done from there is to be done again.", number=step.number
            ),
            ink=Ink.ABNORMAL,
        ),
    )
    return FormPage(
        say("Go back to step {number}", number=step.number), (Question(say("Why?")),), back, above, last=say("go back")
    )


def _leave_out(desk: Desk, step: Step) -> Page:
    def left(d: Desk, answers: tuple[str, ...]) -> Move:
        return Send(LeaveOut(doer(d.state, step), step.id, answers[0], answers[1] if len(answers) > 1 else ""))

    questions = [Question(say("Why is it left out?"))]
    if step.optional != "reason":
        questions.append(Question(say("Who agrees ({role})", role=role_label(desk.procedure, step.optional))))
    return FormPage(
        say("Leave out step {number}", number=step.number), tuple(questions), left, last=say("leave it out")
    )


def _correct(_: Desk, step: Step, name: str, question: str, old: str) -> Move:
    def corrected(d: Desk, answers: tuple[str, ...]) -> Move:
        return who(d, say("Who corrects what was given at step {number}?", number=step.number),
                   lambda _, person: Send(CorrectAnswer(person, step.id, name, answers[0], answers[1])),
                   first=doer(d.state, step))  # fmt: skip

    ask = next(ask for ask in step.asks if ask.name == name)
    first = (
        Question(question, choices=ask.of)
        if ask.kind == "choose"
        else Question(question, unit=ask.unit.text if ask.unit else "")
    )
    above = (Say(say("Given before: {old}. It stays on record.", old=old), ink=Ink.QUIET), Gap())
    return Open(
        FormPage(
            say("Correct an answer"),
            (first, Question(say("Why is it corrected?"))),
            corrected,
            above,
            last=say("correct it"),
        )
    )


def opened(_: Desk) -> Page:
    """The page as its key opens it."""
    return PlacesPage()
