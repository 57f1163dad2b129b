"""What the simulated equipment shows where a step asks: what the scenario says, else what is in order.

What is in order comes from the limits of the ask itself: the middle of them, the accepted answer, the text that must match.
Everything is a text as a person would type it, so that it is judged as typed answers are.
"""

from collections.abc import Mapping
from typing import NamedTuple

from runner.formula.evaluate import Value, evaluate
from runner.formula.quantity import Misread, read_quantity, show
from runner.procedure.asks.ask import Ask
from runner.procedure.model import Procedure
from runner.procedure.scenarios.model import Fault, Scenario, Shown

GAUGE_SHARE = 0.02
"""Of the dial's range, by which a reading may miss the pointer: half a large mark's fifth. Common practice, no source."""


class Indication(NamedTuple):
    """What one ask shows now."""

    ask: str
    value: str
    """As one would type it; empty where nothing can be said: values are missing."""
    gauge: tuple[float, float] | None
    words: str
    given: bool
    """True where the scenario answers and not the trainee."""
    fault: str
    """The id of the fault that changes it; empty for none."""


def indication(
    procedure: Procedure,
    scenario: Scenario,
    ask: Ask,
    attempt: int,
    values: Mapping[str, Value],
    faults: tuple[Fault, ...] = (),
) -> Indication:
    """What an ask shows at an attempt (from 1), with these faults on."""
    for fault in faults:
        for shown in fault.shows:
            if shown.ask == ask.name:
                return of(shown, attempt, fault.id)
    for shown in scenario.shows:
        if shown.ask == ask.name:
            return of(shown, attempt, "")
    return Indication(ask.name, in_order(procedure, ask, values), None, "", False, "")


def of(shown: Shown, attempt: int, fault: str) -> Indication:
    """What the author wrote."""
    return Indication(shown.ask, shown.at(attempt), shown.gauge, shown.words, shown.given, fault)


def misread(told: Indication, ask: Ask) -> tuple[str, ...]:
    """What a dial may be read as at the most, on both sides of its pointer, as one would type it; nothing for a card."""
    if told.gauge is None or ask.unit is None:
        return ()
    read = read_quantity(told.value, ask.unit)
    if isinstance(read, Misread):
        return ()
    slack = GAUGE_SHARE * abs(ask.unit.si(told.gauge[1]) - ask.unit.si(told.gauge[0]))
    return tuple(show(value, ask.unit) for value in (read.si - slack, read.si + slack))


def in_order(procedure: Procedure, ask: Ask, values: Mapping[str, Value]) -> str:
    """What an ask shows where all is well; empty where that needs values that are not known."""
    match ask.kind:
        case "thread":
            return "all"
        case "choose" | "scan":
            known = values.get(ask.match) if ask.match else None
            if isinstance(known, str):
                return known
            return (ask.accept or ask.of or ("A-1",))[0]
        case "read" | "advance":
            return reading_in_order(procedure, ask, values)
        case _:
            return ""


def reading_in_order(procedure: Procedure, ask: Ask, values: Mapping[str, Value]) -> str:
    """A number within the limits: the middle of two, a little inside of one, 0 without any."""
    assert ask.unit is not None  # readings and feeds are built with a unit
    sides: list[float | None] = []
    for side in (ask.low, ask.high):
        found = None if side is None else evaluate(side, values, procedure.scope)
        if found is not None and not isinstance(found, float | int):
            return ""
        sides.append(None if found is None else float(found))
    low, high = sides
    likely_low, likely_high = ask.likely or (None, None)
    low = likely_low if low is None else max(low, likely_low) if likely_low is not None and high is None else low
    high = likely_high if high is None else high
    if low is not None and high is not None:
        return show((low + high) / 2, ask.unit)
    return show(
        0.0 if low is None and high is None else low * 1.05 if low is not None else (high or 0.0) * 0.95, ask.unit
    )
