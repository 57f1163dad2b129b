"""The second look: another person answers for themselves with the first answers hidden, or agrees with what they see."""

from runner.engine.intents import GiveSecondLook, NameSecond
from runner.engine.shown import prompt_for
from runner.say.text import mark, say
from runner.screen.blocks import Block, Ink, Say
from runner.screen.desk import Desk, Move, Page, Send
from runner.screen.pages.form import FormPage, Question
from runner.screen.pages.path import path_words
from runner.screen.pages.step import act_block, answer_blocks, caution_blocks
from runner.screen.practice import to_look_at
from runner.screen.view import StepView

ALL, NOT_ALL = mark("all of them, in this order"), mark("not so")
"""What a second person says of a threaded web path."""


def second_look(desk: Desk, step: StepView) -> Page:
    """The page for the second person; the first answers are on it only where both look together."""
    asks = [ask for ask in step.step.asks if ask.kind != "wait"]
    alone = step.step.second is not None and step.step.second.how == "independent"
    questions = [Question(say("Your name ({role})", role=step.second))]
    names: list[str] = []
    if alone:
        for ask in asks:
            prompt = prompt_for(desk.procedure, desk.state, ask)
            if prompt.shape == "ticks":
                prompt = prompt._replace(choices=(say(ALL), say(NOT_ALL)))
            shown = prompt.limits if not ask.match else ""  # what must be found is not there to be copied
            limits = say("allowed: {limits}", limits=shown) if shown else ""
            questions.append(Question(prompt.question, prompt.choices, prompt.unit, limits))
            names.append(ask.name)
    told = (
        say("Look for yourself; the first answers are not shown.")
        if alone
        else say("Look together; with your name you agree.")
    )
    above: list[Block] = [*caution_blocks(step), act_block(step), Say(told, say("second"), Ink.STRONG)]
    above += [Say(path_words(ask), say("path"), Ink.STRONG) for ask in asks if ask.kind == "thread"]
    above += to_look_at(desk, step.step)
    if not alone:
        above += answer_blocks(step)

    def looked(_: Desk, answers: tuple[str, ...]) -> Move:
        ticks = {ask.name for ask in asks if ask.kind == "thread"}
        given = tuple(
            (name, ("all" if answer == say(ALL) else "0") if name in ticks else answer)
            for name, answer in zip(names, answers[1:], strict=True)
        )
        return Send(GiveSecondLook(answers[0], step.step.id, given))

    title = say("Second look at step {number}", number=step.step.number)
    if not alone:
        return FormPage(title, tuple(questions), looked, tuple(above), last=say("I have looked"))

    def named(_: Desk, answers: tuple[str, ...]) -> Move:
        """Who may not look is told so before they have typed what they saw."""
        page = FormPage(title, tuple(questions), looked, tuple(above), answers, last=say("I have looked"))
        return Send(NameSecond(answers[0], step.step.id), page, after="keep")

    return FormPage(title, tuple(questions[:1]), named, tuple(above), last=say("next"))
