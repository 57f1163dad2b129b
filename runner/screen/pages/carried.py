"""Exceptions that follow the press: what earlier runs here left open is read by name before any step of this run begins.

The page lies beneath all others until somebody has said that they have read it. One that blocks is closed or accepted
on the page for what is not as expected; until then each step says why it may not begin.
"""

# ruff: noqa: ARG002 - every page answers the same calls, whether or not it needs all that comes with them

from collections.abc import Callable
from dataclasses import dataclass
from functools import partial

from runner.engine.decisions.carried import holders, keeps_words
from runner.engine.followed import keeping, unread
from runner.engine.intents import AcceptException, ReadExceptions
from runner.engine.state import NotedException
from runner.say.text import say, say_n
from runner.screen.blocks import Block, Gap, Ink, Row, Say, Sheet
from runner.screen.desk import Desk, Move, Open, Page, Send
from runner.screen.keys import Action
from runner.screen.pages.form import FormPage, Question
from runner.screen.pages.who import who


@dataclass(frozen=True, slots=True)
class CarriedPage(Page):
    """The run has begun; nobody has read yet what is still open at the press."""

    def show(self, desk: Desk) -> Sheet:
        """Each with where it comes from, those that block first."""
        left = unread(desk.state.exceptions)
        count = len(left)
        told = say_n(
            "{n} exception is still open at this press.", "{n} exceptions are still open at this press.", count
        )
        blocks: list[Block] = [Say(told, ink=Ink.STRONG), Say(desk.procedure.equipment, ink=Ink.QUIET), Gap()]
        for noted in sorted(left, key=lambda one: not one.keeps):
            blocks += carried_blocks(desk, noted)
        blocks.append(Gap())
        blocks.append(
            Say(
                say(
                    "No step but a stopping one begins before somebody says that they have read this. Reading closes nothing."
                )
            )
        )
        blocks.append(Say(say("{key} stops and makes safe at any time.", key=desk.cap(Action.SAFE)), ink=Ink.QUIET))
        title = say("STILL OPEN FROM EARLIER RUNS")
        return Sheet("carried", title, tuple(blocks), say("read, go on"), "read", subject=f"carried/{count}", loud=True)

    def go(self, desk: Desk, typed: str) -> Move:
        """Who has read them."""
        return who(desk, say("Who has read what is still open?"), lambda _, name: Send(ReadExceptions(name)))


def carried_blocks(desk: Desk, noted: NotedException) -> tuple[Block, ...]:
    """One of an earlier run: its words, where it comes from, and what is to be done where it blocks."""
    words = f"{noted.number}, {say(noted.severity)}: {noted.words}"
    blocks = [Say(words, say("open"), Ink.ABNORMAL), Say(from_words(noted), say("from"), Ink.QUIET)]
    if noted.keeps:
        blocks.append(Say(keeps_words(desk.procedure, desk.state, noted), say("blocks"), Ink.ABNORMAL))
    return tuple(blocks)


def from_words(noted: NotedException) -> str:
    """The run that left it open, its number there, who noted it and when."""
    when = noted.at.utc[:16].replace("T", " ")
    who_noted = noted.by or say("the program")
    return say(
        "run {run}, exception {number}, noted by {name}, {when} UTC",
        run=noted.run, number=noted.of, name=who_noted, when=when,
    )  # fmt: skip


def accept_rows(desk: Desk) -> tuple[tuple[Row, Callable[[Desk], Move]], ...]:
    """For the page of what is not as expected: each that blocks, to be accepted for this run."""
    found = (noted for noted in keeping(desk.state.exceptions) if noted.read_by and holders(desk.procedure, desk.state))
    return tuple(
        (
            Row(say("Accept exception {number} for this run: {words}", number=noted.number, words=noted.words)),
            partial(_accept, noted=noted),
        )
        for noted in found
    )


def _accept(desk: Desk, noted: NotedException) -> Move:
    def accepted(_: Desk, answers: tuple[str, ...]) -> Move:
        return Send(AcceptException(answers[0], noted.number, answers[1]))

    roles = say(" or ").join(holders(desk.procedure, desk.state))
    questions = (
        Question(say("Name of the person who accepts it ({who})", who=roles)),
        Question(say("Why work may go on with it")),
    )
    above = (
        *carried_blocks(desk, noted),
        Say(say("Accepted it stays open and comes again in the next run."), ink=Ink.QUIET),
    )
    title = say("Accept an exception for this run")
    return Open(FormPage(title, questions, accepted, above, last=say("accept it")))
