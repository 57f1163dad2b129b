"""What was done when in a simulated run, and what each had to wait for: enough to find the critical path.

An attempt follows the one before it in its list, those that made what it needs, the last of the person who does it, and
those that ended the phase before. With these links a run can be timed again with other durations, in the recorded order.
"""

from collections.abc import Mapping, Sequence
from typing import NamedTuple

from runner.engine import flow
from runner.engine.position import Position
from runner.procedure.model import Procedure, Step


class Attempt(NamedTuple):
    """One go at a step, or an interruption (with no step)."""

    step: str
    by: str
    phase: int
    start: float
    end: float
    after: tuple[int, ...]
    """Attempts that had to end before."""


class Schedule:
    """Collects the attempts of a run."""

    def __init__(self, procedure: Procedure) -> None:
        self.procedure = procedure
        self.attempts: list[Attempt] = []
        self.of_lane: dict[int, int] = {}
        self.of_person: dict[str, int] = {}
        self.makers: dict[int, int] = {}
        self.phase = 0
        self.ended_before: tuple[int, ...] = ()

    def add(self, step: Step, lane: int, position: Position, start: float, end: float) -> None:
        """An attempt has ended; `position` is the one before it did."""
        self.enter(position.phase)
        first = self.of_lane.get(lane)
        links = {self.of_person.get(step.by), *(self.makers.get(at) for at, _ in step.needs)}
        links |= {first} if first is not None else set(self.ended_before)
        after = tuple(sorted(link for link in links if link is not None))
        number = len(self.attempts)
        self.attempts.append(Attempt(step.id, step.by, position.phase, start, end, after))
        self.of_lane[lane] = self.of_person[step.by] = number
        self.makers.update(dict.fromkeys((at for at, _ in step.makes), number))

    def interrupted(self, position: Position, start: float, end: float) -> None:
        """Everybody waited."""
        self.enter(position.phase)
        number, before = len(self.attempts), {*self.of_lane.values(), *self.ended_before}
        self.attempts.append(Attempt("", "", position.phase, start, end, tuple(sorted(before))))
        self.of_lane = dict.fromkeys(range(len(position.cursors)), number)

    def enter(self, phase: int) -> None:
        """Another phase: it begins when all lists of the one before have ended."""
        if phase != self.phase:
            self.ended_before = tuple(self.of_lane.values()) or self.ended_before
            self.phase, self.of_lane = phase, {}

    def of_phase(self, phase: int) -> tuple[float, float] | None:
        """(begin, end) of a phase in seconds of the run; None where nothing was done in it."""
        own = [attempt for attempt in self.attempts if attempt.phase == phase]
        return (min(a.start for a in own), max(a.end for a in own)) if own else None


def retimed(attempts: Sequence[Attempt], factor: Mapping[str, float]) -> float:
    """How long the run takes where the steps named take that share of their time, in the recorded order; s."""
    ends: list[float] = []
    for attempt in attempts:
        before = max((ends[at] for at in attempt.after), default=0.0)
        ends.append(before + (attempt.end - attempt.start) * factor.get(attempt.step, 1.0))
    return max(ends, default=0.0)


def critical(attempts: Sequence[Attempt]) -> tuple[int, ...]:
    """The attempts of a longest chain, first to last."""
    ends: list[float] = []
    link: list[int | None] = []
    for attempt in attempts:
        last = max(attempt.after, key=lambda at: ends[at], default=None)
        link.append(last)
        ends.append((ends[last] if last is not None else 0.0) + attempt.end - attempt.start)
    at = max(range(len(ends)), key=lambda number: ends[number], default=None)
    chain: list[int] = []
    while at is not None:
        chain.append(at)
        at = link[at]
    return tuple(reversed(chain))


def stopped_seconds(procedure: Procedure, schedule: Schedule) -> float:
    """How long phases lasted in which the press stands."""
    spans = [schedule.of_phase(at) for at, phase in enumerate(procedure.phases) if phase.press == "stopped"]
    return sum(span[1] - span[0] for span in spans if span is not None)


def up(procedure: Procedure, position: Position) -> list[tuple[int, Step]]:
    """(lane, step) of what is up."""
    if flow.ended(procedure, position):
        return []
    found = []
    for lane, (cursor, steps) in enumerate(zip(position.cursors, procedure.phases[position.phase].lists, strict=True)):
        if cursor.step < len(steps.steps):
            found.append((lane, steps.steps[cursor.step]))
    return found
