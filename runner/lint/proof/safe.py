"""Stopping and making safe in the middle of a way, and whether the lists find a way on afterwards.

What is made safe stays so when the run goes on, so a step that needs the drive running waits for one that starts it again.
The way on may be to go back: to any earlier step of a list whose needs are met. This looks at the moments at which a step
comes up on one way of plain order; at others it is the same or better, since less has been undone.
"""

from collections.abc import Iterator
from itertools import islice
from typing import NamedTuple

from runner.engine import flow
from runner.engine.position import Position
from runner.lint.proof.conditions import Conditions
from runner.lint.proof.quick import Held, goes_on
from runner.procedure.model import Phase, Procedure, SafeAct, Step

MOST_MOMENTS = 2_000
"""Moments looked at; a way of more steps is looked at as far as this."""

Known = dict[Position, Position]
"""Where lists that go on from a position come to stand."""


class NoWayOn(NamedTuple):
    """A phase in which no way leads on after making safe, where that was first met, and what then waits."""

    phase: Phase
    step: Step
    """The step that was up."""
    waits: Step
    state: int
    words: str


def no_ways_on(procedure: Procedure, conditions: Conditions, entries: tuple[Held, ...] = ()) -> Iterator[NoWayOn]:
    """For each phase the first moment on a way from which making safe leaves no way to the end of the phase.

    `entries`: what states may be where each phase begins, where that is known; most phases are then seen to go on at once.
    """
    told = {at for at, entry in enumerate(entries) if goes_on(procedure, conditions, at, entry)}
    if len(told) == len(procedure.phases):
        return
    known: Known = {}
    for step, position in islice(moments(procedure, conditions), MOST_MOMENTS):
        if position.phase in told:
            continue
        phase = procedure.phases[position.phase]
        acts = phase.make_safe or procedure.make_safe
        if all(position.states[state] == value for act in acts for state, value in act.makes):
            continue  # nobody is at work at such a moment, so there is nothing that these acts would change
        made = made_safe(procedure, position, acts)
        if made.states != position.states:
            block = stands_still(procedure, made, known)
            if block is not None:
                told.add(position.phase)
                yield NoWayOn(phase, step, *block)


def moments(procedure: Procedure, conditions: Conditions) -> Iterator[tuple[Step, Position]]:
    """Each step of one way of plain order with the position at which it comes up; on it every step applies that may."""
    position, decided = flow.start(procedure), frozenset[tuple[int, bool]]()
    going = True
    while going and not flow.ended(procedure, position):
        going = False
        phase = position.phase
        for lane in range(len(position.cursors)):
            while position.phase == phase and (step := flow.current(procedure, position, lane)) is not None:
                condition = conditions.of(step)
                if condition is not None:
                    applies = True in conditions.truths(condition, decided)
                    decided |= {(condition, applies)}
                    if not applies:
                        position, going = flow.passed(procedure, position, lane), True
                        continue
                if flow.blocks(procedure, position, lane):
                    break
                yield step, position
                position, going = flow.done(procedure, flow.begun(procedure, position, lane), lane), True
                decided = conditions.left_by(step, decided)


def made_safe(procedure: Procedure, position: Position, acts: tuple[SafeAct, ...]) -> Position:
    """The position with all acts of making safe done."""
    for act in acts:
        position = flow.safe_act_done(procedure, position, act.makes)
    return position


def stands_still(procedure: Procedure, position: Position, known: Known) -> tuple[Step, int, str] | None:
    """The step that waits for ever, what for, and words, where neither going on nor going back leads to the end of the phase."""
    at = run_on(procedure, position, known)
    if at.phase != position.phase:
        return None
    stuck = first_block(procedure, at)
    for lane, cursor in enumerate(position.cursors):
        for earlier in range(cursor.step - 1, -1, -1):
            back = flow.returned(position, lane, earlier)
            if run_on(procedure, back, known).phase != position.phase:
                return None
    return stuck


def run_on(procedure: Procedure, position: Position, known: Known) -> Position:
    """As far as the lists come in this phase, each going on whenever it can and every step applying; noted for all on the way."""
    phase = position.phase
    met = [position]
    going = position not in known
    while going and position.phase == phase:
        going = False
        for lane in range(len(position.cursors)):
            while position.phase == phase and (after := one_move(procedure, position, lane)) is not None:
                position, going = after, True
                if len(position.cursors) == 1 and position in known:  # one list alone goes on the same way from here
                    going = False
                    break
                met.append(position)
            if position.phase != phase:
                break
    end = known.get(position, position)
    known.update({at: end for at in met if at.phase == phase})  # where the next phase begins, nothing was gone on from
    return end


def one_move(procedure: Procedure, position: Position, lane: int) -> Position | None:
    """The next move of a list, None where it has ended or waits."""
    step = flow.current(procedure, position, lane)
    if step is None:
        return None
    if position.cursors[lane].begun:
        return None if flow.unmet_in_progress(position, step) else flow.done(procedure, position, lane)
    if not flow.blocks(procedure, position, lane):
        return flow.begun(procedure, position, lane)
    return flow.passed(procedure, position, lane) if step.when is not None or step.optional else None


def first_block(procedure: Procedure, position: Position) -> tuple[Step, int, str] | None:
    """What the first list that waits waits for."""
    for lane in range(len(position.cursors)):
        step = flow.current(procedure, position, lane)
        if step is not None:
            for block in flow.blocks(procedure, position, lane):
                return step, block.state, block.words
            for state, value in flow.unmet_in_progress(position, step):
                return step, state, flow.need_words(procedure.states[state], value, position.states[state])
    return None
