"""The review of a run that has ended: what is decided about its exceptions, and who signs the record.

Nothing is chosen or typed beforehand. The name is typed by the person who decides or signs; where a site file is there,
the PIN is asked for as everywhere.
"""

# ruff: noqa: ARG002 - every page answers the same calls, whether or not it needs all that comes with them

from dataclasses import dataclass, replace
from functools import partial

from runner.engine.decisions.review import undisposed
from runner.engine.intents import CloseException, CorrectAnswer, DisposeExceptions, NoteException, SignRun
from runner.engine.lookup import step_named
from runner.engine.shown import role_label
from runner.engine.state import (
    DISPOSITIONS,
    EXCEPTION_KINDS,
    MEANINGS,
    REVIEWER,
    SEVERITIES,
    KnownValue,
    NotedException,
    RunState,
)
from runner.say.text import mark, say, say_n
from runner.screen import words
from runner.screen.blocks import Block, Gap, Ink, Row, Rows, Say, Sheet
from runner.screen.desk import Back, Desk, Move, Open, Page, Send, Tell, Turn, moved, numbered
from runner.screen.keys import Action
from runner.screen.pages.form import FormPage, Question
from runner.screen.pages.menu import MenuPage

PAGE = "review"
NOT_DECIDED = mark("not decided")


@dataclass(frozen=True, slots=True)
class ReviewPage(Page):
    """The exceptions with what was decided, the signatures, and what can be done."""

    cursor: int | None = None

    def show(self, desk: Desk) -> Sheet:
        """How the review stands."""
        state = desk.state
        left = len(undisposed(state))
        blocks: list[Block] = []
        if not state.exceptions:
            blocks.append(Say(say("No exception was noted in this run.")))
        elif left:
            words_ = say_n("{n} exception to decide about.", "{n} exceptions to decide about.", left)
            blocks.append(Say(words_, ink=Ink.ABNORMAL))
        else:
            blocks.append(Say(say("Something is decided about each exception.")))
        blocks += [Say(line, say("signed"), ink) for line, ink in signature_lines(state)]
        if not state.signatures:
            blocks.append(Say(say("Nobody has signed this record."), say("signed"), Ink.QUIET))
        rows = tuple(row for row, _ in self.choices(desk))
        blocks += [Gap(), Rows(rows, self.cursor, numbered=True)]
        subject = f"review/{self.cursor}/{left}/{len(state.signatures)}"
        return Sheet(PAGE, say("REVIEW"), tuple(blocks), say("take it"), subject=subject)

    def choices(self, desk: Desk) -> list[tuple[Row, Move]]:
        """The lines that can be picked, and where each leads."""
        found: list[tuple[Row, Move]] = [
            (exception_row(noted), Open(decision_form(desk, (noted.number,)))) for noted in desk.state.exceptions
        ]
        left = tuple(noted.number for noted in undisposed(desk.state))
        if len(left) > 1:
            row = Row(say("The same about all that are not decided"), "   ")
            found.append((row, Open(decision_form(desk, left))))
        found.append((Row(say("Sign the record as it is now"), "   "), Open(signing_form(desk))))
        for noted in desk.state.open_exceptions:
            row = Row(say("Exception {number} was dealt with: say how", number=noted.number), "   ")
            found.append((row, Open(closing_form(noted))))
        found.append((Row(say("Note something that was found afterwards"), "   "), Open(noting_form())))
        if given_values(desk):
            found.append((Row(say("Correct a value that was given"), "   "), Open(values_menu(desk))))
        return found

    def go(self, desk: Desk, typed: str) -> Move:
        """Take the chosen line."""
        if self.cursor is None:
            return Tell(say(words.PICK))
        choices = self.choices(desk)
        return choices[self.cursor][1] if self.cursor < len(choices) else Tell(say(words.PICK))

    def press(self, desk: Desk, action: Action) -> Move:
        """Arrows choose; Esc leads back."""
        if action is Action.BACK:
            return Back()
        return Turn(replace(self, cursor=moved(self.cursor, action, len(self.choices(desk)), desk.room)))

    def choose(self, desk: Desk, number: int) -> Move:
        """A digit chooses."""
        return Turn(replace(self, cursor=numbered(number, len(self.choices(desk)))))


def exception_row(noted: NotedException) -> Row:
    """An exception, with what was decided."""
    decided = say(noted.disposition or NOT_DECIDED)
    ink = Ink.PLAIN if noted.disposition else Ink.ABNORMAL
    text = f"{noted.number}, {say(noted.severity)}: {noted.words}"
    return Row(text, " + " if noted.disposition else " ! ", decided, ink, cut=True)


def signature_lines(state: RunState) -> list[tuple[str, Ink]]:
    """Each signature in a line; one after which something was added stands out."""
    lines = []
    for one in state.signatures:
        line = f"{say(one.meaning)} {one.by}, {one.at.utc[:16].replace('T', ' ')} UTC, {say(one.how)}"
        if one.added:
            line = f"{line}; " + say_n(
                "{n} thing added since: sign again", "{n} things added since: sign again", one.added
            )
        lines.append((line, Ink.ABNORMAL if one.added else Ink.STRONG))
    return lines


def reviewer_question(desk: Desk) -> Question:
    """Who decides."""
    return Question(say("Your name ({role})", role=role_label(desk.procedure, REVIEWER)))


def decision_form(desk: Desk, numbers: tuple[int, ...]) -> Page:
    """The decision about these exceptions."""

    def done(_: Desk, answers: tuple[str, ...]) -> Move:
        disposition, why, name = answers
        return Send(DisposeExceptions(name, numbers, disposition, why), then=ReviewPage())

    noted = [one for one in desk.state.exceptions if one.number in numbers]
    above = tuple(
        Say(f"{say(one.severity)}, {say(one.kind)}: {one.words}", f"{one.number}", Ink.ABNORMAL) for one in noted
    )
    questions = (
        Question(say("What is decided?"), DISPOSITIONS, ours=True),
        Question(say("Why, in a few words")),
        reviewer_question(desk),
    )
    return FormPage(say("Decide"), questions, done, above, page=PAGE, last=say("put it on record"))


def signing_form(desk: Desk) -> Page:
    """A signature."""

    def done(_: Desk, answers: tuple[str, ...]) -> Move:
        meaning, said, name = answers
        return Send(SignRun(name, meaning, said), then=ReviewPage())

    above = (
        Say(say("You sign the record as it is now; what is added afterwards is not signed by it.")),
        Say(words.head_words(desk.head), say("head code")),
    )
    questions = (
        Question(say("What does your name mean?"), MEANINGS, ours=True),
        Question(say("Anything to say with it"), needed=False),
        Question(say("Your name")),
    )
    return FormPage(say("Sign"), questions, done, above, page=PAGE, last=say("sign"))


def closing_form(noted: NotedException) -> Page:
    """How an open exception was dealt with."""

    def done(_: Desk, answers: tuple[str, ...]) -> Move:
        return Send(CloseException(answers[1], noted.number, answers[0]), then=ReviewPage())

    above = (Say(noted.words, f"{noted.number}", Ink.ABNORMAL),)
    questions = (Question(say("How was it dealt with?")), Question(say("Your name")))
    return FormPage(say("Close an exception"), questions, done, above, page=PAGE, last=say("close it"))


def given_values(desk: Desk) -> tuple[KnownValue, ...]:
    """The values that people gave, in the order in which they came."""
    return tuple(known for known in desk.state.values.values() if known.source != "worked out" and not known.stale)


def values_menu(desk: Desk) -> Page:
    """Which value is corrected."""
    values = given_values(desk)
    rows = tuple(Row(f"{asked(desk, known)}: {known.shown}", cut=True) for known in values)
    moves = tuple(partial(_correcting, known=known) for known in values)
    return MenuPage(say("Correct a value that was given"), rows, moves, page=PAGE)


def asked(desk: Desk, known: KnownValue) -> str:
    """The question to which a value was given."""
    step = step_named(desk.procedure, known.source)
    of_step = next((ask.ask for ask in step.asks if ask.name == known.name), "") if step is not None else ""
    of_job = next((given.ask for given in desk.procedure.inputs if given.name == known.name), "")
    return of_step or of_job or known.name


def _correcting(desk: Desk, known: KnownValue) -> Move:
    """The new value, why, and who says so."""
    step = "" if known.source == "ticket" else known.source

    def done(_: Desk, answers: tuple[str, ...]) -> Move:
        typed, why, name = answers
        return Send(CorrectAnswer(name, step, known.name, typed, why), then=ReviewPage())

    above = (
        Say(say("Given before: {old}. It stays on record.", old=known.shown), ink=Ink.QUIET),
        Say(say("Nothing is worked out or done anew by it: the run has ended."), ink=Ink.QUIET),
    )
    questions = (
        Question(asked(desk, known), unit=known.unit),
        Question(say("Why is it corrected?")),
        Question(say("Your name")),
    )
    return Open(FormPage(say("Correct an answer"), questions, done, above, page=PAGE, last=say("correct it")))


def noting_form() -> Page:
    """An exception that was found after the end."""

    def done(_: Desk, answers: tuple[str, ...]) -> Move:
        kind, severity, said, name = answers
        return Send(NoteException(name, "", kind, severity, said), then=ReviewPage())

    questions = (
        Question(say("What is it about?"), EXCEPTION_KINDS, ours=True),
        Question(say("How serious?"), SEVERITIES, ours=True),
        Question(say("What is not as expected, in a few words")),
        Question(say("Your name")),
    )
    return FormPage(say("Note an exception"), questions, done, page=PAGE, last=say("note it"))
