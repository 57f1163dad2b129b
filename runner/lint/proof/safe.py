"""Stopping and making safe in the middle of a way, and whether the lists find a way on afterwards.

What is made safe stays so when the run goes on, so a step that needs the drive running waits for one that starts it again.
The way on may be to go back: to any earlier step of a list whose needs are met. This looks at the moments at which a step
comes up on one way of plain order; at others it is the same or better, since less has been undone.
"""

from collections.abc import Iterator
from typing import NamedTuple

from runner.engine import flow
from runner.engine.position import Position
from runner.lint.proof.moves import BEGINS, Move
from runner.procedure.model import Phase, Procedure, SafeAct, Step

MOST_MOMENTS = 400
"""Moments looked at; a way of more steps is looked at as far as this."""


class NoWayOn(NamedTuple):
    """A phase in which no way leads on after making safe, where that was first met, and what then waits."""

    phase: Phase
    step: Step
    """The step that was up."""
    waits: Step
    state: int
    words: str


def no_ways_on(procedure: Procedure, way: tuple[Move, ...]) -> Iterator[NoWayOn]:
    """For each phase the first moment on a way from which making safe leaves no way to the end of the phase."""
    told: set[int] = set()
    position = flow.start(procedure)
    for move in way[:MOST_MOMENTS]:
        if move.kind == BEGINS and position.phase not in told:
            phase = procedure.phases[position.phase]
            acts = phase.make_safe or procedure.make_safe
            made = made_safe(procedure, position, acts)
            if made.states != position.states:
                block = stands_still(procedure, made)
                if block is not None:
                    told.add(position.phase)
                    yield NoWayOn(phase, move.step, *block)
        position = moved(procedure, position, move)


def made_safe(procedure: Procedure, position: Position, acts: tuple[SafeAct, ...]) -> Position:
    """The position with all acts of making safe done."""
    for act in acts:
        position = flow.safe_act_done(procedure, position, act.makes)
    return position


def moved(procedure: Procedure, position: Position, move: Move) -> Position:
    """The position after a move of plain order."""
    match move.kind:
        case "begins":
            return flow.begun(procedure, position, move.lane)
        case "is done":
            return flow.done(procedure, position, move.lane)
        case _:
            return flow.passed(procedure, position, move.lane)


def stands_still(procedure: Procedure, position: Position) -> tuple[Step, int, str] | None:
    """The step that waits for ever, what for, and words, where neither going on nor going back leads to the end of the phase."""
    at = run_on(procedure, position)
    if at.phase != position.phase:
        return None
    stuck = first_block(procedure, at)
    for lane, cursor in enumerate(position.cursors):
        for earlier in range(cursor.step - 1, -1, -1):
            back = flow.returned(position, lane, earlier)
            if run_on(procedure, back).phase != position.phase:
                return None
    return stuck


def run_on(procedure: Procedure, position: Position) -> Position:
    """As far as the lists come in this phase, each going on whenever it can and every step applying."""
    phase = position.phase
    going = True
    while going and position.phase == phase:
        going = False
        for lane in range(len(position.cursors)):
            while position.phase == phase and (after := one_move(procedure, position, lane)) is not None:
                position, going = after, True
            if position.phase != phase:
                break
    return position


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
