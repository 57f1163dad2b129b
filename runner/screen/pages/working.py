"""Today's values and how they came about: formula with names, with numbers, result, limits. What the step uses first.

Nothing is computed here: the working was put on record when the value was worked out, and is shown from there.
"""

# ruff: noqa: ARG002 - every page answers the same calls, whether or not it needs all that comes with them

from collections.abc import Callable
from dataclasses import dataclass, replace

from runner.engine.intents import CorrectAnswer
from runner.engine.lookup import step_named
from runner.engine.state import KnownValue
from runner.procedure.hung import ORDER, Ends
from runner.procedure.model import Calculation, Input
from runner.say.text import say
from runner.screen import words
from runner.screen.blocks import Big, Block, Fact, Facts, Gap, Hanging, Ink, Row, Rows, Say, Sheet
from runner.screen.desk import Back, Desk, Move, Open, Page, Send, Tell, Turn, TurnTo, moved, numbered
from runner.screen.keys import Action
from runner.screen.listed import value_row
from runner.screen.origins import origin_words
from runner.screen.pages.confirm import ConfirmPage
from runner.screen.pages.form import FormPage, Question
from runner.screen.pages.menu import MenuPage
from runner.screen.pages.path import path_page, path_rows, paths_in_order
from runner.screen.pages.who import who


@dataclass(frozen=True, slots=True)
class WorkingPage(Page):
    """The list of values."""

    cursor: int | None = None

    def show(self, desk: Desk) -> Sheet:
        """Every value, those of the step first."""
        rows = (*(value_row(known) for known in values_in_order(desk)), *path_rows(desk))
        blocks: tuple[Block, ...] = (Rows(rows, self.cursor, numbered=True),) if rows else (Say(say("No values yet.")),)
        named = ((Action.SIDE, say("states")),)
        title = say("Values: pick one to see its working")
        return Sheet("working", title, blocks, say("show working"), subject="values", named=named)

    def go(self, desk: Desk, typed: str) -> Move:
        """The working of one value."""
        known, paths = values_in_order(desk), paths_in_order(desk)
        if self.cursor is None or self.cursor >= len(known) + len(paths):
            return Tell(say(words.PICK)) if known or paths else Back()
        if self.cursor >= len(known):
            return Open(path_page(desk, paths[self.cursor - len(known)]))
        return Open(working(desk, known[self.cursor]))

    def press(self, desk: Desk, action: Action) -> Move:
        """Arrows choose; Tab shows the states."""
        match action:
            case Action.BACK:
                return Back()
            case Action.SIDE:
                return TurnTo("states")
            case _:
                return Turn(replace(self, cursor=moved(self.cursor, action, _rows(desk), desk.room)))

    def choose(self, desk: Desk, number: int) -> Move:
        """A digit chooses."""
        return Turn(replace(self, cursor=numbered(number, _rows(desk))))


def _rows(desk: Desk) -> int:
    return len(values_in_order(desk)) + len(paths_in_order(desk))


def values_in_order(desk: Desk) -> tuple[KnownValue, ...]:
    """Values that the step in front uses, then the others in the order in which they came to be known."""
    step = step_named(desk.procedure, desk.step_id)
    uses = step.uses if step else frozenset[str]()
    return tuple(sorted(desk.state.values.values(), key=lambda known: known.name not in uses))


def working(desk: Desk, known: KnownValue) -> Page:
    """The page of one value."""
    name = known.name.replace("_", " ")
    given = next((given for given in desk.procedure.inputs if given.name == known.name), None)
    if given is not None and known.source == "ticket" and not desk.state.outcome and desk.state.mode:
        rows = (Row(say("Back")), Row(say("Correct it: the job ticket says otherwise")))
        moves: tuple[Callable[[Desk], Move], ...] = (lambda _: Back(), lambda d: _correct(d, given, known))
        return MenuPage(say("Working: {name}", name=name), rows, moves, working_blocks(desk, known), cursor=0)
    return ConfirmPage(
        say("Working: {name}", name=name), working_blocks(desk, known), say("back"), lambda _: Back(), word="back"
    )


def _correct(_: Desk, given: Input, known: KnownValue) -> Move:
    """A value of the job ticket was wrong; the old one stays on record, and what was done with it is named."""

    def corrected(d: Desk, answers: tuple[str, ...]) -> Move:
        wanted = CorrectAnswer("", "", given.name, answers[0], answers[1])
        return who(d, say("Who corrects {name}?", name=given.ask), lambda _, person: Send(replace(wanted, by=person)))

    unit = given.unit.text if given.unit is not None else ""
    above = (Say(say("Given before: {shown}. It stays on record.", shown=known.shown), ink=Ink.QUIET), Gap())
    questions = (Question(given.ask, given.choices, unit), Question(say("Why is it corrected?")))
    return Open(FormPage(say("Correct the job ticket"), questions, corrected, above, last=say("correct it")))


def working_blocks(desk: Desk, known: KnownValue) -> tuple[Block, ...]:
    """Formula, numbers, result, limits, rough check, source; then pieces, and what went in with where it came from."""
    name = known.name.replace("_", " ")
    blocks: list[Block] = [Big(name, known.shown), Gap()]
    if known.formula:
        blocks.append(Say(known.formula, say("formula")))
    if known.working:
        blocks.append(Say(known.working, say("numbers")))
    if known.limits:
        ok = known.verdict == "in"
        blocks.append(
            Say(
                f"{known.limits}  {say('kept') if ok else say('NOT KEPT')}",
                say("allowed"),
                Ink.PLAIN if ok else Ink.ABNORMAL,
            )
        )
    if known.accepted_by:
        blocks.append(
            Say(
                say("nearest choice, by {person}: {why}", person=known.accepted_by, why=known.accepted_why),
                say("accepted"),
                Ink.STRONG,
            )
        )
    if known.rough:
        blocks.append(Say(known.rough.removeprefix(f"{say('rough check')}: "), say("rough check"), rough_ink(known)))
    if known.gives:
        blocks.append(Say(known.gives, say("pieces")))
    why = next((c.why for c in desk.procedure.calculations if isinstance(c, Calculation) and c.name == known.name), "")
    if why:
        blocks.append(Say(why, say("why"), Ink.QUIET))
    blocks.append(Say(source_words(desk, known), say("from"), Ink.QUIET))
    if known.stale:
        blocks.append(Say(say("must be given or worked out again before it counts"), say("stale"), Ink.ABNORMAL))
    if known.ends:
        blocks += [Gap(), Facts(end_facts(known.ends, known.unit))]
    if known.inputs or known.origins:
        blocks += [Gap(), Facts(input_facts(known))]
    if known.ends:
        blocks += [Gap(), Hanging(known.ends, known.unit)]
    return tuple(blocks)


def rough_ink(known: KnownValue) -> Ink:
    """A rough check that agrees is a remark; what else it says is not to be missed."""
    return Ink.QUIET if known.verdict == "in" else Ink.ABNORMAL  # a value that its rough check doubts is out


def end_facts(ends: Ends, unit: str) -> tuple[Fact, ...]:
    """The pieces of each end in the order in which they hang."""

    def words(end: tuple[tuple[str, int], ...]) -> str:
        return " + ".join(f"{count} x {piece} {unit}" for piece, count in end) or say("nothing")

    return tuple(
        Fact(say("end {number}", number=at), words(end), say(ORDER) if len(end) > 1 else "")
        for at, end in enumerate(ends, start=1)
    )


def input_facts(known: KnownValue) -> tuple[Fact, ...]:
    """What went in, each with where it came from; then rows of tables and constants."""
    given, origins = dict(known.inputs), dict(known.origins)
    values = [Fact(name.replace("_", " "), shown, origin_words(origins.get(name, ""))) for name, shown in known.inputs]
    others = [Fact(name.replace("_", " "), origin_words(where)) for name, where in known.origins if name not in given]
    return (*values, *others)


def source_words(desk: Desk, known: KnownValue) -> str:
    """Where a value came from."""
    step = step_named(desk.procedure, known.source)
    if known.origin and known.source != "worked out":
        return origin_words(known.origin)
    if step is not None:
        return say("given at step {number}", number=step.number)
    return say("the job ticket") if known.source == "ticket" else origin_words(known.source)


def opened(_: Desk) -> Page:
    """The page as its key opens it."""
    return WorkingPage()
