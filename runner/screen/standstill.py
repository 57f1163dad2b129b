"""How long the press has stood: from the first step of the first phase that stops it to the last step of the last one.

In a changeover that reads the counter there, this is the time from the last good metre to the first good one.
"""

from datetime import datetime
from typing import NamedTuple

from runner.engine.moment import Moment, seconds_between
from runner.engine.state import RunState
from runner.procedure.model import Phase, Procedure


class Standstill(NamedTuple):
    """A standstill that has begun."""

    since: str
    """Hours and minutes, UTC."""
    seconds: float
    over: bool
    """True where the press makes good product again: every phase that stops it has ended."""
    planned_s: float
    """What the steps of these phases are expected to take; 0 where nothing is said."""


class Stopped:
    """Of a procedure, what its phases that stop the press come to."""

    def __init__(self, procedure: Procedure) -> None:
        self.procedure = procedure
        places = [at for at, phase in enumerate(procedure.phases) if phase.press == "stopped"]
        phases = [procedure.phases[at] for at in places]
        self.last = places[-1] if places else -1
        self.steps = frozenset(step.id for phase in phases for steps in phase.lists for step in steps.steps)
        self.planned_s = sum(map(planned, phases))


MOST_KEPT = 4
_KEPT: dict[int, Stopped] = {}
"""By identity of the procedure, which may be large and never changes; what is kept keeps it, so that no other takes its
identity. The clock beside the page is drawn every second and at every key."""


def stopped_in(procedure: Procedure) -> Stopped:
    """What stops the press in a procedure, found once."""
    known = _KEPT.get(id(procedure))
    if known is None:
        if len(_KEPT) >= MOST_KEPT:
            _KEPT.clear()
        known = _KEPT[id(procedure)] = Stopped(procedure)
    return known


def standstill(procedure: Procedure, state: RunState, now: Moment) -> Standstill | None:
    """The standstill of a run; None before it begins, or where no phase stops the press."""
    stopped = stopped_in(procedure)
    records = [record for step, record in state.records.items() if step in stopped.steps]
    begun = [record.begun_at for record in records if record.begun_at is not None]
    if not begun:
        return None
    since = begun[0]
    for moment in begun:
        since = moment if apart(moment, since) > 0 else since
    over = state.position.phase > stopped.last or bool(state.outcome)
    ended = [apart(since, record.ended_at) for record in records if record.ended_at is not None]
    stood = max(ended, default=0.0) if over else apart(since, now)
    return Standstill(since.utc[11:16], max(0.0, stood), over, stopped.planned_s)


def planned(phase: Phase) -> float:
    """What a phase is expected to take: its longest list, in s."""
    return max((sum(step.expect_s or 0.0 for step in steps.steps) for steps in phase.lists), default=0.0)


def apart(since: Moment, until: Moment) -> float:
    """Seconds from one moment to another: by the steady clock, or by the time of day where the computer was restarted."""
    steady = seconds_between(since, until)
    if steady is not None:
        return steady
    first, last = (datetime.fromisoformat(moment.utc.replace("Z", "+00:00")) for moment in (since, until))
    return (last - first).total_seconds()


def long_words(seconds: float) -> str:
    """A long time as a person reads it: 42 min, 1 h 05 min."""
    minutes = int(seconds // 60)
    return f"{minutes} min" if minutes < 60 else f"{minutes // 60} h {minutes % 60:02d} min"
