"""The arithmetic of a procedure, worked out: one calculation over known values, with its working and its limits.

The engine, `changeover work` and the linter's examples all come here, so they cannot disagree. Nothing is raised:
a result that cannot be had is a `Worked` with the verdict `failed` and the reason in `shown`.
"""

import math
from collections.abc import Mapping
from typing import NamedTuple

from runner.formula.evaluate import Value, evaluate
from runner.formula.explain import explain
from runner.formula.fault import Fault
from runner.formula.quantity import show
from runner.formula.units import Unit
from runner.procedure.model import Calculation, Limit, Procedure, Rounding, Split
from runner.trade.pieces import choose_pieces

GRAMS = 1000
"""Pieces are counted in whole grams, so that no sum of floats decides."""


class Worked(NamedTuple):
    """What came out."""

    value: float
    """SI; for a split the hung mass in kg; NaN where it failed."""
    magnitude: float | None
    unit: str
    shown: str
    formula: str
    inputs: tuple[tuple[str, str], ...]
    """(name, shown), in the order of the names."""
    working: str
    limits: str
    verdict: str
    """in, out or failed."""
    ends: tuple[tuple[tuple[str, int], ...], ...] = ()


def uses(calculation: Calculation | Split) -> frozenset[str]:
    """Names that must be known before it can be worked out."""
    return calculation.uses


def units_of(procedure: Procedure) -> dict[str, Unit]:
    """The unit in which each number of the procedure is shown, by name; a split is shown in its rack's unit."""
    units = {given.name: given.unit for given in procedure.inputs if given.unit is not None}
    racks = {rack.name: rack.unit for rack in procedure.racks}
    for calculation in procedure.calculations:
        if isinstance(calculation, Split):
            units[calculation.name] = racks[calculation.rack]
        else:
            units[calculation.name] = calculation.unit
    for phase in procedure.phases:
        for steps in phase.lists:
            for step in steps.steps:
                units.update({ask.name: ask.unit for ask in step.asks if ask.unit is not None})
    return units


def work_out(
    procedure: Procedure, calculation: Calculation | Split, values: Mapping[str, Value], shown: Mapping[str, str]
) -> Worked:
    """One calculation over values (SI floats and texts, by name); `shown` has the same as a person reads them."""
    inputs = tuple((name, shown[name]) for name in sorted(uses(calculation)) if name in shown)
    if isinstance(calculation, Split):
        return _split(procedure, calculation, values, inputs)
    working = explain(calculation.formula, shown)
    found = evaluate(calculation.formula, values, procedure.scope)
    if isinstance(found, Fault):
        return _failed(calculation.unit, found.message, calculation.text, inputs, working)
    value, unit = _rounded(float(found), calculation.rounding), calculation.unit
    verdict, limits = _within_limits(procedure, calculation, value, values)
    shown_value = show(value, unit)
    if calculation.rounding is not None:
        # rounding hides no broken limit: 800.2 kg is over 800 kg, and a bar that is too heavy by itself wants no 0 kg
        before, _ = _within_limits(procedure, calculation, float(found), values)
        if before != "in":
            verdict, shown_value = before, f"{shown_value}, rounded from {show(float(found), unit)}"
        working = f"{working} = {show(float(found), unit)}, rounded {calculation.rounding.text}"
    return Worked(
        value, unit.magnitude(value), unit.text, shown_value, calculation.text, inputs, working, limits, verdict
    )


def _failed(unit: Unit, why: str, formula: str, inputs: tuple[tuple[str, str], ...], working: str) -> Worked:
    return Worked(math.nan, None, unit.text, why, formula, inputs, working, "", "failed")


def _rounded(value: float, rounding: Rounding | None) -> float:
    if rounding is None:
        return value
    steps = value / rounding.step
    whole = round(steps)
    if abs(steps - whole) < 1e-9 * max(1.0, abs(steps)):
        return whole * rounding.step  # already on a step: no float noise may push it to the next one
    match rounding.direction:
        case "up":
            return math.ceil(steps) * rounding.step
        case "down":
            return math.floor(steps) * rounding.step
        case _:
            return whole * rounding.step


def _within_limits(
    procedure: Procedure, calculation: Calculation, value: float, values: Mapping[str, Value]
) -> tuple[str, str]:
    verdict, words = "in", []
    for limit in calculation.limits:
        bound = evaluate(limit.bound, values, procedure.scope)
        if isinstance(bound, Fault):
            return "failed", bound.message
        words.append(f"{limit.op} {show(float(bound), calculation.unit)}")
        if not _holds(limit, value, float(bound)):
            verdict = "out"
    return verdict, " and ".join(words)


def _holds(limit: Limit, value: float, bound: float) -> bool:
    """The noise of floats breaks no limit: 0.3 mm is within <= 0.3 mm however it was rounded."""
    slack = 1e-12 * max(abs(value), abs(bound))
    match limit.op:
        case "<=":
            return value <= bound + slack
        case "<":
            return value < bound - slack
        case ">=":
            return value >= bound - slack
        case _:
            return value > bound + slack


def _split(
    procedure: Procedure, split: Split, values: Mapping[str, Value], inputs: tuple[tuple[str, str], ...]
) -> Worked:
    rack = next(rack for rack in procedure.racks if rack.name == split.rack)
    wanted = float(values[split.mass])
    named = {grams: text for text, grams, _ in rack.stock}
    stock = tuple((grams, count) for _, grams, count in rack.stock)
    choice = choose_pieces(round(wanted * GRAMS), stock, ends=split.ends, within_g=round(split.within * GRAMS))
    ends = tuple(tuple((named[grams], count) for grams, count in end) for end in choice.ends)
    hung = choice.hung_g / GRAMS
    limits = f"within {show(split.within, rack.unit)} of {show(wanted, rack.unit)}"
    formula = f"{split.mass} from {split.rack} at {split.ends} ends"
    working = f"{show(wanted, rack.unit)} wanted, {show(hung, rack.unit)} hung: {_ends_words(ends, rack.unit)}"
    words = _ends_words(ends, rack.unit)
    if not choice.within:
        words = f"no choice of pieces comes {limits}; the nearest is {show(hung, rack.unit)}: {words}"
    return Worked(
        hung, rack.unit.magnitude(hung), rack.unit.text, words, formula, inputs, working, limits,
        "in" if choice.within else "out", ends,
    )  # fmt: skip


def _ends_words(ends: tuple[tuple[tuple[str, int], ...], ...], unit: Unit) -> str:
    def words(end: tuple[tuple[str, int], ...]) -> str:
        return " + ".join(f"{count} x {piece} {unit.text}" for piece, count in end) or "nothing"

    if len(set(ends)) == 1:
        return f"{words(ends[0])} at each end" if len(ends) > 1 else words(ends[0])
    return ", ".join(f"end {number}: {words(end)}" for number, end in enumerate(ends, start=1))
