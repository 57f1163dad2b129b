"""Whether what somebody answered is what was shown: the same word, or a number as near as the dial can be read.

Lesson and result both come here, so that a right response and a reading are held to the same.
"""

from dataclasses import dataclass

from runner.engine import events as ev
from runner.formula.quantity import Misread, read_quantity
from runner.procedure.model import Procedure, steps_of
from runner.procedure.scenarios.equipment import GAUGE_SHARE
from runner.procedure.scenarios.model import Scenario


@dataclass(frozen=True, slots=True)
class Shown:
    """What an ask showed, as one would type it, and where that stands in the record."""

    value: str
    line: int


def reading_off(event: ev.Answered, shown: Shown, scenario: Scenario, procedure: Procedure) -> bool:
    """True where an answer differs from what was shown, by more than a dial can be read."""
    name = event.name
    ask = next((ask for step in steps_of(procedure) for ask in step.asks if ask.name == name), None)
    if ask is None or ask.unit is None or not isinstance(event.value, float):
        return str(event.value).casefold() != shown.value.casefold()
    read = read_quantity(shown.value, ask.unit)
    if isinstance(read, Misread):
        return True
    dials = [
        one for one in (*scenario.shows, *(s for fault in scenario.faults for s in fault.shows)) if one.ask == name
    ]
    gauge = next((one.gauge for one in dials if one.gauge is not None), None)
    slack = 1e-9 * abs(read.si) if gauge is None else GAUGE_SHARE * abs(ask.unit.si(gauge[1]) - ask.unit.si(gauge[0]))
    return abs(event.value - read.si) > slack
