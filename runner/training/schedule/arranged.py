"""A whole procedure arranged, phase by phase, for one person and for two, and what that comes to as plain data.

Phases follow each other as written. What is said of a phase with two lists is about the procedure as it stands; what is said
of one with one list is about splitting that list, which takes a new revision that lint has looked at.
"""

from collections.abc import Iterable
from typing import NamedTuple

from runner.engine import flow
from runner.engine.position import Position
from runner.procedure.model import Phase, Procedure, Step, steps_of
from runner.training.schedule import split, two_lists
from runner.training.schedule.timed import Seconds, Taken, Timed, taken

SLIGHT_S = 0.5
"""No gain to speak of."""

BEST, BOUND = "proved best", "not proved the shortest; no plan is shorter than the bound"
NOT_ALLOWED = "the order rules allow no plan that was found; no plan is shorter than the bound"


class Arranged(NamedTuple):
    """One phase. Seconds."""

    phase: str
    press: str
    lists: int
    one: tuple[Timed, ...]
    """For one person; empty where no order was found in which a step ends before another begins."""
    comes: tuple[Timed, ...]
    """As the procedure is written, each beginning what they may."""
    two: tuple[Timed, ...]
    """The best that was found for two; empty where there is none."""
    bound_s: float
    """No plan for two is shorter."""
    said: str
    """How good `two` is."""

    @property
    def one_s(self) -> float:
        """How long one person needs."""
        return end_of(self.one)

    @property
    def comes_s(self) -> float:
        """How long it lasts as written."""
        return end_of(self.comes)

    @property
    def two_s(self) -> float:
        """How long two people need at best; as written where nothing better was found."""
        return end_of(self.two) if self.two else self.comes_s


class Arrangement(NamedTuple):
    """The whole."""

    procedure: Procedure
    phases: tuple[Arranged, ...]
    taken: Taken
    left_out: tuple[str, ...]
    """Steps that were asked not to be counted."""
    sometimes: tuple[str, ...]
    """Steps that are counted and do not always come."""
    stuck: str
    """Where no order was found at all, and the phases after it are not looked at; empty otherwise."""

    def total(self, what: str, press: str = "") -> float:
        """Seconds of one, comes, two or bound over all phases, or over those of a kind."""
        return sum(float(getattr(one, f"{what}_s")) for one in self.phases if press in ("", one.press))


def end_of(plan: Iterable[Timed]) -> float:
    """When the last step ends."""
    return max((one.end for one in plan), default=0.0)


def arranged(procedure: Procedure, recorded: Seconds, without: frozenset[str] = frozenset()) -> Arrangement:
    """All phases in their order, from the state in which the run begins."""
    how_long = taken(procedure, recorded)
    found: list[Arranged] = []
    position, stuck = flow.start(procedure), ""
    while not flow.ended(procedure, position):
        phase = procedure.phases[position.phase]
        one = of_phase(procedure, phase, position, how_long.seconds, without)
        found.append(one)
        after = played(procedure, position, one.comes or one.one, without)
        if after.phase == position.phase:
            stuck = phase.name
            break
        position = after
    sometimes = [s.number for s in steps_of(procedure) if (s.when is not None or s.optional) and s.id not in without]
    left = [step.number for step in steps_of(procedure) if step.id in without]
    return Arrangement(procedure, tuple(found), how_long, tuple(left), tuple(sometimes), stuck)


def of_phase(
    procedure: Procedure, phase: Phase, position: Position, seconds: Seconds, without: frozenset[str]
) -> Arranged:
    """One phase, from where it begins."""
    one = two_lists.one_by_one(procedure, position, seconds, without)
    comes = two_lists.as_it_comes(procedure, position, seconds, without)
    if len(phase.lists) > 1:
        two, bound, said = of_two(procedure, position, seconds, without)
    else:
        steps = tuple(step for step in phase.lists[0].steps if step.id not in without)
        two, bound, said = of_one(procedure, position, steps, seconds)
    return Arranged(phase.name, phase.press, len(phase.lists), one, comes, two, bound, said)


Found = tuple[tuple[Timed, ...], float, str]
"""(plan, bound, how good it is)."""


def of_two(procedure: Procedure, position: Position, seconds: Seconds, without: frozenset[str]) -> Found:
    """The best order of two lists."""
    lists = procedure.phases[position.phase].lists
    bound = max(sum(seconds[step.id] for step in own.steps if step.id not in without) for own in lists)
    search = two_lists.Search(procedure, seconds, without)
    try:
        plan = search.plan(position)
    except two_lists.Unfinished:
        return two_lists.as_it_comes(procedure, position, seconds, without), bound, BOUND
    return (plan, end_of(plan), BEST) if plan else ((), bound, NOT_ALLOWED)


def of_one(procedure: Procedure, position: Position, steps: tuple[Step, ...], seconds: Seconds) -> Found:
    """The best that two people could make of one list."""
    work = split.work_of(procedure, steps, seconds, position.owners)
    found = split.shared(work)
    if found.end >= sum(work.seconds) - SLIGHT_S:
        return (), found.bound, BEST if found.proved else BOUND  # nothing is gained: the list stays as it is
    plan = split.plan_of(procedure, position, steps, found, seconds)
    if not plan:
        return (), found.bound, NOT_ALLOWED
    return plan, found.bound, BEST if found.proved else BOUND


def played(procedure: Procedure, position: Position, plan: tuple[Timed, ...], without: frozenset[str]) -> Position:
    """Where the work stands after a phase that went as planned: begun and ended in that order."""
    phase = position.phase
    lane_of: dict[str, int] = {}
    for lane, steps in enumerate(procedure.phases[phase].lists):
        lane_of |= {step.id: lane for step in steps.steps}
    position = two_lists.settled(procedure, position, (), phase, without).position
    moves = [(round(one.start, 6), True, one.step) for one in plan]
    moves += [(round(one.end, 6), False, one.step) for one in plan]
    for _, begins, step in sorted(moves, key=lambda move: move[:2]):
        if begins:
            position = flow.begun(procedure, position, lane_of[step])
        else:
            position = flow.done(procedure, position, lane_of[step])
            position = two_lists.settled(procedure, position, (), phase, without).position
    return position


def as_data(found: Arrangement) -> dict[str, object]:
    """For JSON."""
    keys = ("one", "comes", "two")
    return {
        "procedure": found.procedure.id, "revision": found.procedure.revision, "digest": found.procedure.digest,
        "times": dict(found.taken.counts()), "left_out": list(found.left_out), "not_always": list(found.sometimes),
        "stuck": found.stuck,
        "total_s": {key: round(found.total(key), 1) for key in (*keys, "bound")},
        "stopped_s": {key: round(found.total(key, "stopped"), 1) for key in (*keys, "bound")},
        "phases": [
            {
                "phase": one.phase, "press": one.press, "lists": one.lists, "two_is": one.said,
                "seconds": {"one": one.one_s, "comes": one.comes_s, "two": one.two_s, "bound": one.bound_s},
                "plan_for_two": [step._asdict() for step in one.two],
            }
            for one in found.phases
        ],
    }  # fmt: skip
