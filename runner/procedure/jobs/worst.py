"""How every limit of the calculations fares over all allowed jobs: the job that comes nearest to it, breaks it, or a proof.

A limit is allowed to be broken by a job: that is what it is for. Who plans jobs, and who revises a procedure, has to
know which one does.
"""

from collections.abc import Iterator, Mapping
from math import inf
from typing import NamedTuple

from runner.formula.bounds import Box
from runner.formula.evaluate import Value, evaluate
from runner.formula.interval import Interval, Unbounded
from runner.formula.quantity import show
from runner.procedure.jobs.over import margin_over
from runner.procedure.jobs.search import MOST_CUTS, THOROUGH_CUTS, Least, least
from runner.procedure.jobs.space import Space
from runner.procedure.jobs.trial import Trial, Tried
from runner.procedure.jobs.typed import FORMS, typed, worked_out
from runner.procedure.model import Calculation, Limit, Procedure
from runner.procedure.working import Worked

TIGHT = 0.01
"""Share of a margin up to which the nearest job is looked for."""


class Worst(NamedTuple):
    """The allowed job that comes nearest to one limit."""

    name: str
    limit: str
    """As shown: "<= 800 kg"."""
    value: float
    margin: float
    """SI; negative when the job breaks the limit."""
    job: tuple[tuple[str, Value], ...]
    """What people give, in the order of the ticket and the steps."""
    proven: bool
    """Whether bounds show that no allowed job has a smaller margin by more than 1 %."""


class Verdict(NamedTuple):
    """What lint says about one limit."""

    broken: Worked | None
    """The value of an allowed job that breaks it, as a run would show it."""
    job: Mapping[str, str]
    """That job, as one would type it."""
    kept: bool
    """Proved: no allowed job breaks it."""
    never: bool
    """Proved: every allowed job breaks it."""


def worst_jobs(procedure: Procedure, fixed: Mapping[str, Value] | None = None) -> tuple[Worst, ...]:
    """The nearest job for every limit, the smallest share of reserve first; limits that no job can be found for are left out.

    `fixed` values are held, the others range over all that is allowed.
    """
    found = [worst for worst in _each_worst(procedure, fixed or {}) if worst is not None]
    return tuple(sorted(found, key=lambda worst: worst.margin / (abs(worst.value) + abs(worst.margin) or 1.0)))


def _each_worst(procedure: Procedure, fixed: Mapping[str, Value]) -> Iterator[Worst | None]:
    for worked in procedure.calculations:
        if not isinstance(worked, Calculation) or worked.name in fixed:
            continue
        space = Space(procedure, [worked.name], fixed)
        for limit in worked.limits:
            found = search(space, worked, limit, thorough=True)
            yield None if found.job is None else _worst(space, worked, limit, found)


def _worst(space: Space, worked: Calculation, limit: Limit, found: Least) -> Worst | None:
    assert found.job is not None
    _, values = Trial(space, worked.name).values(dict(found.job))
    bound = evaluate(limit.bound, values, space.scope)
    if not isinstance(bound, float | int):
        return None
    value = bound - found.value if limit.op.startswith("<") else bound + found.value
    given = tuple((name, found.job[name]) for name in space.asked if name in found.job)
    proven = found.value - found.bound <= 2.0 * TIGHT * max(abs(found.value), 1e-9 * abs(value))
    return Worst(worked.name, f"{limit.op} {show(float(bound), worked.unit)}", value, found.value, given, proven)


def search(space: Space, worked: Calculation, limit: Limit, *, thorough: bool = False) -> Least:
    """The job with the smallest margin to a limit; unless thorough, until it is sure whether some job breaks it."""
    strict = not limit.op.endswith("=")

    def enough(seen: float, bound: float) -> bool:
        if thorough:
            return seen < inf and seen - bound <= TIGHT * abs(seen)
        return seen < 0.0 or bound > 0.0 or (bound == 0.0 and not strict)

    def over(part: Box) -> Interval | Unbounded | None:
        return margin_over(space, worked.name, limit, part)

    trial = Trial(space, worked.name)
    cuts = THOROUGH_CUTS if thorough else MOST_CUTS
    return least(space, over, trial.margin(limit), enough, cuts, trial.along, closely=thorough)


def judge(space: Space, worked: Calculation, limit: Limit) -> Verdict:
    """Whether allowed jobs keep a limit."""
    found = search(space, worked, limit)
    kept = found.failing is None and (found.bound > 0.0 or (found.bound == 0.0 and limit.op.endswith("=")))
    if found.job is None or found.value > 0.0 or (found.value == 0.0 and limit.op.endswith("=")):
        return Verdict(None, {}, kept, never=False)
    broken, job = confirmed(space, worked.name, found.job)
    never = False
    if broken is not None and found.unclear is None:
        never = _never_met(space, worked, limit)
    return Verdict(broken, job, kept, never)


def confirmed(space: Space, name: str, job: Mapping[str, Value]) -> tuple[Worked | None, dict[str, str]]:
    """The value that a run works out from a job as typed, where it is out of limits or has no result; and what to type."""
    for form in FORMS:
        texts = typed(space, job, form)
        found = worked_out(space, texts, name)
        if found is not None and found.verdict != "in" and not found.doubted:
            return found, texts
    return None, {}


def _never_met(space: Space, worked: Calculation, limit: Limit) -> bool:
    """Whether bounds show that every allowed job breaks a limit."""

    def over(part: Box) -> Interval | Unbounded | None:
        found = margin_over(space, worked.name, limit, part)
        return Interval(-found.high, -found.low) if isinstance(found, Interval) else found

    margin = Trial(space, worked.name).margin(limit)

    def opposite(point: dict[str, Value]) -> Tried:
        off, value = margin(point)
        return Tried(off, None if value is None else -value)

    strict = not limit.op.endswith("=")
    found = least(space, over, opposite, lambda seen, bound: seen < 0.0 or bound > 0.0)
    return found.unclear is None and (found.bound > 0.0 or (strict and found.bound == 0.0))
