"""Questions one after the other, as most acts need them: pause, note, go back, hand over, correct, start.

Nothing is chosen or typed beforehand. What was answered stays in sight; Esc goes back one question. The last answer
leads to a Move; where that is refused, the last question stays and can be answered otherwise.
"""

# ruff: noqa: ARG002 - every page answers the same calls, whether or not it needs all that comes with them

from collections.abc import Callable
from dataclasses import dataclass, replace

from runner.say.text import say
from runner.screen import words
from runner.screen.blocks import Block, Entry, Fact, Facts, Gap, Ink, Row, Rows, Say, Sheet
from runner.screen.desk import Back, Desk, Done, Move, Page, Stay, Tell, Turn, moved, numbered
from runner.screen.keys import Action


@dataclass(frozen=True, slots=True)
class Question:
    """One question: to be typed, or to be picked where there are choices."""

    ask: str
    choices: tuple[str, ...] = ()
    unit: str = ""
    limits: str = ""
    needed: bool = True
    ours: bool = False
    """True where the choices are words of this program: shown in the language of the screen, kept as they are."""
    check: Callable[[str], str] | None = None
    """What is wrong with what was typed; empty where nothing is."""
    doubt: Callable[[str], str] | None = None
    """Why it is typed twice before it counts; empty where once is enough."""
    echo: Callable[[str], str] | None = None
    """What was typed, as the program understood it."""

    @property
    def shown(self) -> tuple[str, ...]:
        """The choices as a person reads them."""
        return tuple(say(choice) for choice in self.choices) if self.ours else self.choices

    def told(self, answer: str) -> str:
        """An answer as it stays in sight."""
        if self.echo:
            return self.echo(answer)
        return (say(answer) if self.ours else answer) or say("(nothing)")


@dataclass(frozen=True, slots=True)
class FormPage(Page):
    """A form that is being filled in."""

    title: str
    questions: tuple[Question, ...]
    done: Done
    above: tuple[Block, ...] = ()
    answers: tuple[str, ...] = ()
    cursor: int | None = None
    page: str = "form"
    doubted: str = ""
    last: str = ""
    """What Enter does at the last question; it confirms where nothing is said."""

    def show(self, desk: Desk) -> Sheet:
        """What was answered, and the question that is on."""
        at = len(self.answers)
        question = self.questions[at]
        blocks: list[Block] = list(self.above)
        if self.answers:
            given = tuple(Fact(q.ask, q.told(a)) for q, a in zip(self.questions, self.answers, strict=False))
            blocks += [Gap(), Facts(given)] if blocks else [Facts(given)]
        go = (self.last or say("confirm")) if at == len(self.questions) - 1 else say("next")
        count = (
            "  " + say("{place} of {count}", place=at + 1, count=len(self.questions)) if len(self.questions) > 1 else ""
        )
        title = f"{self.title}{count}"
        if question.choices:
            rows = tuple(Row(choice) for choice in question.shown)
            blocks += [Gap(), Say(question.ask, ink=Ink.STRONG), Rows(rows, self.cursor, numbered=True)]
            return Sheet(self.page, title, tuple(blocks), go, subject=f"{self.title}/{at}/{question.ask}", words=True)
        entry = Entry(question.ask, question.unit, question.limits, not question.unit, not question.needed)
        return Sheet(self.page, title, tuple(blocks), go, entry=entry, subject=f"{self.title}/{at}/{question.ask}")

    def go(self, desk: Desk, typed: str) -> Move:
        """Take the answer; the last one leads on."""
        question = self.questions[len(self.answers)]
        text = typed.strip()
        if question.choices:
            picked = self.cursor
            if text:
                both = enumerate(zip(question.choices, question.shown, strict=True))
                picked = next((i for i, names in both if text.casefold() in map(str.casefold, names)), None)
            if picked is None:
                return Tell(say(words.PICK))
            text = question.choices[picked]
        elif not text and question.needed:
            return Tell(say("{question}: type it, then Enter.", question=question.ask))
        fault = question.check(text) if question.check else ""
        if fault:
            return Tell(fault)
        doubt = question.doubt(text) if question.doubt and text != self.doubted else ""
        if doubt:
            return Turn(replace(self, doubted=text), doubt)
        answers = (*self.answers, text)
        if len(answers) == len(self.questions):
            return self.done(desk, answers)
        return Turn(replace(self, answers=answers, cursor=None))

    def press(self, desk: Desk, action: Action) -> Move:
        """Arrows choose; Esc goes back one question."""
        if action is Action.BACK:
            return Turn(replace(self, answers=self.answers[:-1], cursor=None)) if self.answers else Back()
        choices = self.questions[len(self.answers)].choices
        return Turn(replace(self, cursor=moved(self.cursor, action, len(choices)))) if choices else Stay()

    def choose(self, desk: Desk, number: int) -> Move:
        """A digit chooses; Enter takes it."""
        choices = self.questions[len(self.answers)].choices
        return Turn(replace(self, cursor=numbered(number, len(choices)))) if choices else Stay()
