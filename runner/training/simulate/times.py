"""Durations of simulated runs that finished, the critical path, and what could be saved of the time that the press stands.

A saving is what the runs would have lasted less, timed again in their recorded order; looked at in the first of them, which
is told. What a second person could save in a list is what the best split of it would (see `schedule.split`); nobody may be
at hand, and only a new revision can split a list.
"""

from collections import Counter, defaultdict
from typing import NamedTuple

from runner.procedure.model import Procedure, steps_of
from runner.training.schedule.split import shared, work_of
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

    def join(self, totals: list[float], stopped: list[float], schedules: list[tuple[Attempt, ...]]) -> None:
        """Runs that finished, played elsewhere."""
        self.totals += totals
        self.stopped += stopped
        self.schedules += schedules[: LOOKED_AT - len(self.schedules)]

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
                known = {step.id: means.get(step.id, 0.0) for step in phase.lists[0].steps}
                best = shared(work_of(self.procedure, phase.lists[0].steps, known))
                alone = sum(known.values())
                found.append(Helped(phase.name, alone, alone - (best.end if best.proved else best.bound)))
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


def quantile(values: list[float], share: float) -> float:
    """Type 7 of Hyndman and Fan (1996): on the line between the two nearest in order. 0 for no values."""
    ordered = sorted(values)
    if not ordered:
        return 0.0
    place = share * (len(ordered) - 1)
    low = int(place)
    high = min(low + 1, len(ordered) - 1)
    return ordered[low] + (place - low) * (ordered[high] - ordered[low])
