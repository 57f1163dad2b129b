"""An allowed job for which no choice of pieces from the rack comes within the tolerance of a split.

Only the mass matters to the pieces, so the lightest and the heaviest job are tried first and then jobs between the two.
"""

from collections.abc import Mapping
from math import inf

from runner.formula.evaluate import Value
from runner.formula.interval import Interval
from runner.procedure.hung import hang
from runner.procedure.jobs.search import least
from runner.procedure.jobs.space import Space
from runner.procedure.jobs.trial import Trial
from runner.procedure.jobs.typed import FORMS, typed, worked_out
from runner.procedure.model import Calculation, Procedure, Split
from runner.procedure.working import Worked

BETWEEN = 16
"""Jobs tried between the lightest and the heaviest."""


def missed(procedure: Procedure, split: Split) -> tuple[Worked, Mapping[str, str]] | None:
    """What a run says of the pieces for such a job, and the job as one would type it; None where none was found."""
    space = Space(procedure, [split.name])
    wanted = next((worked for worked in procedure.calculations if worked.name == split.mass), None)
    if not isinstance(wanted, Calculation):
        return None
    mass = Trial(Space(procedure, [split.mass])).result(wanted.formula)
    low, high = (_extreme(procedure, wanted, sign) for sign in (1.0, -1.0))
    if low is None or high is None:
        return None
    for share in (0.0, 1.0, *(place / BETWEEN for place in range(1, BETWEEN))):
        job = between(low, high, share)
        off, value = mass(dict(job))
        if off > 0.0 or value is None or hang(procedure, split, value).within:
            continue
        for form in FORMS:
            texts = typed(space, job, form)
            found = worked_out(space, texts, split.name)
            if found is not None and found.verdict in ("out", "held"):
                return found, texts
    return None


def _extreme(procedure: Procedure, wanted: Calculation, sign: float) -> Mapping[str, Value] | None:
    """The job with the least mass (sign 1) or the largest (-1) that a search of corners finds."""
    space = Space(procedure, [wanted.name])

    def over(_: object) -> Interval:
        return Interval(-inf, inf)

    return least(space, over, Trial(space).result(wanted.formula, sign), lambda *_: False, cuts=2).job


def between(low: Mapping[str, Value], high: Mapping[str, Value], share: float) -> dict[str, Value]:
    """A job so far from one to the other; texts are those of the nearer one."""
    job: dict[str, Value] = {}
    for name, first in low.items():
        last = high[name]
        if isinstance(first, float) and isinstance(last, float):
            job[name] = first + share * (last - first)
        else:
            job[name] = first if share < 0.5 else last
    return job
