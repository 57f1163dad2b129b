"""Holds that are coming: announced two steps ahead in every list, so that whoever releases them is called in time.

A step that is passed over for good counts for nothing; one whose condition is not known yet counts, rather than
announce a hold too late. Pure.
"""

from typing import NamedTuple

from runner.engine import flow
from runner.engine.shown import role_label
from runner.engine.state import RunState, StepStatus
from runner.procedure.model import Procedure, Step
from runner.say.text import say, say_n
from runner.screen.blocks import Block, Ink, Say

AHEAD = 2
"""Steps of a list that are looked at beyond the one that is up."""


class Coming(NamedTuple):
    """A hold that is coming."""

    lane: int
    number: str
    """Of the step that it holds."""
    steps: int
    """How many steps from the one that is up: 1 is the next."""
    role: str
    """Who releases it, as people call them."""
    name: str
    """Empty where nobody has the role."""


def holds_ahead(procedure: Procedure, state: RunState) -> tuple[Coming, ...]:
    """Of every list of the phase that is on, and of the next phase where the list ends before; nearest first."""
    if flow.ended(procedure, state.position) or state.halted:
        return ()
    found = []
    for lane in range(len(state.position.cursors)):
        for at, step in enumerate(_next_steps(procedure, state, lane), start=1):
            if step.hold is not None:
                role = step.hold.release
                label = role_label(procedure, role)
                found.append(Coming(lane, step.number, at, label, state.crew.get(role, "")))
    return tuple(sorted(found, key=lambda coming: coming.steps))


def _next_steps(procedure: Procedure, state: RunState, lane: int) -> tuple[Step, ...]:
    rest = flow.list_of(procedure, state.position, lane).steps[state.position.cursors[lane].step + 1 :]
    if len(state.position.cursors) == 1 and state.position.phase + 1 < len(procedure.phases):
        lists = procedure.phases[state.position.phase + 1].lists
        rest = (*rest, *(lists[0].steps if len(lists) == 1 else ()))
    found = []
    for step in rest:
        if state.record(step.id).status is not StepStatus.NOT_APPLICABLE:
            found.append(step)
        if len(found) == AHEAD:
            break
    return tuple(found)


def ahead_blocks(procedure: Procedure, state: RunState, lane: int) -> tuple[Block, ...]:
    """A line for each; those of the other list say whose it is."""
    blocks = []
    for coming in holds_ahead(procedure, state):
        near = say_n("in {n} step", "in {n} steps", coming.steps)
        who = (
            f"{coming.role} ({coming.name})" if coming.name else say("{role} (nobody has signed on)", role=coming.role)
        )
        words = say("step {number} {near}: call {who} now", number=coming.number, near=near, who=who)
        label = say("hold") if coming.lane == lane else say("hold {letter}", letter=chr(ord("A") + coming.lane))
        blocks.append(Say(words, label, Ink.STRONG))
    return tuple(blocks)
