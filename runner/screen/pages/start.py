"""Before a run: the usual cautions, who does what, and the job's values one by one with unit and limits.

A job file may bring values; they are shown and confirmed, not taken unseen. Values of the press are asked later, at
their steps, and never filled in beforehand.
"""

# ruff: noqa: ARG002 - every page answers the same calls, whether or not it needs all that comes with them

from collections.abc import Callable
from dataclasses import dataclass, replace

from runner.procedure.asks.ask import Misread
from runner.procedure.model import Input, Procedure, steps_of
from runner.procedure.ticket import judge_input
from runner.say.text import mark, say
from runner.screen import words
from runner.screen.blocks import Block, Fact, Facts, Gap, Heading, Ink, Row, Rows, Say, Sheet
from runner.screen.desk import Begin, Desk, Leave, Move, Open, Page, Reset, Stay, Turn, moved, numbered
from runner.screen.keys import Action
from runner.screen.mode import revision_words
from runner.screen.pages.form import FormPage, Question


@dataclass(frozen=True, slots=True)
class StartPage(Page):
    """What is known of crew and job so far."""

    crew: tuple[tuple[str, str], ...]
    inputs: tuple[tuple[str, str], ...]
    mode: str
    read: bool = False
    cursor: int | None = None
    pins: bool = False
    """True where a site file asks people for PINs."""
    brought: tuple[tuple[str, str, str], ...] = ()
    """(input, value as brought, where from): what a job file or the command line gave before anybody typed."""

    def show(self, desk: Desk) -> Sheet:
        """The cautions first, then all that the run begins with."""
        if not self.read:
            return self._cautions(desk.procedure)
        rows = tuple(
            Row(
                f"{known.ask}: {known.shown}" + (f" ({known.note})" if known.note else ""),
                ink=Ink.ABNORMAL if known.odd else Ink.PLAIN,
            )
            for known in _known(desk.procedure, self)
        )
        change = (
            say("A number: change that line first.")
            if desk.plain
            else say("A number or the arrows, then Enter: change that line first.")
        )
        blocks: tuple[Block, ...] = (
            Say(
                say(
                    "Compare with the job ticket. With {enter} you confirm all of it and the run begins.",
                    enter=desk.enter("begin"),
                ),
                ink=Ink.STRONG,
            ),
            Gap(),
            Rows(rows, self.cursor, numbered=True),
            Gap(),
            Say(change, ink=Ink.QUIET),
        )
        go, word = (say("BEGIN"), "begin") if self.cursor is None else (say("change it"), "go")
        return Sheet(
            "start", say("Begin: {title}", title=desk.procedure.title), blocks, go, word, subject=f"begin/{self.cursor}"
        )

    def _cautions(self, procedure: Procedure) -> Sheet:
        mode = say("LIVE RUN") if self.mode == "live" else say("DRY RUN: nothing is done at the press")
        blocks: list[Block] = [
            Facts((
                Fact(say("procedure"), f"{procedure.title}, {revision_words(procedure, self.mode)}"),
                Fact(say("press"), procedure.equipment),
                Fact(say("purpose"), procedure.purpose),
                Fact(say("mode"), mode, ink=Ink.STRONG),
            )),
            Gap(),
        ]  # fmt: skip
        blocks += [Say(text, say("note")) for text in words.cautions(self.pins)]
        if procedure.tools:
            blocks += [Gap(), Heading(say("Have ready")), Say(", ".join(procedure.tools))]
        return Sheet(
            "start",
            say("Before you begin: {title}", title=procedure.title),
            tuple(blocks),
            say("read, go on"),
            "read",
            subject="cautions",
        )

    def go(self, desk: Desk, typed: str) -> Move:
        """Ask for what is missing, change a line, or begin."""
        if not self.read:
            return Reset(ask_next(desk.procedure, replace(self, read=True)))
        if self.cursor is None:
            return Begin(self.crew, self.inputs)
        known = _known(desk.procedure, self)[self.cursor]
        return Open(_form(desk.procedure, replace(self, cursor=None), known.name, known.is_role))

    def press(self, desk: Desk, action: Action) -> Move:
        """Arrows choose a line; Esc lets go of it, or leaves."""
        if action is Action.BACK:
            return Leave() if self.cursor is None else Turn(replace(self, cursor=None))
        if not self.read:
            return Stay()
        return Turn(replace(self, cursor=moved(self.cursor, action, len(self.crew) + len(self.inputs))))

    def choose(self, desk: Desk, number: int) -> Move:
        """A digit chooses a line."""
        if not self.read:
            return Stay()
        return Turn(replace(self, cursor=numbered(number, len(self.crew) + len(self.inputs))))


LATER = mark("may stay empty: signs on later (pause, Sign on)")


@dataclass(frozen=True, slots=True)
class Known:
    """One line of the summary."""

    name: str
    is_role: bool
    ask: str
    shown: str
    odd: bool = False
    note: str = ""
    """Bands of an input, and where its value came from."""


def _known(procedure: Procedure, page: StartPage) -> tuple[Known, ...]:
    labels = dict(procedure.people)
    asks = {given.name: given for given in procedure.inputs}
    lines = [Known(role, True, labels.get(role, role), name) for role, name in page.crew]
    for name, typed in page.inputs:
        given = asks.get(name)
        if given is None:
            lines.append(Known(name, False, name, say("{typed}: no input of this procedure", typed=typed), odd=True))
            continue
        doubt = _doubt(given)(typed)
        shown = f"{_echo(given)(typed)}   {doubt}" if doubt else _echo(given)(typed)
        origin = next((came for key, value, came in page.brought if (key, value) == (name, typed)), say("typed"))
        note = "; ".join((*bands(given), origin))
        lines.append(Known(name, False, given.ask, shown, odd=bool(doubt), note=note))
    return tuple(lines)


def bands(given: Input) -> tuple[str, ...]:
    """What is allowed, and what is usual, each in words of its own; only what the procedure says."""
    unit = given.unit
    if unit is None:
        return ()
    allowed, likely = given.within, given.likely
    found = []
    if allowed is not None:
        low, high = unit.magnitude(allowed.low), unit.magnitude(allowed.high)
        found.append(say("allowed: {low:g} to {high:g} {unit}", low=low, high=high, unit=unit.text))
    if likely is not None:
        low, high = unit.magnitude(likely.low), unit.magnitude(likely.high)
        found.append(say("likely: {low:g} to {high:g} {unit}", low=low, high=high, unit=unit.text))
    return tuple(found)


def ask_next(procedure: Procedure, page: StartPage) -> Page:
    """The question for the first thing that is missing or not allowed; the summary where nothing is."""
    doers = {step.by for step in steps_of(procedure)}
    have, given = dict(page.crew), dict(page.inputs)
    for role, _ in procedure.people:
        if not have.get(role) and (role in doers or role not in have):
            return _form(procedure, page, role, is_role=True)
    for wanted in procedure.inputs:
        if wanted.name not in given or _check(wanted)(given[wanted.name]):
            return _form(procedure, page, wanted.name, is_role=False)
    return page


def _form(procedure: Procedure, page: StartPage, name: str, is_role: bool) -> Page:
    doers = {step.by for step in steps_of(procedure)}
    if is_role:
        label = dict(procedure.people).get(name, name)
        needed = name in doers
        later = "" if needed else say(LATER)
        question = Question(say("Who is {label}?", label=label), limits=later, needed=needed)
    else:
        question = _question(next(given for given in procedure.inputs if given.name == name))

    def answered(_: Desk, answers: tuple[str, ...]) -> Move:
        if is_role:
            return Reset(ask_next(procedure, replace(page, crew=_put(page.crew, name, answers[0]))))
        return Reset(ask_next(procedure, replace(page, inputs=_put(page.inputs, name, answers[0]))))

    so_far = tuple(Fact(known.ask, known.shown or say("nobody yet")) for known in _known(procedure, page))
    above: tuple[Block, ...] = (Facts(so_far),) if so_far else ()
    title = say("Begin: {title}", title=procedure.title)
    return FormPage(title, (question,), answered, above, page="start", last=say("next"))


def _question(given: Input) -> Question:
    limits = "; ".join(bands(given))
    unit = given.unit.text if given.unit is not None else ""
    return Question(given.ask, given.choices, unit, limits, check=_check(given), doubt=_doubt(given), echo=_echo(given))


def _check(given: Input) -> Callable[[str], str]:
    def check(typed: str) -> str:
        judged = judge_input(given, typed)
        return judged.message if isinstance(judged, Misread) else ""

    return check


def _doubt(given: Input) -> Callable[[str], str]:
    def doubt(typed: str) -> str:
        judged = judge_input(given, typed)
        if isinstance(judged, Misread):
            return judged.message
        return (
            say("{shown} is unusual. Look at the ticket; if it is so, Enter again.", shown=judged.shown)
            if judged.verdict == "unlikely"
            else ""
        )

    return doubt


def _echo(given: Input) -> Callable[[str], str]:
    def echo(typed: str) -> str:
        judged = judge_input(given, typed)
        return typed if isinstance(judged, Misread) else judged.shown

    return echo


def _put(pairs: tuple[tuple[str, str], ...], name: str, value: str) -> tuple[tuple[str, str], ...]:
    if name in dict(pairs):
        return tuple((key, value if key == name else old) for key, old in pairs)
    return (*pairs, (name, value))
