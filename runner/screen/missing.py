"""Who is missing: where a list has ended and its phase has not, and where a step of another list waits for somebody.

Looking together and looking independently are different acts, and are called for in different words.
"""

from collections.abc import Callable

from runner.engine import flow
from runner.engine.shown import doer, role_label
from runner.say.text import say
from runner.screen.blocks import Block, Fact, Facts, Ink, Say
from runner.screen.desk import Desk
from runner.screen.keys import Action
from runner.screen.view import Stage, StepView, step_view


def missing(desk: Desk) -> Facts:
    """A line for each list that the phase waits for."""
    rows = []
    for lane in range(len(desk.state.position.cursors)):
        step = flow.current(desk.procedure, desk.state.position, lane)
        if step is None:
            continue
        steps = flow.list_of(desk.procedure, desk.state.position, lane).steps
        at = desk.state.position.cursors[lane].step
        who = doer(desk.state, step) or say("nobody has signed on")
        place = say("{number} {status}", number=step.number, status=say(desk.state.record(step.id).status.value))
        left = say("{place} of {count}", place=at + 1, count=len(steps))
        rows.append(Fact(role_label(desk.procedure, step.by), f"{who}: {place}", left))
    return Facts(tuple(rows))


def calls(desk: Desk, lane: int) -> tuple[Block, ...]:
    """Steps of other lists than this one that wait for a release or a second look, a line each."""
    blocks: list[Block] = []
    for other in range(len(desk.state.position.cursors)):
        step = flow.current(desk.procedure, desk.state.position, other)
        if step is None or other == lane:
            continue
        seen = step_view(desk.procedure, desk.state, step, desk.now)
        told = _called(seen, lambda role: _person(desk, role))
        if told:
            label = say("list {letter}", letter=chr(ord("A") + other))
            blocks.append(Say(f"{told} ({desk.cap(Action.SIDE)})", label, Ink.ABNORMAL))
    return tuple(blocks)


def _called(seen: StepView, person: Callable[[str], str]) -> str:
    step = seen.step
    if seen.stage is Stage.HOLD and step.hold is not None and not seen.blocked:
        return say("{number} is held: {who} is to come and release.", number=step.number, who=person(step.hold.release))
    if seen.stage is Stage.SECOND and step.second is not None:
        who = person(step.second.by)
        if seen.alone:
            return say("{number} waits: {who} is to look alone, without the first answer.", number=step.number, who=who)
        return say("{number} waits: {who} is to come and look together.", number=step.number, who=who)
    return ""


def _person(desk: Desk, role: str) -> str:
    name = desk.state.crew.get(role, "")
    return name or role_label(desk.procedure, role)
