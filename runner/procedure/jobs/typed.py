"""A job as somebody would type it: the texts, and what the procedure makes of them.

A job that is shown to a person is typed, read back and worked out as in a run before anything is said about it.
"""

from collections.abc import Mapping

from runner.formula.evaluate import Value, evaluate
from runner.formula.quantity import Misread, read_quantity, show
from runner.procedure.jobs.space import Space
from runner.procedure.working import Worked, units_of, uses, work_out

FORMS = ("", ".7g", ".9g")
"""Forms in which a number is typed, the shortest first: some jobs stand so near to a limit that six digits do not tell."""


def typed(space: Space, job: Mapping[str, Value], form: str = "") -> dict[str, str]:
    """The values that people give, as they would type them, in the order of the ticket and the steps."""
    units = units_of(space.procedure)
    given = {name for name in (*space.free, *space.fixed) if name in job}
    texts: dict[str, str] = {}
    for name in (name for name in space.asked if name in given):
        value, unit = job[name], units.get(name)
        texts[name] = show(value, unit, form) if unit is not None and isinstance(value, float) else str(value)
    return texts


def read_back(space: Space, texts: Mapping[str, str]) -> dict[str, Value] | None:
    """The values of typed texts; None where one cannot be read or is outside the allowed band of its input."""
    units = units_of(space.procedure)
    values: dict[str, Value] = {}
    for name, text in texts.items():
        unit = units.get(name)
        if unit is None:
            values[name] = text
            continue
        read = read_quantity(text, unit)
        if isinstance(read, Misread) or not space.takes(name, read.si):
            return None
        values[name] = read.si
    return values


def worked_out(space: Space, texts: Mapping[str, str], name: str) -> Worked | None:
    """One calculation for a typed job as a run would work it out; None where what it rests on is missing or not allowed."""
    values = all_worked_out(space, texts, name)
    if values is None or not uses(space.worked[name]) <= values.keys():
        return None
    return work_out(space.procedure, space.worked[name], values, shown(space, values))


def all_worked_out(space: Space, texts: Mapping[str, str], own: str) -> dict[str, Value] | None:
    """The values of a typed job with all calculations but `own`; None where one has no result or breaks its limit."""
    values = read_back(space, texts)
    if values is None:
        return None
    for step in space.order:
        worked = space.worked.get(step)
        if step == own or step in values:
            continue
        if worked is None:
            if space.matched(step) in values:
                values[step] = values[space.matched(step)]
            continue
        found = work_out(space.procedure, worked, values, {}, told=False)
        if found.verdict != "in":
            return None
        values[step] = found.value
    for condition in space.conditions:
        if evaluate(condition, values, space.scope) is not True:
            return None
    return values


def shown(space: Space, values: Mapping[str, Value]) -> dict[str, str]:
    """Values as a person reads them."""
    units = units_of(space.procedure)
    return {
        name: show(value, units[name]) if name in units and isinstance(value, float) else str(value)
        for name, value in values.items()
    }
