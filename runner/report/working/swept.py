"""A sweep worked out: what every value comes to at each place, and how it runs between the places of a range.

Nothing is left out silently: a value that cannot be worked out somewhere is there as a result with its reason.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from runner.formula.evaluate import Value, evaluate
from runner.formula.expr import Expr
from runner.formula.fault import Fault
from runner.formula.units import Unit
from runner.procedure.model import Calculation, Procedure
from runner.procedure.working import Worked, units_of
from runner.report.working.given import Given, given_of
from runner.report.working.sweep import ORIGIN, Sweep
from runner.report.working.worked import Results, depending, work_all

FINE = 240
"""Cuts between the ends of a range, for what is drawn; rounding then shows its steps."""


@dataclass(frozen=True, slots=True)
class Bound:
    """One side of a limit along a curve."""

    op: str
    ys: tuple[float | None, ...]
    """In the curve's unit; None where it cannot be worked out."""


@dataclass(frozen=True, slots=True)
class Curve:
    """One value over all places of a sweep, as numbers to be drawn."""

    name: str
    unit: str
    xs: tuple[float, ...]
    """In the sweep's unit; for a list its places 0, 1, 2."""
    ys: tuple[float | None, ...]
    """In `unit`; None where there is no result."""
    verdicts: tuple[str, ...]
    """Of `runner.procedure.working.VERDICTS`, for each place."""
    bounds: tuple[Bound, ...]

    @property
    def still(self) -> bool:
        """True where there is nothing to draw: the same number everywhere, and in its limits."""
        return len(set(self.ys)) == 1 and set(self.verdicts) == {"in"}


@dataclass(frozen=True, slots=True)
class Swept:
    """A sweep and what came out."""

    sweep: Sweep
    results: tuple[Results, ...]
    """One for each value of the sweep."""
    names: tuple[str, ...]
    """What is shown: those picked, else all that depend on what is swept and could be begun."""
    steady: tuple[str, ...]
    """Values that do not depend on it."""
    lacking: Mapping[str, tuple[str, ...]]
    """Values that were not begun, and what they need."""
    units: Mapping[str, Unit]
    curves: tuple[Curve, ...]

    @property
    def clean(self) -> bool:
        """True where every shown value is in its limits at every place."""
        return all(found.verdict == "in" for name in self.names for found in self.along(name))

    def along(self, name: str) -> tuple[Worked, ...]:
        """One value at every place."""
        return tuple(result.worked.get(name) or missing(self.units[name], result, name) for result in self.results)


def missing(unit: Unit, result: Results, name: str) -> Worked:
    """A result that could not be begun because another one failed."""
    why = "needs " + ", ".join(result.lacking.get(name, ()))
    return Worked(float("nan"), None, unit.text, why, "", (), "", "", "failed")


def sweep_out(
    procedure: Procedure, given: Mapping[str, Given], sweep: Sweep, picked: tuple[str, ...] = (), drawn: bool = True
) -> Swept | str:
    """Work the sweep out; or what is wrong with the names that were picked. `drawn`: with curves."""
    swept = sweep.source.name
    known = [calculation.name for calculation in procedure.calculations]
    for name in picked:
        if name not in known:
            return f"--values: {name} is not worked out by this procedure; there are {', '.join(known)}"
    results = tuple(work_all(procedure, {**given, swept: one}) for one in sweep.given)
    moved = depending(procedure, swept)
    begun = {name for result in results for name in result.worked}
    names = tuple(name for name in (picked or moved) if name in begun)
    if not names:
        return nothing_to_show(swept, moved, picked, results[0])
    units = units_of(procedure)
    told = picked or tuple(known)
    lacking = {name: needs for name, needs in results[0].lacking.items() if name in told and name not in begun}
    steady = () if picked else tuple(name for name in known if name in begun and name not in moved)
    curves = curves_of(procedure, given, sweep, results, names, units) if drawn else ()
    return Swept(sweep, results, names, steady, lacking, units, curves)


def nothing_to_show(swept: str, moved: tuple[str, ...], picked: tuple[str, ...], first: Results) -> str:
    """Why a sweep has no value to show."""
    if not moved and not picked:
        return f"nothing is worked out from {swept}, so there is nothing to sweep"
    needs = dict.fromkeys(need for name in (picked or moved) for need in first.lacking.get(name, ()))
    return f"nothing can be worked out yet; give {', '.join(needs)} too, with --job or --set"


def curves_of(
    procedure: Procedure,
    given: Mapping[str, Given],
    sweep: Sweep,
    results: tuple[Results, ...],
    names: tuple[str, ...],
    units: Mapping[str, Unit],
) -> tuple[Curve, ...]:
    """One curve a value: over a range finely, over a list at its values."""
    if sweep.ranged:
        xs = fine(sweep)
        assert sweep.unit is not None  # a range is one of numbers
        source, unit = sweep.source, sweep.unit
        jobs = [{**given, source.name: given_of(source, unit.si(x), ORIGIN)} for x in xs]
        results = tuple(work_all(procedure, job, brief=True) for job in jobs)
    else:
        xs = tuple(float(number) for number in range(len(results)))
    formulas = {one.name: one for one in procedure.calculations if isinstance(one, Calculation)}
    return tuple(curve_of(procedure, formulas.get(name), name, units[name], xs, results) for name in names)


def fine(sweep: Sweep) -> tuple[float, ...]:
    """Places of a range from end to end, in the sweep's unit."""
    assert sweep.unit is not None  # a range is one of numbers
    first, last = (sweep.unit.magnitude(float(sweep.given[end].value)) for end in (0, -1))
    return (*(first + (last - first) * number / FINE for number in range(FINE)), last)


def curve_of(
    procedure: Procedure,
    formula: Calculation | None,
    name: str,
    unit: Unit,
    xs: tuple[float, ...],
    results: tuple[Results, ...],
) -> Curve:
    """One value over all places, with its limits."""
    found = [result.worked.get(name) for result in results]
    bounds = tuple(
        Bound(limit.op, tuple(bound_at(procedure, limit.bound, unit, result.values) for result in results))
        for limit in (formula.limits if formula is not None else ())
    )
    return Curve(
        name,
        "" if unit.text == "1" else unit.text,
        xs,
        tuple(None if one is None else one.magnitude for one in found),
        tuple("failed" if one is None else one.verdict for one in found),
        bounds,
    )


def bound_at(procedure: Procedure, bound: Expr, unit: Unit, values: Mapping[str, Value]) -> float | None:
    """A limit in the unit of its value; None where it cannot be worked out."""
    found = evaluate(bound, values, procedure.scope)
    return None if isinstance(found, Fault | str) else unit.magnitude(float(found))
