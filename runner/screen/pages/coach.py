"""The coach's own page in a dry run: questions with what the answer should have, the judgement, and the stop.

What to listen for is shown here alone. In an assessment the questions stay; they are no hints.
"""

from collections.abc import Callable

from runner.procedure.scenarios.model import Question as Asked
from runner.say.text import mark, say
from runner.screen.blocks import Block, Gap, Heading, Ink, Row, Rows, Say
from runner.screen.desk import Back, Desk, Move, Open, Page, Send
from runner.screen.pages.confirm import ConfirmPage
from runner.screen.pages.form import FormPage, Question
from runner.screen.pages.menu import MenuPage

SHARES = {mark("not answered"): 0.0, mark("answered in part"): 0.5, mark("answered, key points and reasons"): 1.0}


def opened(desk: Desk) -> Page:
    """What the coach can do."""
    practice = desk.practice
    if practice is None:
        blocks: tuple[Block, ...] = (Say(say("There is no scenario here, and nobody coaches.")),)
        return ConfirmPage(say("Coach"), blocks, say("back"), lambda _: Back(), word="back")
    rows: list[Row] = []
    moves: list[Callable[[Desk], Move]] = []
    here = practice.questions(desk.step_id)
    for question in (*here, *(one for one in practice.open_questions() if one not in here)):
        when = say("asked here") if question in here else say("for later")
        rows.append(Row(f"{question.ask} ({when})"))
        moves.append(lambda _, question=question: Open(judging(question)))  # type: ignore[misc] # bound to each question
    rows.append(Row(say("Stop the dry run")))
    moves.append(lambda _: Open(stopping()))
    rows.append(Row(say("Back to the step")))
    moves.append(lambda _: Back())
    hints = sum(practice.followed.hints.values())
    above = (
        Say(f"{practice.coach or say('nobody named')}", say("coach")),
        Say(
            say(
                "{hints} levels of hints so far, {unsafe} unsafe acts",
                hints=hints,
                unsafe=len(practice.followed.unsafe),
            ),
            say("so far"),
        ),
    )
    return MenuPage(say("Coach"), tuple(rows), tuple(moves), above)


def judging(asked: Asked) -> Page:
    """Ask, listen, judge."""

    def judged(desk: Desk, answers: tuple[str, ...]) -> Move:
        if desk.practice is None:
            return Back()
        return Send(desk.practice.judged(asked, SHARES[answers[0]], answers[1]))

    above: tuple[Block, ...] = (
        Say(asked.ask, say("ask"), Ink.STRONG),
        Gap(),
        Heading(say("Listen for")),
        Rows(tuple(Row(point) for point in asked.listen_for)),
    )
    questions = (Question(say("The answer was"), tuple(SHARES), ours=True), Question(say("Words"), needed=False))
    return FormPage(say("Explain back"), questions, judged, above, last=mark("keep"))


def stopping() -> Page:
    """Why it is stopped."""

    def stopped(desk: Desk, answers: tuple[str, ...]) -> Move:
        return Send(desk.practice.stopped(answers[0])) if desk.practice is not None else Back()

    above = (Say(say("The dry run ends here. What was done so far is judged."), ink=Ink.ABNORMAL),)
    return FormPage(
        say("Stop the dry run"), (Question(say("Why is it stopped?")),), stopped, above, last=mark("stop it")
    )
