"""Every name that a formula may use: what it is, its kind, where it is defined. One name, one thing.

A name whose own definition is faulty stays known, without a kind, so that its users are not complained of.
"""

from typing import NamedTuple

from runner.formula.expr import CONSTANT_NAMES
from runner.formula.functions import FUNCTIONS
from runner.formula.kinds import Kind
from runner.formula.units import UNITS, Unit
from runner.procedure.desk import Desk, near
from runner.procedure.finding import Place

TAKEN = frozenset({*CONSTANT_NAMES, "and", "or", "not", "true", "false"})
"""Words that mean something in every formula and can name nothing else."""


class Known(NamedTuple):
    """What a name stands for."""

    name: str
    what: str
    """input, table, web path, calculation, reading, choice, scan or feed."""
    kind: Kind | None
    """None where its definition is faulty."""
    unit: Unit | None
    place: Place
    step: str = ""
    """The id of the step that asks for it; empty for all else."""


class Names:
    """The names of one procedure."""

    __slots__ = ("desk", "known", "states")

    def __init__(self, desk: Desk) -> None:
        self.desk = desk
        self.known: dict[str, Known] = {}
        self.states: dict[str, tuple[str, ...]] = {}
        """States with their values: no names of formulas, but often taken for some."""

    def declare(self, known: Known) -> None:
        """Take in a name, with a finding where it is taken already."""
        name, first = known.name, self.known.get(known.name)
        if first is not None:
            message = f"`{name}` is the name of the {first.what} in line {first.place.line} already"
            self.desk.add("name-twice", message, known.place, "One name stands for one thing in the whole procedure.")
            return
        self.known[name] = known
        if name in TAKEN:
            self.desk.add(
                "name-taken", f"`{name}` has a meaning of its own in formulas", known.place, "Choose another name."
            )
        elif name in FUNCTIONS or name in UNITS:
            what = "function" if name in FUNCTIONS else "unit"
            message = f"`{name}` is also a {what}, and formulas read badly with it"
            self.desk.add("name-like-word", message, known.place, "A longer name says what the value is.")

    def hint_about(self, name: str) -> str:
        """What to say of a name that is not there."""
        if name in self.states and name not in self.known:
            return "States are no names in formulas or slots; write `needs`."
        return near(name, tuple(self.known))

    def kinds(self) -> dict[str, Kind]:
        """The kind of every name that has one."""
        return {name: known.kind for name, known in self.known.items() if known.kind is not None}

    def of(self, *what: str) -> tuple[str, ...]:
        """The names of things of one sort."""
        return tuple(name for name, known in self.known.items() if known.what in what)
