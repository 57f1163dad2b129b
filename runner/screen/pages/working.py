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
from runner.screen import words
from runner.screen.blocks import Big, Block, Fact, Facts, Gap, Ink, Row, Rows, Say, Sheet
from runner.screen.desk import Back, Desk, Move, Open, Page, Send, Tell, Turn, TurnTo, moved, numbered
from runner.screen.keys import Action
from runner.screen.listed import value_row
from runner.screen.pages.confirm import ConfirmPage
from runner.screen.pages.form import FormPage, Question
from runner.screen.pages.menu import MenuPage
from runner.screen.pages.who import who


@dataclass(frozen=True, slots=True)
class WorkingPage(Page):
    """The list of values."""

    cursor: int | None = None

    def show(self, desk: Desk) -> Sheet:
        """Every value, those of the step first."""
        rows = tuple(value_row(known) for known in values_in_order(desk))
        blocks: tuple[Block, ...] = (Rows(rows, self.cursor, numbered=True),) if rows else (Say("No values yet."),)
        return Sheet("working", "Values: pick one to see its working", blocks, "show working", subject="values")  # fmt: skip

    def go(self, desk: Desk, typed: str) -> Move:
        """The working of one value."""
        known = values_in_order(desk)
        if self.cursor is None or self.cursor >= len(known):
            return Tell(words.PICK) if known else Back()
        return Open(working(desk, known[self.cursor]))

    def press(self, desk: Desk, action: Action) -> Move:
        """Arrows choose; Tab shows the states."""
        match action:
            case Action.BACK:
                return Back()
            case Action.SIDE:
                return TurnTo("states")
            case _:
                return Turn(replace(self, cursor=moved(self.cursor, action, len(values_in_order(desk)), desk.room)))

    def choose(self, desk: Desk, number: int) -> Move:
        """A digit chooses."""
        return Turn(replace(self, cursor=numbered(number, len(values_in_order(desk)))))


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
        rows = (Row("Back"), Row("Correct it: the job ticket says otherwise"))
        moves: tuple[Callable[[Desk], Move], ...] = (lambda _: Back(), lambda d: _correct(d, given, known))
        return MenuPage(f"Working: {name}", rows, moves, working_blocks(desk, known), cursor=0)
    return ConfirmPage(f"Working: {name}", working_blocks(desk, known), "back", lambda _: Back(), word="back")


def _correct(_: Desk, given: Input, known: KnownValue) -> Move:
    """A value of the job ticket was wrong; the old one stays on record, and what was done with it is named."""

    def corrected(d: Desk, answers: tuple[str, ...]) -> Move:
        wanted = CorrectAnswer("", "", given.name, answers[0], answers[1])
        return who(d, f"Who corrects {given.ask}?", lambda _, person: Send(replace(wanted, by=person)))

    unit = given.unit.text if given.unit is not None else ""
    above = (Say(f"Given before: {known.shown}. It stays on record.", ink=Ink.QUIET), Gap())
    questions = (Question(given.ask, given.choices, unit), Question("Why is it corrected?"))
    return Open(FormPage("Correct the job ticket", questions, corrected, above, last="correct it"))


def working_blocks(desk: Desk, known: KnownValue) -> tuple[Block, ...]:
    """Formula, numbers, result, limits, rough check, source; then pieces, and what went in with where it came from."""
    name = known.name.replace("_", " ")
    blocks: list[Block] = [Big(name, known.shown), Gap()]
    if known.formula:
        blocks.append(Say(known.formula, "formula"))
    if known.working:
        blocks.append(Say(known.working, "numbers"))
    if known.limits:
        ok = known.verdict == "in"
        blocks.append(
            Say(f"{known.limits}  {'kept' if ok else 'NOT KEPT'}", "allowed", Ink.PLAIN if ok else Ink.ABNORMAL)
        )
    if known.accepted_by:
        blocks.append(Say(f"nearest choice, by {known.accepted_by}: {known.accepted_why}", "accepted", Ink.STRONG))
    if known.rough:
        blocks.append(Say(known.rough.removeprefix("rough check: "), "rough check", rough_ink(known)))
    if known.gives:
        blocks.append(Say(known.gives, "pieces"))
    why = next((c.why for c in desk.procedure.calculations if isinstance(c, Calculation) and c.name == known.name), "")
    if why:
        blocks.append(Say(why, "why", Ink.QUIET))
    blocks.append(Say(source_words(desk, known), "from", Ink.QUIET))
    if known.stale:
        blocks.append(Say("must be given or worked out again before it counts", "stale", Ink.ABNORMAL))
    if known.ends:
        blocks += [Gap(), Facts(end_facts(known.ends, known.unit))]
    if known.inputs or known.origins:
        blocks += [Gap(), Facts(input_facts(known))]
    return tuple(blocks)


def rough_ink(known: KnownValue) -> Ink:
    """A rough check that agrees is a remark; what else it says is not to be missed."""
    return Ink.QUIET if "agrees" in known.rough and known.verdict == "in" else Ink.ABNORMAL


def end_facts(ends: Ends, unit: str) -> tuple[Fact, ...]:
    """The pieces of each end in the order in which they hang."""

    def words(end: tuple[tuple[str, int], ...]) -> str:
        return " + ".join(f"{count} x {piece} {unit}" for piece, count in end) or "nothing"

    return tuple(Fact(f"end {at}", words(end), ORDER if len(end) > 1 else "") for at, end in enumerate(ends, start=1))


def input_facts(known: KnownValue) -> tuple[Fact, ...]:
    """What went in, each with where it came from; then rows of tables and constants."""
    given, origins = dict(known.inputs), dict(known.origins)
    values = [Fact(name.replace("_", " "), shown, origins.get(name, "")) for name, shown in known.inputs]
    others = [Fact(name.replace("_", " "), where) for name, where in known.origins if name not in given]
    return (*values, *others)


def source_words(desk: Desk, known: KnownValue) -> str:
    """Where a value came from."""
    step = step_named(desk.procedure, known.source)
    if known.origin and known.source != "worked out":
        return known.origin
    if step is not None:
        return f"given at step {step.number}"
    return "the job ticket" if known.source == "ticket" else known.source


def opened(_: Desk) -> Page:
    """The page as its key opens it."""
    return WorkingPage()
