"""The least and the greatest that a calculation comes to over all allowed jobs, with the jobs and with what is proved.

A job counts where every answer and every other value is within its limits; the calculation's own limits are left out, since
it is they that a person wants to compare with.
"""

from dataclasses import dataclass
from math import inf

from runner.formula.bounds import Box
from runner.formula.evaluate import Value
from runner.formula.interval import Interval, Unbounded
from runner.formula.quantity import show
from runner.formula.units import Unit
from runner.procedure.jobs.over import result_over, worked_over
from runner.procedure.jobs.search import THOROUGH_CUTS, least
from runner.procedure.jobs.space import ANYTHING, Space
from runner.procedure.jobs.trial import Trial
from runner.procedure.model import Calculation, Procedure, steps_of
from runner.procedure.working import rounded

CLOSE = 0.005
"""Share of a value up to which bounds and the job that was found agree."""

LEAST, GREATEST = "least over all allowed jobs", "greatest over all allowed jobs"


@dataclass(frozen=True, slots=True)
class Extreme:
    """One end: the value of a job that was found, that job, and whether no allowed job goes further by more than 0.5 %."""

    value: float
    job: tuple[tuple[str, Value], ...]
    bound: float
    """No allowed job goes beyond this."""
    proven: bool


def extreme(procedure: Procedure, name: str, *, greatest: bool) -> Extreme | None:
    """One end of a calculation's results; None where it is none, or no allowed job was found."""
    worked = next((one for one in procedure.calculations if one.name == name), None)
    if not isinstance(worked, Calculation):
        return None
    space, sign = Space(procedure, [name]), -1.0 if greatest else 1.0

    def over(part: Box) -> Interval | Unbounded | None:
        known = worked_over(space, part, name)
        if known is None:
            return None
        found = result_over(space, worked.formula, known)
        if isinstance(found, Interval):
            return Interval(-found.high, -found.low) if greatest else found
        return found if isinstance(found, Unbounded) else Unbounded("this is no number", *worked.formula.span)

    def enough(seen: float, bound: float) -> bool:
        return seen < inf and seen - bound <= CLOSE * abs(seen)

    found = least(space, over, Trial(space, name).result(worked.formula, sign), enough, THOROUGH_CUTS)
    if found.job is None:
        return None
    job = tuple((one, found.job[one]) for one in space.asked if one in found.job)
    value, bound = rounded(sign * found.value, worked.rounding), sign * found.bound
    if abs(bound) < ANYTHING:
        bound = rounded(bound, worked.rounding)
    return Extreme(value, job, bound, enough(found.value, found.bound) or bound == value)


def extreme_facts(procedure: Procedure, name: str) -> tuple[tuple[str, str], ...]:
    """Both ends as facts for people."""
    worked = next((one for one in procedure.calculations if one.name == name), None)
    if not isinstance(worked, Calculation):
        return ()
    facts: list[tuple[str, str]] = []
    for greatest in (False, True):
        found = extreme(procedure, name, greatest=greatest)
        if found is None:
            continue
        words = [show(found.value, worked.unit)]
        if found.job:
            words.append("with " + ", ".join(f"{one} {given}" for one, given in typed(procedure, found.job)))
        side, bound = "more" if greatest else "less", show(found.bound, worked.unit)
        if abs(found.bound) > ANYTHING / 1e3:
            words.append(f"{side} may be possible")
        elif bound != words[0]:
            words.append(f"no allowed job gives {side} than {bound}")
        facts.append((GREATEST if greatest else LEAST, "; ".join(words)))
    return tuple(facts)


def typed(procedure: Procedure, job: tuple[tuple[str, Value], ...]) -> tuple[tuple[str, str], ...]:
    """The values of a job as people read them."""
    units: dict[str, Unit | None] = {one.name: one.unit for one in procedure.inputs}
    units |= {ask.name: ask.unit for step in steps_of(procedure) for ask in step.asks}
    found = []
    for name, value in job:
        unit = units.get(name)
        shown = show(value, unit) if isinstance(value, float) and unit is not None else str(value)
        found.append((name, shown))
    return tuple(found)
