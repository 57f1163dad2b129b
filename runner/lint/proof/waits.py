"""Where no list can go on: what each waits for, and whether another list may still bring it.

A list waits without hope where no step that the others still have makes what it needs or gives it free. Where every list
may hope, they wait for each other.
"""

from typing import NamedTuple

from runner.engine import flow
from runner.lint.proof.moves import Node
from runner.procedure.model import Procedure, Step


class Wait(NamedTuple):
    """A list that cannot go on: its step, what keeps it, and what of that nobody brings."""

    lane: int
    step: Step
    blocks: tuple[flow.Block, ...]
    hopeless: tuple[flow.Block, ...]


def hopeless(waits: tuple[Wait, ...]) -> tuple[Wait, ...]:
    """The lists that wait for what nobody brings; none where the lists wait for each other."""
    return tuple(wait for wait in waits if wait.hopeless)


def waits_at(procedure: Procedure, node: Node) -> tuple[Wait, ...]:
    """What keeps each list that has not ended."""
    found = []
    for lane in range(len(node.position.cursors)):
        step = flow.current(procedure, node.position, lane)
        if step is not None:
            blocks = blocks_of(procedure, node, lane, step)
            hopeless = tuple(
                block
                for block in blocks
                if block.kind != "conflict" and not may_come(procedure, node, lane, step, block)
            )
            found.append(Wait(lane, step, blocks, hopeless))
    return tuple(found)


def blocks_of(procedure: Procedure, node: Node, lane: int, step: Step) -> tuple[flow.Block, ...]:
    """What keeps a step from beginning, or from being done where it is in progress."""
    position = node.position
    if not position.cursors[lane].begun:
        return flow.blocks(procedure, position, lane)
    return tuple(
        flow.Block("need", state, flow.need_words(procedure.states[state], value, position.states[state]))
        for state, value in flow.unmet_in_progress(position, step)
    )


def may_come(procedure: Procedure, node: Node, lane: int, step: Step, block: flow.Block) -> bool:
    """Whether a step that another list still has makes what is needed, or may give it free."""
    wanted = dict(step.needs).get(block.state) if block.kind == "need" else 0
    lists = procedure.phases[node.position.phase].lists
    return any(
        (block.state, wanted) in later.makes
        for other, cursor in enumerate(node.position.cursors)
        if other != lane
        for later in lists[other].steps[cursor.step :]
    )
