"""The allowed job at which something is least, and a proof of how much less it could be.

Branch and bound: jobs are tried at the corners that look best, and the part of all jobs whose bounds reach lowest is cut,
until the job found and the bounds agree, or the question is answered, or the cuts are used up.
"""

from collections.abc import Callable, Mapping
from heapq import heappop, heappush
from itertools import count
from math import inf
from typing import NamedTuple

from runner.formula.bounds import Box
from runner.formula.enclose import halves, is_wide, point_in
from runner.formula.evaluate import Value
from runner.formula.interval import Interval, Texts, Unbounded
from runner.procedure.jobs.space import Space
from runner.procedure.jobs.trial import Tried

MOST_CUTS = 60
THOROUGH_CUTS = 400
FEW_CUTS = 8
"""Where a number may be anything, cutting the others hardly ever proves more."""
HALVINGS = 40
ROUNDS = 3
"""Most times that every value of a job is moved to its better end."""

Over = Callable[[Box], Interval | Unbounded | None]
"""What is asked for over a part: bounds, why there are none, or None where no job is allowed."""
Try = Callable[[dict[str, Value]], Tried]
Along = Callable[[dict[str, Value]], dict[str, Value]]


class Least(NamedTuple):
    """What a search came to."""

    value: float
    """The least seen in an allowed job; infinity where none was found."""
    job: Mapping[str, Value] | None
    bound: float
    """No allowed job comes below this; minus infinity where there are no bounds."""
    failing: Mapping[str, Value] | None
    """An allowed job for which there is no value at all."""
    unclear: Unbounded | None
    """Why there are no bounds."""
    impossible: bool
    """Whether it is proved that no job is allowed."""


class _Seen:
    """The best jobs met on the way."""

    def __init__(self, tries: Try, along: Along) -> None:
        self.tries, self.along = tries, along
        self.value = inf
        self.job: dict[str, Value] | None = None
        """None where none was met; empty where nobody gives anything, which is a job too."""
        self.failing: dict[str, Value] | None = None

    def rank(self, point: dict[str, Value]) -> tuple[float, float]:
        """Allowed before not allowed, then without a value, then the least."""
        off, value = self.tries(point)
        if off <= 0.0:
            if value is None:
                self.failing = self.failing or dict(point)
                return 0.0, -inf
            if value < self.value:
                self.value, self.job = value, dict(point)
        return off, inf if value is None else value


def least(
    space: Space,
    over: Over,
    tries: Try,
    enough: Callable[[float, float], bool],
    cuts: int = MOST_CUTS,
    along: Along = lambda job: job,
    *,
    closely: bool = False,
) -> Least:
    """Search all jobs of a space. `enough(seen, bound)` says when the answer is good enough; a failing job ends it too.

    `along` moves answers into limits that moved with another value; `closely` goes from the best corner as far as jobs
    are allowed.
    """
    whole = space.start()
    seen = _Seen(tries, along)
    first = over(whole)
    if first is None:
        return Least(inf, None, inf, None, None, impossible=True)
    if isinstance(first, Unbounded) or not enough(seen.value, first.low):
        for part in (space.likely(whole), whole):
            if not enough(seen.value, -inf) and seen.failing is None:
                climb(seen, space, part, {**point_in(part, 0.5), **space.guesses(part)})
        if closely and seen.job is not None:
            climb(seen, space, whole, dict(seen.job), closely=True)
            for name, text in other_texts(space, whole):
                climb(seen, space, {**whole, name: Texts(frozenset((text,)))}, {**seen.job, name: text}, closely=True)
    order = count()
    waiting: list[tuple[float, int, Box, Unbounded | None]] = []

    def add(part: Box, found: Interval | Unbounded) -> None:
        unclear = found if isinstance(found, Unbounded) else None
        heappush(waiting, (-inf if isinstance(found, Unbounded) else found.low, next(order), part, unclear))

    add(whole, first)
    for _ in range(FEW_CUTS if space.unlimited(whole) else cuts):
        if not waiting or seen.failing is not None or enough(seen.value, waiting[0][0]):
            break
        _, _, part, _ = waiting[0]
        wide = [name for name in space.cuttable(whole) if is_wide(part.get(name))]
        if not wide:
            break
        heappop(waiting)
        for half in halves(part, used_most(space, wide), whole):
            found = over(half)
            if found is not None:
                add(half, found)
                if isinstance(found, Unbounded) or found.low < seen.value:
                    climb(seen, space, half, {**point_in(half, 0.5), **space.guesses(half)}, rounds=1)
    bound = waiting[0][0] if waiting else seen.value
    unclear = waiting[0][3] if waiting else None
    return Least(seen.value, seen.job, bound, seen.failing, unclear, impossible=not waiting and seen.job is None)


def other_texts(space: Space, whole: Box) -> list[tuple[str, str]]:
    """Every text that may be chosen: where a limit holds a job back, another text alone is no better, and only then leads on."""
    found = []
    for name in space.free:
        part = whole.get(name)
        if isinstance(part, Texts) and part.may is not None:
            found += [(name, text) for text in sorted(part.may)]
    return found


def used_most(space: Space, names: list[str]) -> list[str]:
    """The values used more than once, which alone make bounds too wide; all of them where none is."""
    repeated = [name for name in names if space.counts.get(name, 0) > 1]
    return repeated or names


def climb(
    seen: _Seen, space: Space, part: Box, begin: dict[str, Value], rounds: int = ROUNDS, *, closely: bool = False
) -> None:
    """Move one value after the other to whichever of its ends is better, until none is.

    Closely: where a job at the end is not allowed and one in between is, the value goes as far as jobs are.
    """
    point = seen.along(begin)
    best = seen.rank(point)
    for _ in range(rounds):
        before = best
        for name in space.free:
            for value in space.ends(name, part):
                if value == point.get(name):
                    continue
                moved = seen.along({**point, name: value})
                rank = seen.rank(moved)
                if closely and rank[0] > 0.0 >= best[0]:
                    moved, rank = farthest(seen, point, name, value)
                if rank < best:
                    point, best = moved, rank
        if best == before:
            return


def farthest(
    seen: _Seen, point: dict[str, Value], name: str, end: Value
) -> tuple[dict[str, Value], tuple[float, float]]:
    """The job with one value moved towards an end as far as it is allowed."""
    near, best = point, (inf, inf)
    start = point.get(name)
    if not isinstance(start, float) or not isinstance(end, float):
        return near, best
    for _ in range(HALVINGS):
        middle = start + (end - start) / 2.0
        moved = seen.along({**point, name: middle})
        rank = seen.rank(moved)
        if rank[0] > 0.0:
            end = middle
        else:
            start, near, best = middle, moved, rank
    return near, best
