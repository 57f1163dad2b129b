"""The worked examples of a procedure's calculations, worked out by the code that works a run's values out.

Texts are made only for an example that does not come out as its author says, since nobody reads the others.
"""

from collections.abc import Iterator
from typing import NamedTuple

from runner.formula.evaluate import Value
from runner.formula.quantity import show
from runner.procedure.model import Calculation, Example, Procedure
from runner.procedure.working import Worked, units_of, uses, work_out


class Shown(NamedTuple):
    """A calculation with its example, and what that comes to; None where it does not give enough."""

    worked: Calculation
    example: Example
    result: Worked | None


def shown(procedure: Procedure) -> Iterator[Shown]:
    """Every calculation that has an example."""
    for worked in procedure.calculations:
        if isinstance(worked, Calculation) and worked.example is not None:
            yield Shown(worked, worked.example, result_of(procedure, worked, worked.example))


def result_of(procedure: Procedure, worked: Calculation, example: Example) -> Worked | None:
    """What an example comes to, with words where it is not what its author says or not within its limits."""
    values: dict[str, Value] = dict(example.given)
    for other in procedure.calculations:
        if other.name not in values and other is not worked and uses(other) <= values.keys():
            found = work_out(procedure, other, values, {}, told=False)
            if found.verdict != "failed":
                values[other.name] = found.value
    if not uses(worked) <= values.keys():
        return None
    plain = work_out(procedure, worked, values, {}, told=False)
    if plain.verdict == "in" and agrees(example, plain):
        return plain
    units = units_of(procedure)
    texts = {
        name: show(value, units[name]) if isinstance(value, float) and name in units else str(value)
        for name, value in values.items()
    }
    return work_out(procedure, worked, values, texts)


def agrees(example: Example, result: Worked) -> bool:
    """Whether the result is what the author says, as near as they say."""
    return abs(result.value - example.gives) <= example.within + 1e-9 * abs(example.gives)
