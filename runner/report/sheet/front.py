"""The first pages of a form: which text it is of, what it is not, how it is used, people, job, values worked out.

Cautions come before all that anybody could act on. Numbers of a job stand here with their working; without a job there is
room for them beside the author's limits.
"""

from collections.abc import Iterator
from typing import assert_never

from runner.formula.quantity import show
from runner.procedure.asks.reading import shown_unit
from runner.procedure.model import Calculation, Input, Procedure, Split
from runner.report.document import Block, Cell, Facts, Heading, Listing, Note, Table
from runner.report.sheet.form import BLANK, BOX, LONG_BLANK
from runner.report.sheet.known import Known
from runner.report.sheet.recorded import Recorded
from runner.report.working.marks import WORDS

CAUTION = (
    "This work can hurt people. This form is an aid to trained people. It is not a lockout, not an interlock and not a load"
    " limiter: it is wired to nothing, sees nothing of the press, and holds only what people write and confirm. Local"
    " codes, the machine's manual and licensed practice come first; where this form says otherwise, stop and ask."
)
"""As in the README; on the first page of every form."""

PAPER = "Paper holds nobody back: no step is refused here, no number is checked, no wait is timed. You do all of it yourself."

USE = (
    "Work from top to bottom, each person in their own list. A list with a letter begins on a page of its own.",
    "Read a step's cautions before the act. Tick how the press must be when you have looked, not from memory.",
    "HOLD: the named person, who is not the one who does the step, looks, ticks and signs before the step begins.",
    "Sign for what you did or saw yourself, with time and initials.",
    "A value is missing or out of its limits: do not go on with it. Look once more, then do what stands beside the step.",
    "Not as expected, and nothing beside the step fits: stop, make safe, write it under Exceptions, ask.",
    "A page is missing, or cannot be read: do not use this form.",
)


def opening_blocks(procedure: Procedure, known: Known, run: Recorded | None) -> Iterator[Block]:
    """Which text it is, and what the form is not."""
    yield Facts(text_facts(procedure, known, run))
    yield Note(CAUTION, "caution")
    yield Note(PAPER, "caution")
    if bad := out_words(known):
        yield Note(bad, "problem")


def front_blocks(procedure: Procedure, known: Known, run: Recorded | None) -> Iterator[Block]:
    """What people need before the first step."""
    yield Heading("How this form is used")
    yield Listing(USE)
    yield Heading("Stop and make safe")
    yield Listing(tuple(f"{BOX}{act.do}" for act in procedure.make_safe) or ("As local rules say.",))
    yield Heading("People")
    yield people_table(procedure, run)
    if procedure.inputs:
        yield Heading("The job")
        yield job_table(procedure, known)
    if procedure.tools:
        yield Heading("Tools")
        yield Listing(tuple(f"{BOX}{tool}" for tool in procedure.tools))
    if procedure.calculations:
        yield Heading("Values worked out")
        yield values_table(procedure, known)


def text_facts(procedure: Procedure, known: Known, run: Recorded | None) -> tuple[tuple[str, Cell], ...]:
    """Which text this is a form of."""
    approved = procedure.approval
    rows: list[tuple[str, Cell]] = [
        ("Procedure", f"{procedure.id}: {procedure.title}"),
        ("Revision", str(procedure.revision)),
        ("Status", f"approved by {approved.by}, {approved.on}" if approved else procedure.status),
        ("Equipment", procedure.equipment),
        ("Purpose", procedure.purpose),
        ("Digest (SHA-256)", procedure.digest),
        ("Filled in with", filled_words(known, run)),
    ]
    if run is None:
        rows += [("Date", LONG_BLANK), ("Job", LONG_BLANK)]
    rows.append(("Times on this form are", f"{BOX}UTC  {BOX}local time"))
    return tuple((name, said) for name, said in rows if said)


def filled_words(known: Known, run: Recorded | None) -> str:
    """What the numbers on the form are from."""
    if run is not None:
        return f"the record of run {run.begun.run}, up to event {run.events}"
    return "the values of a job" if known.values else "nothing: a blank form"


def out_words(known: Known) -> str:
    """What a form with broken limits says on its first page."""
    broken = [f"{known.label(n)} ({v.shown})" for n, v in known.values.items() if n in known.bad and v.verdict != "in"]
    if not broken:
        return ""
    return (
        f"OUT OF LIMITS or without a result: {', '.join(broken)}. Steps that go by it say so and are not begun. Correct the"
        " job and print the form again."
    )


def people_table(procedure: Procedure, run: Recorded | None) -> Table:
    """Who is who, with the initials that they sign with; a second row a role for a handover."""
    rows: list[tuple[Cell, ...]] = []
    for role, label in procedure.people:
        name = run.state.crew.get(role, "") if run is not None else ""
        signed = run.people.get(name, "") if run is not None and name else ""
        rows.append((label, name or LONG_BLANK, signed or BLANK, BLANK, ""))
        rows.append((f"{label}, after a handover", LONG_BLANK, BLANK, BLANK, BLANK))
    return Table("Who does what", ("Role", "Name", "Initials", "From", "Handed over by"), tuple(rows))


def job_table(procedure: Procedure, known: Known) -> Table:
    """What the ticket says."""
    rows = tuple((one.ask, given_cell(known, one), accepted_words(one)) for one in procedure.inputs)
    return Table("From the job ticket", ("What", "Value", "Accepted"), rows)


def given_cell(known: Known, one: Input) -> Cell:
    """The value, or room for it."""
    value = known.values.get(one.name)
    if value is not None and not value.stale:
        return value.shown
    if one.choices:
        return tuple(f"{BOX}{choice}" for choice in one.choices)
    return f"{BLANK} {shown_unit(one.unit)}".rstrip() if one.unit is not None else LONG_BLANK


def accepted_words(one: Input) -> Cell:
    """What is allowed, and what is usual."""
    if one.unit is None:
        return ""
    bands = (("", one.within), ("usual: ", one.likely))
    return tuple(f"{word}{show(b.low, one.unit)} to {show(b.high, one.unit)}" for word, b in bands if b is not None)


def values_table(procedure: Procedure, known: Known) -> Table:
    """Every calculation: result, limits, how it is worked out. A row out of its limits is marked."""
    rows, marks = [], set()
    for at, one in enumerate(procedure.calculations):
        rows.append((known.label(one.name), result_cell(known, one), limits_cell(known, one), working_cell(known, one)))
        if one.name in known.bad:
            marks.add(at)
    return Table("Numbers that steps go by", ("Value", "Result", "Limits", "Working"), tuple(rows), frozenset(marks))


def result_cell(known: Known, one: Calculation | Split) -> Cell:
    """The result with its verdict, or room for it."""
    value = known.values.get(one.name)
    if value is None or value.stale:
        unit = known.units.get(one.name)
        return f"{BLANK} {shown_unit(unit) if unit is not None else ''}".rstrip()
    if one.name in known.bad:
        sign = WORDS.get(value.verdict)
        return (value.shown, sign) if sign else "none: rests on a value OUT OF LIMITS"
    return tuple(part for part in (value.shown, value.gives, value.rough) if part)


def limits_cell(known: Known, one: Calculation | Split) -> Cell:
    """The limits, worked out where that is possible."""
    value = known.values.get(one.name)
    if value is not None and value.limits and not value.stale:
        return value.limits
    match one:
        case Calculation():
            return " and ".join(f"{limit.op} {bare(limit.text, limit.op)}" for limit in one.limits)
        case Split():
            return f"within {show(one.within, known.units[one.name])}"
        case _:
            assert_never(one)


def bare(text: str, op: str) -> str:
    """A limit's text without its sign."""
    return text.strip().removeprefix(op).strip()


def working_cell(known: Known, one: Calculation | Split) -> Cell:
    """The formula, and the numbers put in where they are known."""
    value = known.values.get(one.name)
    rests = one.name in known.bad and value is not None and value.verdict == "in"
    match one:
        case Calculation():
            formula = one.text if one.rounding is None else f"{one.text}, rounded {one.rounding.text}"
        case Split():
            ends = "1 end" if one.ends == 1 else f"{one.ends} ends"
            formula = f"pieces of {known.label(one.rack)} for {known.label(one.mass)}, at {ends}"
        case _:
            assert_never(one)
    if value is None or not value.working or value.stale or rests:
        return formula
    return (formula, value.working)
