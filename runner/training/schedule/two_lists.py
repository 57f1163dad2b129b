"""Phases with two lists: which list waits for which, so that both have ended soonest.

Each list keeps its order and has one person. Every order is tried that `engine.flow` allows, states and owners with it, and
a step begins when its list is free or when one of the other list ends: a plan in which some step could begin earlier is no
better. The best of them is therefore the best there is. With one person the lists are done one step at a time.
"""

from collections.abc import Iterator
from math import inf
from typing import NamedTuple

from runner.engine import flow
from runner.engine.position import Position
from runner.procedure.model import Procedure, Step
from runner.training.schedule.timed import Seconds, Timed, timed

MOST_MOMENTS = 100_000
"""Moments looked at; lists that need more are told as they come, with the bound."""

Busy = tuple[float, ...]
"""Seconds that the step of each list still takes; negative where none is in progress."""
IDLE = -1.0


class Moment(NamedTuple):
    """Where the work stands."""

    position: Position
    busy: Busy


class Unfinished(Exception):  # noqa: N818  # no fault: the search has taken too long
    """More moments than are looked at."""


class Search:
    """The best end of one phase from each moment that can come up."""

    def __init__(self, procedure: Procedure, seconds: Seconds, without: frozenset[str]) -> None:
        self.procedure, self.seconds, self.without = procedure, seconds, without
        self.best: dict[Moment, tuple[float, tuple[int, ...]]] = {}
        """Seconds from there to the end, and the lists that begin a step now."""

    def end(self, moment: Moment, phase: int) -> float:
        """Seconds from a moment to the end of the phase; infinite where nothing leads there."""
        if moment.position.phase != phase:
            return 0.0
        known = self.best.get(moment)
        if known is not None:
            return known[0]
        if len(self.best) >= MOST_MOMENTS:
            raise Unfinished
        found: float = inf
        chosen: tuple[int, ...] = ()
        self.best[moment] = (inf, ())
        for lanes in self.choices(moment):
            after = self.begun(moment, lanes)
            step_s = min((left for left in after.busy if left >= 0.0), default=inf)
            if step_s < inf:
                total = step_s + self.end(self.ended(after, step_s), phase)
                if total < found:
                    found, chosen = total, lanes
        self.best[moment] = (found, chosen)
        return found

    def choices(self, moment: Moment) -> Iterator[tuple[int, ...]]:
        """Which lists may begin their step now: all that may first, then fewer, then none where another is busy."""
        free = [lane for lane, left in enumerate(moment.busy) if left < 0.0 and self.may_begin(moment.position, lane)]
        if len(free) == 2:
            first, second = free
            if self.may_begin(flow.begun(self.procedure, moment.position, first), second):
                yield (first, second)
        for lane in free:
            yield (lane,)
        if any(left >= 0.0 for left in moment.busy):
            yield ()

    def may_begin(self, position: Position, lane: int) -> bool:
        """Whether the step that is up may begin."""
        return flow.current(self.procedure, position, lane) is not None and not flow.blocks(
            self.procedure, position, lane
        )

    def begun(self, moment: Moment, lanes: tuple[int, ...]) -> Moment:
        """The steps of these lists have begun."""
        position, busy = moment.position, list(moment.busy)
        for lane in lanes:
            busy[lane] = self.seconds[self.up(position, lane).id]
            position = flow.begun(self.procedure, position, lane)
        return Moment(position, tuple(busy))

    def ended(self, moment: Moment, seconds: float) -> Moment:
        """So much later; steps that have ended then are done."""
        position, busy, phase = moment.position, list(moment.busy), moment.position.phase
        for lane, left in enumerate(moment.busy):
            if left < 0.0:
                continue
            busy[lane] = round(left - seconds, 6)
            if busy[lane] <= 0.0:
                position, busy[lane] = flow.done(self.procedure, position, lane), IDLE
        return settled(self.procedure, position, tuple(busy), phase, self.without)

    def up(self, position: Position, lane: int) -> Step:
        """The step that is up."""
        step = flow.current(self.procedure, position, lane)
        assert step is not None  # asked before
        return step

    def plan(self, position: Position) -> tuple[Timed, ...]:
        """The plan with the soonest end; empty where nothing leads there."""
        phase = position.phase
        moment, at, found = (
            settled(self.procedure, position, (IDLE,) * len(position.cursors), phase, self.without),
            0.0,
            [],
        )
        if self.end(moment, phase) == inf:
            return ()
        while moment.position.phase == phase:
            lanes = self.best[moment][1]
            for lane in lanes:
                step = self.up(moment.position, lane)
                found.append(timed(step, lane, at, self.seconds[step.id]))
            after = self.begun(moment, lanes)
            step_s = min(left for left in after.busy if left >= 0.0)
            moment, at = self.ended(after, step_s), at + step_s
        return tuple(found)


def settled(procedure: Procedure, position: Position, busy: Busy, phase: int, without: frozenset[str]) -> Moment:
    """Steps that are left out of the plan are passed as they come up."""
    lane = 0
    while position.phase == phase and lane < len(position.cursors):
        step = flow.current(procedure, position, lane)
        if step is not None and step.id in without and not position.cursors[lane].begun:
            position, lane = flow.passed(procedure, position, lane), 0
        else:
            lane += 1
    return Moment(position, busy)


def as_it_comes(
    procedure: Procedure, position: Position, seconds: Seconds, without: frozenset[str]
) -> tuple[Timed, ...]:
    """What happens where whoever is free begins what they may, the first list before the second; empty where that sticks."""
    search, phase = Search(procedure, seconds, without), position.phase
    moment, at, found = settled(procedure, position, (IDLE,) * len(position.cursors), phase, without), 0.0, []
    while moment.position.phase == phase:
        lanes = next(search.choices(moment), ())
        for lane in lanes:
            step = search.up(moment.position, lane)
            found.append(timed(step, lane, at, seconds[step.id]))
        after = search.begun(moment, lanes)
        step_s = min((left for left in after.busy if left >= 0.0), default=inf)
        if step_s == inf:
            return ()
        moment, at = search.ended(after, step_s), at + step_s
    return tuple(found)


def one_by_one(
    procedure: Procedure, position: Position, seconds: Seconds, without: frozenset[str]
) -> tuple[Timed, ...]:
    """An order for one person, who ends a step before beginning another, changing lists as seldom as it goes; empty
    where there is none."""
    search, phase = Search(procedure, seconds, without), position.phase
    start = settled(procedure, position, (IDLE,) * len(position.cursors), phase, without).position
    stuck: set[Position] = set()

    def order(now: Position, last: int) -> list[tuple[Step, int]] | None:
        if now.phase != phase:
            return []
        if now in stuck:
            return None
        for lane in sorted(range(len(now.cursors)), key=lambda lane: lane != last):
            if search.may_begin(now, lane):
                done = flow.done(procedure, flow.begun(procedure, now, lane), lane)
                rest = order(settled(procedure, done, (), phase, without).position, lane)
                if rest is not None:
                    return [(search.up(now, lane), lane), *rest]
        stuck.add(now)
        return None

    found, at = [], 0.0
    for step, _ in order(start, 0) or []:
        found.append(timed(step, 0, at, seconds[step.id]))
        at += seconds[step.id]
    return tuple(found)
