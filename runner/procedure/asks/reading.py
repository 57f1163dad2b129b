"""A reading: a number that a person takes from a gauge, a scale or a tape, typed with or without its unit.

Out of limits and unlikely are told apart here; how often one may type again is the engine's affair.
"""

from collections.abc import Mapping

from runner.formula.evaluate import Value, evaluate, si_of
from runner.formula.expr import Expr, Number, names_in
from runner.formula.fault import Fault
from runner.formula.quantity import Misread as QuantityMisread
from runner.formula.quantity import read_quantity, show
from runner.formula.scope import Scope
from runner.formula.units import Unit
from runner.procedure.asks.ask import Ask, AskKind, Judged, Misread, Prompt
from runner.procedure.desk import Desk, one_line
from runner.procedure.language.shape import FORMULA, ID, NAME, NUMBER, TEXT, UNIT, Group, Key, ListOf, MapOf, Record
from runner.procedure.nodes import Map, key_place
from runner.say.text import say

READ = Record(
    "a reading",
    (
        Key("ask", TEXT, True, "The question.", "ask: Pressure on the gauge"),
        Key(
            "unit",
            UNIT,
            True,
            "The unit of the answer. Another of the same dimension may be typed with the number.",
            "unit: bar",
        ),
        Key(
            "within",
            ListOf(FORMULA, 2, 2),
            False,
            "Least and greatest value allowed: numbers in the unit, or formulas.",
            "within: [5.5, 7]",
        ),
        Key("at_least", FORMULA, False, "The least value allowed, where there is no greatest.", "at_least: 5.5"),
        Key(
            "at_most", FORMULA, False, "The greatest value allowed, where there is no least.", "at_most: 1.1 * core_od"
        ),
        Key("likely", ListOf(NUMBER, 2, 2), False, "Outside of these a value must be typed twice.", "likely: [6, 6.5]"),
        Key(
            "else",
            ID,
            False,
            "The trouble of this step that a value out of limits leads to, after one re-entry.",
            "else: leak",
        ),
    ),
    "A number to be read off and typed.",
    (Group("at most one", ("within", "at_least")), Group("at most one", ("within", "at_most"))),
)

SHAPE = Key(
    "read",
    MapOf(NAME, READ, 1, "name of the reading"),
    False,
    "Numbers to read off. Each is a value for formulas and slots from then on.",
    "read:\n  core_pressure: {ask: Pressure on the gauge, unit: bar, within: [5.5, 7], else: leak}",
)


def build(step: Map, desk: Desk) -> tuple[Ask, ...]:
    """The readings of a step."""
    readings: Map = step["read"]
    return tuple(ask for name in readings if (ask := reading(readings, name, desk)) is not None)


def reading(readings: Map, name: str, desk: Desk) -> Ask | None:
    """One reading; None where its unit is unknown."""
    node: Map = readings[name]
    unit = desk.unit(node, "unit")
    if unit is None:
        return None
    low, high = limits_of(node, unit, desk)
    if isinstance(low, Number) and isinstance(high, Number) and si_of(low) > si_of(high):
        desk.at_value("limits-reversed", "the least value is greater than the greatest", node, "within")
    return Ask(
        "read",
        name,
        one_line(node["ask"]),
        key_place(readings, name),
        unit=unit,
        low=low,
        high=high,
        likely=desk.band(node, "likely", unit),
        otherwise=node.get("else", "").strip(),
    )


def limits_of(node: Map, unit: Unit, desk: Desk) -> tuple[Expr | None, Expr | None]:
    """Least and greatest value as formulas; None where that side is open."""
    if "within" in node:
        pair = node["within"]
        return desk.number_or_formula(pair, 0, unit, "the least value"), desk.number_or_formula(
            pair, 1, unit, "the greatest value"
        )
    low = desk.number_or_formula(node, "at_least", unit, "the least value") if "at_least" in node else None
    high = desk.number_or_formula(node, "at_most", unit, "the greatest value") if "at_most" in node else None
    return low, high


def prompt(ask: Ask, values: Mapping[str, Value], scope: Scope) -> Prompt:
    """A number in the unit, with what is accepted."""
    unit = unit_of(ask)
    return Prompt("number", ask.ask, unit=shown_unit(unit), limits=limits_text(ask, values, scope))


def unit_of(ask: Ask) -> Unit:
    """The unit of an ask that has one."""
    assert ask.unit is not None  # readings and feeds are built with a unit
    return ask.unit


def shown_unit(unit: Unit) -> str:
    """The unit as people read it; nothing for a pure number."""
    return "" if unit.text == "1" else unit.text


def limits_text(ask: Ask, values: Mapping[str, Value], scope: Scope) -> str:
    """What is accepted, in the author's unit: '5.5 to 7 bar'; a limit that cannot be worked out yet shows its formula."""
    unit = unit_of(ask)
    low, high = (side_text(side, unit, values, scope) for side in (ask.low, ask.high))
    if low and high:
        return say("{low} to {high}", low=low.removesuffix(" " + unit.text), high=high)
    return say("at least {low}", low=low) if low else say("at most {high}", high=high) if high else ""


def side_text(side: Expr | None, unit: Unit, values: Mapping[str, Value], scope: Scope) -> str:
    """One limit with its unit; its formula where values are missing; nothing where there is none."""
    from runner.formula.explain import explain

    if side is None:
        return ""
    value = evaluate(side, values, scope)
    if isinstance(value, float):
        return show(value, unit)
    return explain(side, {name: name for name in names_in(side)})


def accept(ask: Ask, typed: str, values: Mapping[str, Value], scope: Scope) -> Judged | Misread:
    """The typed number with its verdict: out of limits goes before unlikely."""
    unit = unit_of(ask)
    read = read_quantity(typed, unit)
    if isinstance(read, QuantityMisread):
        return Misread(read.message)
    sides = []
    for side in (ask.low, ask.high):
        limit = None if side is None else evaluate(side, values, scope)
        if isinstance(limit, Fault):
            return Misread(say("the limit cannot be worked out: {message}", message=limit.message))
        sides.append(limit if isinstance(limit, float) else None)
    verdict = "in"
    if ask.likely is not None and not within(read.si, *ask.likely):
        verdict = "unlikely"
    if not within(read.si, *sides):
        verdict = "out"
    return Judged(
        read.si, shown_unit(unit), unit.magnitude(read.si), read.echo, verdict, limits_text(ask, values, scope)
    )


def within(value: float, low: float | None, high: float | None) -> bool:
    """Whether a value keeps to its limits; a limit that was worked out is met up to the rounding of its arithmetic."""
    slack = 1e-12 * max(abs(value), abs(low or 0.0), abs(high or 0.0))
    return (low is None or value >= low - slack) and (high is None or value <= high + slack)


def printed(ask: Ask, values: Mapping[str, Value], scope: Scope) -> tuple[str, ...]:
    """The question with a blank, the unit and the limits."""
    limits = limits_text(ask, values, scope)
    return (f"{ask.ask}: ________ {shown_unit(unit_of(ask))}".rstrip() + (f" ({limits})" if limits else ""),)


READING = AskKind("read", SHAPE, build, prompt, accept, printed, "reading")
