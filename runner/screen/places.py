"""The steps of a procedure in one row after the other, as the place list shows them: only what is in sight is made.

A procedure may have thousands of steps, so the order is kept once per procedure and rows are made for a window.
"""

from typing import NamedTuple

from runner.engine import flow
from runner.engine.shown import fill_in, role_label
from runner.engine.state import RunState
from runner.procedure.model import Procedure, Step
from runner.say.text import say
from runner.screen.blocks import Row
from runner.screen.marks import HOLD, MARKS, STATUS_INKS


class Spot(NamedTuple):
    """One step and where it stands."""

    step: Step
    phase: int
    lane: int
    place: int


class Outline:
    """All steps of a procedure in the order of the text."""

    def __init__(self, procedure: Procedure) -> None:
        self.procedure = procedure
        self.spots = tuple(
            Spot(step, at, lane, place)
            for at, phase in enumerate(procedure.phases)
            for lane, steps in enumerate(phase.lists)
            for place, step in enumerate(steps.steps)
        )
        self.first = {(spot.phase, spot.lane): at for at, spot in reversed(tuple(enumerate(self.spots)))}


MOST_KEPT = 4
_KEPT: dict[int, Outline] = {}
"""By identity of the procedure, which is large and never changes; its outline keeps it, so that no other takes its identity."""


def outline(procedure: Procedure) -> Outline:
    """The outline of a procedure, made once."""
    known = _KEPT.get(id(procedure))
    if known is None:
        if len(_KEPT) >= MOST_KEPT:
            _KEPT.clear()
        known = _KEPT[id(procedure)] = Outline(procedure)
    return known


def here(procedure: Procedure, state: RunState, lane: int) -> int:
    """The place in the outline of the step that is up in a list; of its last one where the list has ended."""
    spots = outline(procedure)
    if flow.ended(procedure, state.position):
        return max(0, len(spots.spots) - 1)
    lane = min(lane, len(state.position.cursors) - 1)
    first = spots.first.get((state.position.phase, lane), 0)
    count = len(flow.list_of(procedure, state.position, lane).steps)
    return first + min(state.position.cursors[lane].step, max(0, count - 1))


def up_now(procedure: Procedure, state: RunState) -> frozenset[str]:
    """The ids of the steps that are up."""
    lanes = range(len(state.position.cursors))
    steps = (flow.current(procedure, state.position, lane) for lane in lanes)
    return frozenset(step.id for step in steps if step is not None)


def window(procedure: Procedure, state: RunState, middle: int, room: int) -> tuple[int, tuple[Row, ...]]:
    """(outline place of the first row, rows) for so many steps around a place."""
    spots = outline(procedure).spots
    first = max(0, min(middle - room // 2, len(spots) - room))
    up = up_now(procedure, state)
    return first, tuple(_row(procedure, state, spot, spot.step.id in up) for spot in spots[first : first + room])


def _row(procedure: Procedure, state: RunState, spot: Spot, is_up: bool) -> Row:
    step = spot.step
    status = state.record(step.id).status
    act, _ = fill_in(state, step.do)
    held = f" {HOLD}" if step.hold else "  "
    word = say("{status}, UP", status=say(status.value)) if is_up else say(status.value)
    role = role_label(procedure, step.by)
    text = f"{step.number:<6}{held} {act}"
    return Row(text, MARKS[status], word, STATUS_INKS[status], cut=True, spare=f"  ({role})")
