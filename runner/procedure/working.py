"""The arithmetic of a procedure, worked out: one calculation over known values, with its working and its limits.

The engine, `changeover work` and the linter's examples all come here, so they cannot disagree. Nothing is raised:
a result that cannot be had is a `Worked` with the verdict `failed` and the reason in `shown`.
"""

import math
from collections.abc import Mapping
from types import MappingProxyType
from typing import NamedTuple

from runner.formula.evaluate import Value, evaluate
from runner.formula.explain import explain
from runner.formula.fault import Fault
from runner.formula.functions.numbers import round_down, round_to, round_up
from runner.formula.quantity import show
from runner.formula.units import Unit
from runner.procedure.hung import ends_words, gives_words, hang
from runner.procedure.looked_up import looked_up
from runner.procedure.model import Calculation, Limit, Procedure, Rounding, Split
from runner.procedure.rough import compare
from runner.procedure.where_from import Origins, origins_of
from runner.say.text import say

DIRECTIONS = {"up": round_up, "down": round_down, "nearest": round_to}

VERDICTS = ("in", "out", "held", "failed")
"""What may come out: within its limits; out of them, or doubted by its rough check; pieces out of tolerance that a role may
accept; no result."""


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
    """One of `VERDICTS`."""
    ends: tuple[tuple[tuple[str, int], ...], ...] = ()
    origins: Origins = ()
    """Where each input, table row and constant comes from."""
    rough: str = ""
    """What the author's rough check says; empty without one."""
    gives: str = ""
    """For pieces: what they really give beside what was wanted; empty where the author does not ask."""
    doubted: bool = False
    """True where the rough check disagrees; the verdict is out then."""


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
    procedure: Procedure,
    calculation: Calculation | Split,
    values: Mapping[str, Value],
    shown: Mapping[str, str],
    origins: Mapping[str, str] = MappingProxyType({}),
    *,
    told: bool = True,
) -> Worked:
    """One calculation over values (SI floats and texts, by name).

    `shown` has the same as a person reads them, `origins` where those came from as far as a run knows more than the
    procedure. Where it is not `told`, nobody reads what comes out: value, limits and verdict count, and no working is written.
    """
    inputs = tuple((name, shown[name]) for name in sorted(uses(calculation)) if name in shown)
    where_from = origins_of(procedure, calculation, shown, origins) if shown else ()
    if isinstance(calculation, Split):
        worked = _split(procedure, calculation, values, shown)
    else:
        worked = _formula(procedure, calculation, values, shown, told=told)
    return worked._replace(inputs=inputs, origins=where_from)


def _formula(
    procedure: Procedure,
    calculation: Calculation,
    values: Mapping[str, Value],
    shown: Mapping[str, str],
    *,
    told: bool,
) -> Worked:
    found_there = looked_up(calculation.formula, values, procedure.scope) if shown else {}
    working = explain(calculation.formula, {**shown, **found_there}) if told else ""
    unit, text = calculation.unit, calculation.text
    found = evaluate(calculation.formula, values, procedure.scope)
    if isinstance(found, Fault):
        return Worked(math.nan, None, unit.text, found.message, text, (), working, "", "failed")
    value = rounded(float(found), calculation.rounding)
    verdict, limits = _within_limits(procedure, calculation, value, values)
    shown_value = show(value, unit)
    if calculation.rounding is not None:
        # rounding hides no broken limit: 800.2 kg is over 800 kg, and a bar that is too heavy by itself wants no 0 kg
        before, _ = _within_limits(procedure, calculation, float(found), values)
        if before != "in":
            verdict, shown_value = (
                before,
                say("{value}, rounded from {exact}", value=shown_value, exact=show(float(found), unit)),
            )
        working = say(
            "{working} = {exact}, rounded {how}",
            working=working,
            exact=show(float(found), unit),
            how=calculation.rounding.text,
        )
    worked = Worked(value, unit.magnitude(value), unit.text, shown_value, text, (), working, limits, verdict)
    return worked if calculation.rough is None else _checked(procedure, calculation, worked, float(found), values)


def _checked(
    procedure: Procedure, calculation: Calculation, worked: Worked, found: float, values: Mapping[str, Value]
) -> Worked:
    """The result beside the author's rough check; where they differ the value does not count, and its limits say why."""
    if calculation.rough is None:
        return worked
    compared = compare(calculation.rough, found, calculation.unit, values, procedure.scope)
    if compared.agrees:
        return worked._replace(rough=compared.words)
    says = (
        say("the rough check says about {about}: one of the two is wrong", about=compared.about)
        if compared.about
        else compared.words
    )
    limit = say("within {share} % of the rough check", share=f"{100 * calculation.rough.within:.6g}")
    return worked._replace(
        shown=f"{worked.shown}; {says}",
        limits=say("{first} and {second}", first=worked.limits, second=limit) if worked.limits else limit,
        verdict="failed" if worked.verdict == "failed" else "out",
        rough=compared.words,
        doubted=True,
    )


def rounded(value: float, rounding: Rounding | None) -> float:
    """The value on a step in the author's direction, as the functions of the same names do it: halves away from zero.

    A number so large that its steps cannot be counted stays as it is.
    """
    if rounding is None:
        return value
    try:
        return DIRECTIONS[rounding.direction](value, rounding.step)
    except OverflowError:
        return value


def _within_limits(
    procedure: Procedure, calculation: Calculation, value: float, values: Mapping[str, Value]
) -> tuple[str, str]:
    verdict, words = "in", []
    for limit in calculation.limits:
        bound = evaluate(limit.bound, values, procedure.scope)
        if isinstance(bound, Fault):
            return "failed", bound.message
        words.append(f"{limit.op} {show(float(bound), calculation.unit)}")
        if not holds(limit, value, float(bound)):
            verdict = "out"
    return verdict, say(" and ").join(words)


def holds(limit: Limit, value: float, bound: float) -> bool:
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


def _split(procedure: Procedure, split: Split, values: Mapping[str, Value], shown: Mapping[str, str]) -> Worked:
    rack = next(rack for rack in procedure.racks if rack.name == split.rack)
    unit = rack.unit
    wanted = float(values[split.mass])
    hung, ends, within = hang(procedure, split, wanted)
    mass, wanted_mass = show(hung, unit), show(wanted, unit)
    words = ends_words(ends, unit.text)
    limits = say("within {tolerance} of {mass}", tolerance=show(split.within, unit), mass=wanted_mass)
    counted = f" {rack.counted}" if rack.counted else ""
    formula = say(
        "{mass} from {rack} at {count} ends", mass=split.mass, rack=f"{split.rack}{counted}", count=split.ends
    )
    if split.uneven:
        formula += ", " + say("which may differ by {mass}", mass=show(split.uneven, unit))
    working = say("{wanted} wanted, {hung} hung: {pieces}", wanted=wanted_mass, hung=mass, pieces=words)
    gives = ""
    if split.gives and shown:
        gives = gives_words(procedure, split, values, hung, units_of(procedure)[split.gives], mass)
    verdict = "in"
    if not within:
        verdict = "held" if split.release and wanted >= 0 else "out"
        nearest = say("the nearest is {mass}: {pieces}", mass=mass, pieces=words)
        nearest = say("less than nothing cannot be hung") if wanted < 0 else nearest
        words = say("no choice of pieces comes {limits}; {nearest}", limits=limits, nearest=nearest)
    return Worked(
        hung, unit.magnitude(hung), unit.text, words, formula, (), working, limits, verdict, ends, gives=gives
    )
