"""Two formulas compared as values, over all jobs that the new text allows: is one ever below the other, ever above.

Both are read with what the new text's names mean, so that each change is told once, where it was made. Yes comes with a
job that shows it, no is proved by bounds, and everything else is unclear.
"""

from collections.abc import Mapping
from typing import NamedTuple

from runner.formula.bounds import Box
from runner.formula.expr import Expr, Not
from runner.formula.interval import Interval, Unbounded
from runner.formula.scope import names_needed
from runner.lint.diff.normal import NOWHERE, constant, difference, key_of
from runner.procedure.jobs.exists import job_with
from runner.procedure.jobs.over import result_over, worked_over
from runner.procedure.jobs.search import least
from runner.procedure.jobs.space import Space
from runner.procedure.jobs.trial import Trial
from runner.procedure.jobs.typed import typed
from runner.procedure.model import Procedure, steps_of

NOISE = 1e-9
"""Share of the values below which two are the same: what cutting and conversion leave."""


class Answer(NamedTuple):
    """Whether something is so for some allowed job: yes with the job, no, or None for unclear."""

    so: bool | None
    job: str = ""
    """As one would type it; empty for any job."""


NO, UNCLEAR = Answer(False), Answer(None)


class Compared(NamedTuple):
    """The new value beside the old one."""

    less: Answer
    """Whether it is less for some allowed job."""
    more: Answer


SAME = Compared(NO, NO)


def compared(old: Expr, new: Expr, procedure: Procedure) -> Compared:
    """Compare two formulas over the jobs of a procedure that has all names of both."""
    if key_of(old) == key_of(new):
        return SAME
    off = difference(new, old)
    fixed = constant(off)
    if fixed is not None:
        return Compared(Answer(fixed < 0.0), Answer(fixed > 0.0))
    if not known(off, procedure):
        return Compared(UNCLEAR, UNCLEAR)
    return Compared(below_zero(off, old, procedure), below_zero(difference(old, new), old, procedure))


def known(expr: Expr, procedure: Procedure) -> bool:
    """Whether the procedure has every value that a formula needs."""
    names = {given.name for given in procedure.inputs} | {worked.name for worked in procedure.calculations}
    names |= {ask.name for step in steps_of(procedure) for ask in step.asks}
    return names_needed(expr, procedure.scope) <= names


def below_zero(off: Expr, old: Expr, procedure: Procedure) -> Answer:
    """Whether a difference is below zero for some allowed job."""
    space = Space(procedure, names_needed(off, procedure.scope) | names_needed(old, procedure.scope))

    def over(part: Box) -> Interval | Unbounded | None:
        within = worked_over(space, part)
        if within is None:
            return None
        found = result_over(space, off, within)
        return found if isinstance(found, Interval | Unbounded) else Unbounded("this is no number", 0, 0)

    slack = noise_of(old, space)
    seen = least(space, over, Trial(space).result(off), lambda value, bound: value < -slack or bound >= -slack)
    if seen.job is not None and seen.value < -slack:
        return Answer(True, job_words(typed(space, seen.job)))
    proved = seen.failing is None and seen.unclear is None and seen.bound >= -slack and not seen.impossible
    return NO if proved else UNCLEAR


def noise_of(old: Expr, space: Space) -> float:
    """How far two values may be apart and still be the same: a share of the greatest that the old one may come to."""
    within = worked_over(space, space.start())
    found = None if within is None else result_over(space, old, within)
    size = max(abs(found.low), abs(found.high)) if isinstance(found, Interval) else 0.0
    return NOISE * size if size < 1e9 else 0.0


def some_job(procedure: Procedure, *conditions: Expr) -> Answer:
    """Whether conditions hold together for some allowed job."""
    if not all(known(condition, procedure) for condition in conditions):
        return UNCLEAR
    found = job_with(procedure, conditions)
    if found.job is not None:
        return Answer(True, job_words(found.job))
    return NO if found.impossible else UNCLEAR


def holds_more(old: Expr, new: Expr, procedure: Procedure) -> Compared:
    """Two conditions: whether the new one fails for a job where the old one held (`less`), and the other way round."""
    if key_of(old) == key_of(new):
        return SAME
    return Compared(
        some_job(procedure, old, Not(new, NOWHERE)),
        some_job(procedure, new, Not(old, NOWHERE)),
    )


def job_words(texts: Mapping[str, str]) -> str:
    """The values of a job that matter, as one would type them."""
    return ", ".join(f"{name} {text}" for name, text in texts.items())
