"""Whether a formula has a result for every allowed job, and how small it may be."""

from collections.abc import Mapping
from typing import NamedTuple

from runner.formula.bounds import Box
from runner.formula.evaluate import Value, evaluate
from runner.formula.expr import Expr
from runner.formula.fault import Fault
from runner.formula.interval import Interval, Truths, Unbounded
from runner.procedure.jobs.over import result_over, worked_over
from runner.procedure.jobs.search import least
from runner.procedure.jobs.space import Space
from runner.procedure.jobs.trial import Trial
from runner.procedure.jobs.typed import FORMS, all_worked_out, typed
from runner.procedure.jobs.zero import divisor_at, job_of_zero


class Result(NamedTuple):
    """What was found out about a formula."""

    fault: Fault | None
    """Why an allowed job has no result."""
    negative: float | None
    """The result of an allowed job that is below zero."""
    job: Mapping[str, str]
    """The job of the fault or of the negative result, as one would type it."""
    unclear: Unbounded | None
    """Why it was not proved that all allowed jobs have a result; no job was found that has none."""
    near: bool = False
    """The job as typed has a result; between it and the next number that a computer knows there is none."""


def result_of(space: Space, expr: Expr, own: str = "", *, may_be_negative: bool = True) -> Result:
    """Look for an allowed job without a result and, where that matters, for one whose result is below zero."""

    def over(part: Box) -> Interval | Unbounded | None:
        known = worked_over(space, part, own)
        if known is None:
            return None
        found = result_over(space, expr, known)
        if isinstance(found, Truths):
            return Interval(0.0, 0.0)
        return found if isinstance(found, Interval | Unbounded) else Interval(0.0, 0.0)

    def enough(seen: float, bound: float) -> bool:
        return bound >= 0.0 or (may_be_negative and bound > float("-inf")) or (not may_be_negative and seen < 0.0)

    found = least(space, over, Trial(space, own).result(expr), enough)
    failing = found.failing
    if failing is None and found.unclear is not None:
        divisor = divisor_at(expr, found.unclear)
        failing = None if divisor is None else job_of_zero(space, divisor, own)
    if failing is not None:
        fault, _, job = confirmed(space, expr, own, failing)
        if fault is not None:
            return Result(fault, None, job, None)
        exact = evaluate(expr, Trial(space, own).values(dict(failing))[1], space.scope)
        if job and isinstance(exact, Fault):
            return Result(exact, None, job, None, near=True)
        if job and found.failing is None and found.unclear is not None:  # its divisor changes sign here
            return Result(Fault(found.unclear.start, found.unclear.end, "this divides by zero"), None, job, None, True)
    if not may_be_negative and found.job is not None and found.value < 0.0:
        _, value, job = confirmed(space, expr, own, found.job)
        if value is not None and value < 0.0:
            return Result(None, value, job, None)
    return Result(None, None, {}, found.unclear)


def confirmed(
    space: Space, expr: Expr, own: str, job: Mapping[str, Value]
) -> tuple[Fault | None, float | None, dict[str, str]]:
    """Why a job as typed has no result, or its result; neither where the job is not allowed as typed."""
    for form in FORMS:
        texts = typed(space, job, form)
        values = all_worked_out(space, texts, own)
        if values is None:
            continue
        found = evaluate(expr, values, space.scope)
        if isinstance(found, Fault):
            return found, None, texts
        if isinstance(found, float | int):
            return None, float(found), texts
    return None, None, {}
