"""The values that a form is filled in with: none, those of a job, or those of a run.

A value that breaks a limit, and all that rests on it, is never filled in as if it could be worked by: it is said to be
out of limits wherever it stands. What is not known is a blank with its unit.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from runner.engine.shown import own_shown
from runner.engine.state import KnownValue
from runner.formula.evaluate import Value
from runner.formula.quantity import show
from runner.formula.units import Unit
from runner.procedure.asks.reading import shown_unit
from runner.procedure.model import Procedure
from runner.procedure.template import Slot, Template, fill
from runner.procedure.working import units_of
from runner.report.sheet.form import BLANK
from runner.report.working.given import Given
from runner.report.working.worked import depending, work_all


@dataclass(frozen=True, slots=True)
class Known:
    """Values by name, with the units in which the procedure shows numbers."""

    procedure: Procedure
    units: Mapping[str, Unit]
    values: Mapping[str, KnownValue]
    bad: frozenset[str]
    """Names of values that are out of limits, held or without a result, and of all that rests on them."""

    @property
    def usable(self) -> dict[str, Value]:
        """The values that limits and conditions may be worked out with."""
        return {name: known.value for name, known in self.values.items() if known.counts and name not in self.bad}

    def filled(self, template: Template) -> str:
        """A text with its values, or with blanks."""
        return fill(template, self.slot)[0]

    def slot(self, slot: Slot) -> str:
        """What stands in the place of a slot."""
        known, unit = self.values.get(slot.name), slot.unit or self.units.get(slot.name)
        if slot.name in self.bad:
            return f"({self.label(slot.name)}: OUT OF LIMITS, stop)"
        if known is None or known.stale:
            return self.blank(slot.name, unit)
        if (slot.spec or slot.unit is not None) and unit is not None and isinstance(known.value, float):
            return show(known.value, unit, slot.spec)
        return known.shown if known.ends else own_shown(known)

    def blank(self, name: str, unit: Unit | None = None) -> str:
        """Room to write a value, with what it is called and its unit."""
        unit = unit or self.units.get(name)
        return f"{BLANK} {shown_unit(unit)} ({self.label(name)})" if unit else f"{BLANK} ({self.label(name)})"

    def label(self, name: str) -> str:
        """A value's name as people read it."""
        return name.replace("_", " ")


def known_of(procedure: Procedure, values: Mapping[str, KnownValue]) -> Known:
    """Values by name; what rests on one that does not count counts no more than that one."""
    broken = [name for name, known in values.items() if not known.stale and known.verdict not in ("in", "accepted")]
    bad = frozenset(below for name in broken for below in (name, *depending(procedure, name)))
    return Known(procedure, units_of(procedure), values, bad)


def known_from_job(procedure: Procedure, given: Mapping[str, Given]) -> Known:
    """The values of a job and all that can be worked out of them."""
    units = units_of(procedure)
    values = {
        name: KnownValue(
            name, one.value, one.shown, "ticket", units[name].text if name in units else "", origin=one.origin
        )
        for name, one in given.items()
    }
    for name, found in work_all(procedure, given).worked.items():
        values[name] = KnownValue(
            name, found.value, found.shown, "worked out", found.unit, verdict=found.verdict, working=found.working,
            formula=found.formula, limits=found.limits, ends=found.ends, inputs=found.inputs, origins=found.origins,
            rough=found.rough, gives=found.gives, origin="worked out",
        )  # fmt: skip
    return known_of(procedure, values)


def with_middles(known: Known) -> dict[str, Value]:
    """The usable values, and for each input that is a number and not known the middle of what is usual or allowed: good for
    a picture that shows an order, and for nothing else."""
    values = known.usable
    for one in known.procedure.inputs:
        band = one.likely or one.within
        if one.unit is not None and band is not None and one.name not in values:
            values[one.name] = (band.low + band.high) / 2.0
    return values
