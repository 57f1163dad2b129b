"""The end of the shift held against the work ahead: how far it is to the next place where work may be interrupted.

Times are those that the author expects of the steps; a step that is being done counts whole. Nothing is refused here: people
are told in time, and decide.
"""

from typing import NamedTuple

from runner.engine import flow
from runner.engine.state import RunState
from runner.procedure.model import Procedure
from runner.procedure.parking import expected_s, stretches
from runner.say.text import say

DAY_MIN = 24 * 60


class Ahead(NamedTuple):
    """The work from here to the next parking place, or the stretch that begins behind the one where the work stands."""

    phase: str
    """With which the stretch begins, where nothing of it is begun; else the phase that is on."""
    seconds: float
    standing: bool
    """True while work may still be interrupted here."""


def ahead(procedure: Procedure, state: RunState) -> Ahead | None:
    """None where the whole phase that is on is a parking place and the next one is too, or nothing is left."""
    number = state.position.phase
    if flow.phase_on(procedure, state.position) is None:
        return None
    phase, here = procedure.phases[number], _rest_s(procedure, state)
    if phase.park == "throughout":
        following = next((one for one in stretches(procedure) if one.first == number + 1), None)
        if following is None:
            return None
        return Ahead(procedure.phases[following.first].name, here + following.seconds, standing=True)
    stretch = next(one for one in stretches(procedure) if one.first <= number <= one.last)
    seconds = here + sum(expected_s(procedure.phases[at]) for at in range(number + 1, stretch.last + 1))
    fresh = number == stretch.first and all(c.step == 0 and not c.begun for c in state.position.cursors)
    return Ahead(phase.name, seconds, standing=fresh)


def _rest_s(procedure: Procedure, state: RunState) -> float:
    """What is left of the phase that is on: of lists side by side the longest."""
    return max(
        sum(step.expect_s or 0.0 for step in flow.list_of(procedure, state.position, lane).steps[cursor.step :])
        for lane, cursor in enumerate(state.position.cursors)
    )


def shift_warning(procedure: Procedure, state: RunState, local: str) -> str:
    """What to tell people about the end of the shift, at a local time of day (13:40); empty where it is far enough."""
    if not state.site.shift_ends or state.halted or state.outcome:
        return ""
    left, end = min(((_minutes(end) - _minutes(local)) % DAY_MIN, end) for end in state.site.shift_ends)
    found = ahead(procedure, state)
    if found is None or found.seconds <= left * 60:
        return ""
    work = -(-found.seconds // 60)
    if found.standing:
        return say(
            "The shift ends at {end}, in {left} min. From here it is about {work} min to the end of the next stretch ({phase}), in which work "
            "may not be interrupted. Leave the press here, or arrange who takes over.",
            end=end, left=left, work=f"{work:.0f}", phase=found.phase,
        )  # fmt: skip
    return say(
        "The shift ends at {end}, in {left} min. The next place where work may be interrupted is about {work} min away. Arrange who "
        "takes over.",
        end=end, left=left, work=f"{work:.0f}",
    )  # fmt: skip


def _minutes(clock: str) -> int:
    hours, minutes = clock.split(":")
    return int(hours) * 60 + int(minutes)
