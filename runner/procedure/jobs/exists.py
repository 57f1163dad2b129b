"""Whether some allowed job fulfils conditions: such a job, or a proof that there is none."""

from collections.abc import Mapping, Sequence
from math import inf
from typing import NamedTuple

from runner.formula.bounds import Box
from runner.formula.enclose import point_in, seen_by
from runner.formula.evaluate import Value
from runner.formula.expr import Expr
from runner.formula.interval import Interval
from runner.formula.scope import names_needed
from runner.procedure.jobs.over import worked_over
from runner.procedure.jobs.search import least
from runner.procedure.jobs.space import Space
from runner.procedure.jobs.trial import Trial, Tried
from runner.procedure.jobs.typed import FORMS, all_worked_out, typed
from runner.procedure.model import Procedure


class Exists(NamedTuple):
    """A job as one would type it, or that there is none; neither where the search was not enough."""

    job: Mapping[str, str] | None
    impossible: bool


def job_with(procedure: Procedure, conditions: Sequence[Expr]) -> Exists:
    """An allowed job for which all conditions hold."""
    names = frozenset[str]().union(*(names_needed(condition, procedure.scope) for condition in conditions))
    space = Space(procedure, names, given=conditions)
    trial = Trial(space)

    def over(part: Box) -> Interval | None:
        return None if worked_over(space, part) is None else Interval(0.0, 0.0)

    def tries(point: dict[str, Value]) -> Tried:
        return Tried(trial.values(point)[0], 0.0)

    found = least(space, over, tries, lambda seen, _: seen < inf)
    if found.job is None:
        return Exists(None, found.impossible)
    for form in FORMS:
        texts = typed(space, found.job, form)
        if all_worked_out(space, texts, "") is not None:
            return Exists(texts, impossible=False)
    return Exists(None, impossible=False)


def truths_seen(procedure: Procedure, condition: Expr) -> frozenset[bool]:
    """The truths that a condition has in the allowed jobs among a few: at both ends of all values and in the middle."""
    space = Space(procedure, names_needed(condition, procedure.scope))
    trial, holds = Trial(space), seen_by(condition, procedure.scope)
    whole = space.start()
    found = set()
    for share in (0.0, 1.0, 0.5):
        off, values = trial.values({**point_in(whole, share), **space.guesses(whole)})
        truth = holds(values)
        if off <= 0.0 and isinstance(truth, bool):
            found.add(truth)
    return frozenset(found)
