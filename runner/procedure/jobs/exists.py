"""Whether some allowed job fulfils conditions: such a job, or a proof that there is none."""

from collections.abc import Mapping, Sequence
from math import inf
from typing import NamedTuple

from runner.formula.bounds import Box
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
