"""Stretches of work between two places where it may be interrupted (`park`), and how long they are expected to take.

Lists side by side take as long as the longer one. Steps without `expect` count as nothing, so the time is never said too long.
"""

from typing import NamedTuple

from runner.procedure.model import Phase, Procedure


class Stretch(NamedTuple):
    """Phases after a parking place up to the next one; the beginning and the end of a procedure are such places too."""

    first: int
    """Index of the phase with which it begins."""
    last: int
    """Index of the phase whose end is the next place, or after which a phase begins that is one throughout."""
    seconds: float


def stretches(procedure: Procedure) -> tuple[Stretch, ...]:
    """Every stretch, in order."""
    found: list[Stretch] = []
    open_: Stretch | None = None
    for number, phase in enumerate(procedure.phases):
        if phase.park == "throughout":
            found += [open_] if open_ is not None else []
            open_ = None
            continue
        before = open_ or Stretch(number, number, 0.0)
        open_ = Stretch(before.first, number, before.seconds + expected_s(phase))
        if phase.park == "after":
            found.append(open_)
            open_ = None
    return (*found, open_) if open_ is not None else tuple(found)


def expected_s(phase: Phase) -> float:
    """How long a phase is expected to take."""
    return max((sum(step.expect_s or 0.0 for step in steps.steps) for steps in phase.lists), default=0.0)
