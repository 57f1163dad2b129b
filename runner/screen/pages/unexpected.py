"""Not as expected: the author's troubles of the step to pick from, or words for anything else; open exceptions closed.

A trouble is shown with what to do and where it leads before it is taken, so that the person can disagree. Where there is
nothing to pick from but words of one's own, these are asked for at once.
"""

from collections.abc import Callable
from functools import partial

from runner.engine import flow
from runner.engine.decisions.ticks import threading_of
from runner.engine.intents import CloseException, MeetTrouble, NoteException, TickRoller
from runner.engine.lookup import step_named
from runner.engine.shown import doer, fill_in
from runner.engine.state import EXCEPTION_KINDS, SEVERITIES, NotedException
from runner.procedure.model import Step, Trouble
from runner.say.text import say
from runner.screen.blocks import Block, Gap, Ink, Row, Say
from runner.screen.desk import Desk, Move, Open, Page, Send
from runner.screen.pages.carried import accept_rows, from_words
from runner.screen.pages.confirm import ConfirmPage
from runner.screen.pages.form import FormPage, Question
from runner.screen.pages.menu import MenuPage
from runner.screen.pages.who import who


def opened(desk: Desk) -> Page:
    """What can be said now that is not as expected; after the end, the review."""
    if desk.state.outcome:
        from runner.screen.pages.review import ReviewPage

        return ReviewPage()
    step = step_named(desk.procedure, desk.step_id)
    begun = step is not None and _begun(desk, step)
    rows: list[Row] = []
    moves: list[Callable[[Desk], Move]] = []
    above: list[Block] = []
    if step is not None:
        act, _ = fill_in(desk.state, step.do)
        above.append(Say(act, step.number))
    if step is not None and begun:
        for trouble in step.troubles:
            rows.append(Row(trouble.sign))
            moves.append(partial(_met, step=step, trouble=trouble))
    if step is not None and begun:
        ask, threaded = threading_of(step), desk.state.record(step.id).threaded
        if ask is not None and threaded and ask.name not in desk.state.record(step.id).answers:
            number = len(threaded)
            rows.append(
                Row(say("Take back the last tick: roller {number}, {roller}", number=number, roller=ask.of[number - 1]))
            )
            moves.append(partial(_take_back, step=step, number=number))
    rows.append(Row(say("Something else: note it in your words, the step goes on")))
    moves.append(lambda d: Open(_note(d)))
    for row, move in accept_rows(desk):
        rows.append(row)
        moves.append(move)
    for noted in desk.state.open_exceptions:
        rows.append(
            Row(
                say(
                    "Close exception {number} ({severity}): {words}",
                    number=noted.number,
                    severity=say(noted.severity),
                    words=noted.words,
                )
            )
        )
        moves.append(partial(close_exception, noted=noted))
    if len(rows) == 1:  # nothing to pick from: the words are asked for at once
        return _note(desk, tuple(above))
    return MenuPage(say("Not as expected: what is it?"), tuple(rows), tuple(moves), tuple(above))


def _take_back(desk: Desk, step: Step, number: int) -> Move:
    return Send(TickRoller(doer(desk.state, step), step.id, number, ticked=False))


def _begun(desk: Desk, step: Step) -> bool:
    at = flow.find(desk.procedure, desk.state.position, step.id)
    return at is not None and desk.state.position.cursors[at[0]].begun


def _met(desk: Desk, step: Step, trouble: Trouble) -> Move:
    do, _ = fill_in(desk.state, trouble.do)
    blocks: list[Block] = [
        Say(trouble.sign, say("sign"), Ink.ABNORMAL),
        Gap(),
        Say(do, say("do"), Ink.STRONG),
        Gap(),
        Say(_way_on(desk, trouble), say("then")),
    ]
    intent = MeetTrouble(doer(desk.state, step), step.id, trouble.id or trouble.sign)
    return Open(
        ConfirmPage(say("Trouble at this step"), tuple(blocks), say("yes, this"), lambda _: Send(intent), word="yes")
    )


def _way_on(desk: Desk, trouble: Trouble) -> str:
    match trouble.way_on:
        case "back_to":
            to = step_named(desk.procedure, trouble.back_to)
            return say(
                "the work goes back to step {number}; steps from there are done again",
                number=to.number if to else trouble.back_to,
            )
        case "go_on":
            return say("the work goes on with the next step; what this step should make stays unknown")
        case _:
            return say("stop and make safe")


def _note(desk: Desk, above: tuple[Block, ...] = ()) -> Page:
    step_id, by = desk.step_id, desk.person

    def noted(_: Desk, answers: tuple[str, ...]) -> Move:
        kind, severity, words = answers
        return Send(NoteException(by, step_id, kind, severity, words))

    questions = (
        Question(say("What is it about?"), EXCEPTION_KINDS, ours=True),
        Question(say("How serious?"), SEVERITIES, ours=True),
        Question(say("What is not as expected, in a few words")),
    )
    return FormPage(say("Note an exception"), questions, noted, above, last=say("note it"))


def close_exception(_: Desk, noted: NotedException) -> Move:
    """How it was dealt with, then who dealt with it."""

    def closed(d: Desk, answers: tuple[str, ...]) -> Move:
        return who(d, say("Who dealt with exception {number}?", number=noted.number),
                   lambda _, name: Send(CloseException(name, noted.number, answers[0])))  # fmt: skip

    above = (
        Say(noted.words, f"{noted.number}", Ink.ABNORMAL),
        Say(from_words(noted) if noted.run else f"{noted.by or say('the program')}, {noted.at.utc}", say("noted")),
    )
    return Open(
        FormPage(
            say("Close an exception"), (Question(say("How was it dealt with?")),), closed, above, last=say("close it")
        )
    )
