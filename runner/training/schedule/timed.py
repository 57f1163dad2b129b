"""How long steps take, and steps with their times in a plan. Seconds everywhere.

A time is the author's `expect`, or the median of what was recorded; a step that neither speaks of takes a minute, and that
is said.
"""

from collections.abc import Mapping
from typing import NamedTuple

from runner.procedure.model import Procedure, Step, steps_of

UNSAID_S = 60.0
"""Of a step whose author does not say how long it takes. Common practice, no source."""

LEAST_S = 1.0
"""No step takes less."""

EXPECTED, RECORDED, ASSUMED = "expect of the author", "median of the records", "not said, a minute is assumed"

Seconds = Mapping[str, float]
"""By the id of the step."""


class Timed(NamedTuple):
    """A step in a plan."""

    step: str
    number: str
    by: str
    """The role that the procedure gives it to."""
    person: int
    """0 or 1: whose hands it takes in the plan."""
    start: float
    end: float


class Taken(NamedTuple):
    """How long every step takes, and where that comes from."""

    seconds: dict[str, float]
    origins: dict[str, str]

    def counts(self) -> tuple[tuple[str, int], ...]:
        """(origin, how many steps)."""
        found = list(self.origins.values())
        return tuple((origin, found.count(origin)) for origin in (EXPECTED, RECORDED, ASSUMED) if origin in found)


def taken(procedure: Procedure, recorded: Seconds) -> Taken:
    """How long each step takes: as recorded, where it was."""
    seconds: dict[str, float] = {}
    origins: dict[str, str] = {}
    for step in steps_of(procedure):
        if step.id in recorded:
            seconds[step.id], origins[step.id] = max(LEAST_S, recorded[step.id]), RECORDED
        elif step.expect_s:
            seconds[step.id], origins[step.id] = step.expect_s, EXPECTED
        else:
            seconds[step.id], origins[step.id] = UNSAID_S, ASSUMED
    return Taken(seconds, origins)


def timed(step: Step, person: int, start: float, seconds: float) -> Timed:
    """A step that begins then."""
    return Timed(step.id, step.number, step.by, person, start, start + seconds)
