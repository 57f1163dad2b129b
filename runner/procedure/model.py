"""The compiled procedure: frozen values, every one with its place in the text.

Names are resolved, formulas parsed, units and dimensions checked. Physical values are SI floats; a unit beside
one says how the author wants it shown. Lint, engine, paper and report all read these same values.
"""

from typing import NamedTuple

from runner.formula.expr import Expr
from runner.formula.scope import Scope
from runner.formula.units import Unit
from runner.procedure.asks.ask import Ask
from runner.procedure.finding import Place
from runner.procedure.template import Template

UNKNOWN = -1
"""The index of no value: a state that nobody vouches for. It never meets a need."""


class Band(NamedTuple):
    """A closed range of SI values."""

    low: float
    high: float


class Caution(NamedTuple):
    """What can hurt, how, and how to avoid it; the signal words are those of ANSI Z535.6 and ISO 3864-2."""

    id: str
    signal: str
    """danger, warning, caution (people) or notice (property only)."""
    hazard: str
    harm: str
    avoid: str
    place: Place


class Input(NamedTuple):
    """A value from the job ticket, given before the run begins."""

    name: str
    ask: str
    unit: Unit | None
    """None for a choice or plain text."""
    choices: tuple[str, ...]
    """Empty for a number or plain text."""
    within: Band | None
    likely: Band | None
    why: str
    place: Place


class Rack(NamedTuple):
    """Counterweight pieces at hand.

    Their masses are whole numbers of a small part of the rack's own unit, so that a rack in pounds is as exact as one in
    kilograms: a pound is no whole number of grams.
    """

    name: str
    unit: Unit
    stock: tuple[tuple[str, int, int], ...]
    """(mass as written, parts, how many), heaviest first."""
    place: Place
    counted: str = ""
    """Who says so, where it is not the procedure: as counted on 2026-11-24 (site file)."""

    @property
    def parts(self) -> int:
        """How many parts are one of the unit: a thousand, and of a unit heavier than a kilogram a million."""
        return 1000 if self.unit.factor <= 1 else 10**6

    @property
    def part(self) -> str:
        """The parts in words: grams for kg, `thousandths of a lb`."""
        return (
            "grams"
            if self.unit.text == "kg"
            else f"{'thousandths' if self.parts == 1000 else 'millionths'} of a {self.unit.text}"
        )


class TrackedState(NamedTuple):
    """Something about the press that steps need and make, with its named values."""

    name: str
    label: str
    """The name as a person reads it: the author's `label`, or the name with spaces."""
    of: tuple[str, ...]
    at_start: int
    """Index in `of`, or UNKNOWN."""
    at_end: int | None
    """Index in `of` that it must have at the end; None where it does not matter."""
    one_owner: bool
    keeps: bool
    """True where an interruption does not make it unconfirmed."""
    place: Place


class Limit(NamedTuple):
    """One side of what a worked-out value may be."""

    op: str
    """<=, <, >= or >."""
    bound: Expr
    text: str
    place: Place


class Rounding(NamedTuple):
    """To a step, in a stated direction."""

    direction: str
    """nearest, up or down."""
    step: float
    text: str


class Example(NamedTuple):
    """A worked example that lint recomputes."""

    given: tuple[tuple[str, float | str], ...]
    gives: float
    within: float
    place: Place


class RoughCheck(NamedTuple):
    """The same result by a simpler way."""

    formula: Expr
    text: str
    within: float
    """The share of the larger of both by which they may differ."""
    place: Place


class Calculation(NamedTuple):
    """A named formula over inputs, readings and other calculations."""

    name: str
    formula: Expr
    text: str
    unit: Unit
    limits: tuple[Limit, ...]
    rounding: Rounding | None
    example: Example | None
    why: str
    place: Place
    uses: frozenset[str] = frozenset()
    """Names that must be known before it can be worked out, those of web paths, limits and rough check among them."""
    rough: RoughCheck | None = None


class Split(NamedTuple):
    """Pieces from a rack, laid out evenly at the ends of a bar."""

    name: str
    mass: str
    """The calculation that says how much is wanted."""
    rack: str
    ends: int
    within: float
    """kg that the hung mass may miss the wanted one by."""
    place: Place
    uses: frozenset[str] = frozenset()
    uneven: float = 0.0
    """kg that the ends may differ by."""
    gives: str = ""
    """The input or calculation from which the mass was worked out, to say what the pieces really give; or empty."""
    release: str = ""
    """The role that may accept the nearest choice where none is within tolerance; empty: nobody may."""


class Hold(NamedTuple):
    """The engine stops here until a person of the role releases it."""

    release: str
    """A role."""
    confirm: tuple[str, ...]
    protects: str
    """The physical protection that the step relies on."""
    place: Place


class Trouble(NamedTuple):
    """What may go wrong in a step, what to do about it, and the way on."""

    id: str
    sign: str
    do: Template
    way_on: str
    """back_to, go_on or stop."""
    back_to: str
    """The id of a step, where way_on is back_to."""
    blocking: bool
    """The run does not finish while its exception is open."""
    place: Place


class SecondLook(NamedTuple):
    """A second person looks: independent, with the first answer hidden, or together."""

    by: str
    how: str
    place: Place


class Repeat(NamedTuple):
    """Do the step again until the condition holds, at most so often."""

    until: Expr
    text: str
    at_most: int
    otherwise: str
    """The id of a trouble of this step, or empty."""
    place: Place


class Condition(NamedTuple):
    """When a step applies."""

    expr: Expr
    text: str
    place: Place


Facts = tuple[tuple[int, int], ...]
"""(index of a tracked state, index of its value) pairs."""


class Step(NamedTuple):
    """One act of one person."""

    id: str
    number: str
    """As people say it: phase, dot, place in the phase; in a phase with two lists the list's letter goes in: 5a.3."""
    by: str
    """A role."""
    do: Template
    why: str
    explain: str
    cautions: tuple[Caution, ...]
    """Gravest first, people before property."""
    needs: Facts
    makes: Facts
    when: Condition | None
    hold: Hold | None
    asks: tuple[Ask, ...]
    second: SecondLook | None
    optional: str
    """Empty: must be done. `reason`: may be left out with a reason. A role: with that role's agreement too."""
    repeat: Repeat | None
    troubles: tuple[Trouble, ...]
    expect_s: float | None
    uses: frozenset[str]
    """Names of the values that its text, condition and limits use."""
    place: Place
    lifts: tuple[tuple[str, tuple[str, ...]], ...] = ()
    """(value that says the load, names of the lifting gear that carries all of it)."""


class StepList(NamedTuple):
    """Steps that one after the other are done."""

    person: str
    """The role whose list it is; empty in a phase with one list."""
    steps: tuple[Step, ...]


class SafeAct(NamedTuple):
    """One act of stopping and making safe."""

    do: str
    makes: Facts
    place: Place


class Phase(NamedTuple):
    """A part of the work; it ends when all its lists have ended."""

    name: str
    press: str
    """running (could be done while the last job runs) or stopped."""
    park: str
    """after: its end is a safe place to be interrupted; throughout: any moment of it is; empty: none."""
    lists: tuple[StepList, ...]
    make_safe: tuple[SafeAct, ...]
    place: Place


class Change(NamedTuple):
    """A line of the revision history."""

    revision: int
    date: str
    why: str
    retrain: str
    """none, read or demonstrate."""


class Approval(NamedTuple):
    """Who approved which text."""

    by: str
    on: str
    digest: str


class Procedure(NamedTuple):
    """The compiled whole."""

    id: str
    title: str
    revision: int
    status: str
    """draft, approved or withdrawn."""
    equipment: str
    purpose: str
    changes: tuple[Change, ...]
    approval: Approval | None
    people: tuple[tuple[str, str], ...]
    """(role, how people call it), as the author lists them."""
    tools: tuple[str, ...]
    cautions: tuple[Caution, ...]
    inputs: tuple[Input, ...]
    racks: tuple[Rack, ...]
    states: tuple[TrackedState, ...]
    calculations: tuple[Calculation | Split, ...]
    """Each after all that it uses."""
    scope: Scope
    """Tables and web paths, as formulas see them."""
    make_safe: tuple[SafeAct, ...]
    phases: tuple[Phase, ...]
    digest: str
    """SHA-256 over the text with its fragments, in hexadecimal."""
    sources: tuple[tuple[str, str], ...]
    """(path as the author writes it, text): the procedure first, then its fragments."""
    places: tuple[tuple[str, Place], ...] = ()
    """Where further named things stand (tables, web paths and their rollers), for findings."""
    used_at: tuple[tuple[str, tuple[Place, ...]], ...] = ()
    """(path of a fragment, where the procedure brings it in, directly or through others), for findings."""


def steps_of(procedure: Procedure) -> tuple[Step, ...]:
    """All steps, in the order of the text."""
    return tuple(step for phase in procedure.phases for steps in phase.lists for step in steps.steps)
