"""Random answers to what a step asks: inside the limits, or outside of one of them on purpose.

A step that is repeated until something holds gets an answer with which it holds, as often as `HOLDS` says.
"""

from collections.abc import Mapping
from random import Random

from runner.formula.evaluate import Value, evaluate
from runner.formula.expr import Expr
from runner.formula.quantity import shown_number
from runner.formula.scope import Scope
from runner.procedure.asks.ask import Ask
from runner.procedure.asks.reading import within
from runner.procedure.jobs.space import ANYTHING
from runner.procedure.model import Step
from runner.training.simulate.jobs import LABEL, rounded_inside

HOLDS = 0.75
"""How often an answer is meant to end a repeated step."""
TRIES = 12
"""Answers looked at for one that ends it."""
FED_MORE = 1.1
"""Web is fed up to this share of what is needed."""
OTHER_LABEL = "another label"
FARTHER = 0.1
"""How far beyond a limit an answer lies, as a share of it."""


def inside(ask: Ask, step: Step, values: Mapping[str, Value], scope: Scope, chance: Random) -> str:
    """An answer within limits, as typed."""
    if step.repeat is None or chance.random() >= HOLDS:
        return any_inside(ask, values, scope, chance)
    typed = ""
    for _ in range(TRIES):
        typed = any_inside(ask, values, scope, chance)
        value: Value = typed if ask.unit is None else ask.unit.si(float(typed))
        if evaluate(step.repeat.until, {**values, ask.name: value}, scope) is True:
            break
    return typed


def any_inside(ask: Ask, values: Mapping[str, Value], scope: Scope, chance: Random) -> str:
    """An answer within limits, whatever it leads to."""
    match ask.kind:
        case "thread":
            return "all"
        case "scan" | "choose" if ask.match:
            return str(values.get(ask.match, LABEL))
        case "scan":
            return LABEL
        case "choose":
            return chance.choice(ask.accept or ask.of)
        case _:
            return number_inside(ask, values, scope, chance)


def number_inside(ask: Ask, values: Mapping[str, Value], scope: Scope, chance: Random) -> str:
    """A number within limits, a likely one where that is said, in the unit that is asked for."""
    assert ask.unit is not None  # readings and feeds have one
    low, high = end(ask.low, values, scope), end(ask.high, values, scope)
    if ask.kind == "advance" and low is not None:
        high = FED_MORE * low
    least, most = -ANYTHING if low is None else low, ANYTHING if high is None else high
    if ask.likely is not None and max(least, ask.likely[0]) <= min(most, ask.likely[1]):
        least, most = max(least, ask.likely[0]), min(most, ask.likely[1])
    value = rounded_inside(chance, least, most, ask.unit)
    text = shown_number(ask.unit.magnitude(value), ".6g")
    return text if within(ask.unit.si(float(text)), low, high) else repr(ask.unit.magnitude(value))


def outside(ask: Ask, values: Mapping[str, Value], scope: Scope, chance: Random) -> tuple[str, str] | None:
    """(an answer out of limits as typed, which limit: low, high, answer); None where every answer is within."""
    match ask.kind:
        case "thread" | "wait" | "advance":
            return None
        case "scan":
            return (OTHER_LABEL, "answer") if ask.match else None
        case "choose":
            wanted = (str(values.get(ask.match, "")),) if ask.match else ask.accept
            others = [text for text in ask.of if wanted and text not in wanted]
            return (chance.choice(others), "answer") if others else None
        case _:
            return number_outside(ask, values, scope, chance)


def number_outside(ask: Ask, values: Mapping[str, Value], scope: Scope, chance: Random) -> tuple[str, str] | None:
    """A number beyond one of its limits."""
    assert ask.unit is not None  # readings have one
    low, high = end(ask.low, values, scope), end(ask.high, values, scope)
    sides = [side for side, limit in (("low", low), ("high", high)) if limit is not None]
    if not sides:
        return None
    side = chance.choice(sides)
    limit = (low if side == "low" else high) or 0.0
    one = ask.unit.si(1.0) - ask.unit.si(0.0)
    beyond = max(FARTHER * abs(limit), one)
    value = limit - beyond if side == "low" else limit + beyond
    return shown_number(ask.unit.magnitude(value), ".6g"), side


def end(bound: Expr | None, values: Mapping[str, Value], scope: Scope) -> float | None:
    """A limit worked out; None where there is none."""
    found = None if bound is None else evaluate(bound, values, scope)
    return found if isinstance(found, float) else None
