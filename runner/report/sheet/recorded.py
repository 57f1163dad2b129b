"""What a record says of each step, as a paper form needs it: done when and by whom, or still to do, and where the place is.

Everything is quoted from events; the place comes from the engine's own replay. A step that has begun and not ended is
to do again on paper: nobody can see from here how far it is.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from runner.engine import events as ev
from runner.engine import flow
from runner.engine.evolve import replay
from runner.engine.state import RunState, StepStatus
from runner.procedure.model import Procedure
from runner.report.contents.names import Entries, names_from_procedure
from runner.report.contents.section import Row
from runner.report.contents.steps import step_rows

CLOSED = frozenset({
    StepStatus.DONE.value, StepStatus.NOT_APPLICABLE.value, StepStatus.LEFT_OUT.value, StepStatus.TROUBLED.value
})  # fmt: skip
"""Statuses of steps that nothing is left to do at."""


@dataclass(frozen=True, slots=True)
class Recorded:
    """A run folded for paper."""

    begun: ev.RunBegun
    state: RunState
    rows: Mapping[str, Row]
    """By step id; see `runner.report.contents.steps`."""
    here: frozenset[str]
    """Ids of the steps that are up, one in each list that has not ended; none in a run that has ended."""
    released: Mapping[str, ev.HoldReleased]
    """The newest release of a hold that was not revoked, by step."""
    people: Mapping[str, str]
    """Initials by name; the whole name where two people have the same."""
    events: int
    last: str
    """When the newest event happened, UTC."""
    safe_acts: frozenset[int]
    """Numbers of the acts of making safe that are done or were not needed, while halted for it."""


def recorded(procedure: Procedure, entries: Entries) -> Recorded | None:
    """The record's (number, event) pairs in order; None where it has no beginning."""
    begun = next((event for _, event in entries if isinstance(event, ev.RunBegun)), None)
    if begun is None:
        return None
    state = replay(procedure, (event for _, event in entries))
    rows = {row["step"]: row for row in step_rows(entries, names_from_procedure(procedure, entries))}
    released: dict[str, ev.HoldReleased] = {}
    for _, event in entries:
        match event:
            case ev.HoldReleased():
                released[event.step] = event
            case ev.HoldRevoked():
                released.pop(event.step, None)
            case ev.WentBack():
                for step in event.again:
                    released.pop(step, None)
            case _:
                pass
    names = [event.by for _, event in entries if event.by] + list(state.crew.values())
    number, last = entries[-1]
    dealt_with = frozenset((*state.safe_acts_done, *state.safe_acts_not_needed))
    return Recorded(
        begun, state, rows, steps_here(procedure, state), released, initials(names), number, last.at.utc, dealt_with
    )


def steps_here(procedure: Procedure, state: RunState) -> frozenset[str]:
    """The steps that are up."""
    position = state.position
    if state.outcome or flow.ended(procedure, position):
        return frozenset()
    up = (flow.current(procedure, position, lane) for lane in range(len(position.cursors)))
    return frozenset(step.id for step in up if step is not None)


def initials(names: Sequence[str]) -> dict[str, str]:
    """`Ilka Foss` is `I.F.`; where two people would sign alike both sign with their names."""
    short = {name: "".join(f"{part[0].upper()}." for part in name.split()) or name for name in names}
    signs = list(short.values())
    return {name: sign if signs.count(sign) == 1 else name for name, sign in short.items()}


def clock_time(utc: str, begun: str) -> str:
    """`09:41`, with its date where it is not that of the beginning."""
    if len(utc) < 17 or utc[10:11] != "T":
        return utc
    return f"{utc[11:16]} UTC" if utc[:10] == begun[:10] else f"{utc[:10]} {utc[11:16]} UTC"


def newest_attempt(row: Row) -> Row | None:
    """The attempt that counts; None where the step has not begun."""
    return row["attempts"][-1] if row["attempts"] else None
