"""Durations of simulated runs that finished, the critical path, and what could be saved of the time that the press stands.

A saving is what the runs would have lasted less, timed again in their recorded order; looked at in the first of them, which
is told. What a second person could save in a list is a bound: half the work, or its longest chain of steps that need
each other, whichever is longer; nobody may be at hand, and the real order may need more.
"""

from collections import Counter, defaultdict
from typing import NamedTuple

from runner.procedure.model import Procedure, Step, StepList, steps_of
from runner.training.simulate.schedule import Attempt, Schedule, critical, retimed

LOOKED_AT = 200
"""Runs whose critical path is followed."""


class Saving(NamedTuple):
    """What could be saved on average; seconds."""

    step: str
    saved_s: float
    critical: float
    """In which share of the runs it lay on the critical path."""


class Helped(NamedTuple):
    """A list with one person: its mean seconds, and what a second one could save at most."""

    phase: str
    alone_s: float
    saved_s: float


class Times:
    """Adds up durations."""

    def __init__(self, procedure: Procedure) -> None:
        self.procedure = procedure
        self.totals: list[float] = []
        self.stopped: list[float] = []
        self.schedules: list[tuple[Attempt, ...]] = []

    def add(self, schedule: Schedule, total: float, stopped: float) -> None:
        """A run that finished."""
        self.totals.append(total)
        self.stopped.append(stopped)
        if len(self.schedules) < LOOKED_AT:
            self.schedules.append(tuple(schedule.attempts))

    def savings(self) -> tuple[Saving, ...]:
        """Steps that are done while the press stands, by what moving them out of that time would save on average."""
        stopped = {at for at, phase in enumerate(self.procedure.phases) if phase.press == "stopped"}
        on_path: Counter[str] = Counter()
        saved: defaultdict[str, float] = defaultdict(float)
        for attempts in self.schedules:
            chain = {attempts[at].step for at in critical(attempts) if attempts[at].phase in stopped} - {""}
            on_path.update(chain)
            whole = retimed(attempts, {})
            for step in chain:
                saved[step] += whole - retimed(attempts, {step: 0.0})
        count = len(self.schedules) or 1
        found = [Saving(step, saved[step] / count, on_path[step] / count) for step in on_path]
        return tuple(sorted(found, key=lambda one: (-one.saved_s, one.step)))

    def helped(self) -> tuple[Helped, ...]:
        """Stopped phases of one list, by what a second person could save in them at most."""
        means, found = self.means(), []
        for phase in self.procedure.phases:
            if phase.press == "stopped" and len(phase.lists) == 1:
                alone, least = bound_for_two(phase.lists[0], means)
                found.append(Helped(phase.name, alone, alone - least))
        return tuple(sorted(found, key=lambda one: -one.saved_s))

    def one_person(self) -> float:
        """Seconds that the second list saves now on average: what phases with two lists would last one after the other, less
        what they lasted."""
        paired = {at for at, phase in enumerate(self.procedure.phases) if len(phase.lists) > 1}
        saved = 0.0
        for attempts in self.schedules:
            for phase in paired:
                own = [a for a in attempts if a.phase == phase]
                if own:
                    work = sum(a.end - a.start for a in own)
                    saved += max(0.0, work - (max(a.end for a in own) - min(a.start for a in own)))
        return saved / (len(self.schedules) or 1)

    def means(self) -> dict[str, float]:
        """Mean seconds of an attempt at each step."""
        sums: defaultdict[str, float] = defaultdict(float)
        counts: Counter[str] = Counter()
        for attempts in self.schedules:
            for attempt in attempts:
                sums[attempt.step] += attempt.end - attempt.start
                counts[attempt.step] += 1
        return {step.id: sums[step.id] / counts[step.id] for step in steps_of(self.procedure) if counts[step.id]}


def bound_for_two(steps: StepList, means: dict[str, float]) -> tuple[float, float]:
    """(seconds alone, least seconds for two) of a list."""
    ends: list[float] = []
    for at, step in enumerate(steps.steps):
        before = max((ends[other] for other in range(at) if rests(step, steps.steps[other])), default=0.0)
        ends.append(before + means.get(step.id, 0.0))
    alone = sum(means.get(step.id, 0.0) for step in steps.steps)
    return alone, max(alone / 2, max(ends, default=0.0))


def rests(step: Step, earlier: Step) -> bool:
    """Whether a step must wait for an earlier one of its list: for a state, for a value, or because it is held."""
    needs, makes = {at for at, _ in step.needs}, {at for at, _ in step.makes}
    needed, made = {at for at, _ in earlier.needs}, {at for at, _ in earlier.makes}
    if (needs & made) or (makes & (made | needed)) or step.hold is not None or earlier.hold is not None:
        return True
    return bool({ask.name for ask in earlier.asks} & step.uses)


def quantile(values: list[float], share: float) -> float:
    """Type 7 of Hyndman and Fan (1996): on the line between the two nearest in order. 0 for no values."""
    ordered = sorted(values)
    if not ordered:
        return 0.0
    place = share * (len(ordered) - 1)
    low = int(place)
    high = min(low + 1, len(ordered) - 1)
    return ordered[low] + (place - low) * (ordered[high] - ordered[low])
