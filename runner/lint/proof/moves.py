"""What can come next at a node of the proof: every move of every list, as the engine's order rules allow it.

A move is one list's step beginning, being done, ending in a trouble, being repeated, left out, or passed over because its
condition does not hold. Beginning and being done are moves of their own, so steps of two lists overlap.
"""

from collections.abc import Iterator
from typing import NamedTuple

from runner.engine import flow
from runner.engine.position import Position
from runner.lint.proof.conditions import Conditions, Decided
from runner.procedure.model import Procedure, Step, Trouble

BEGINS, DONE, PASSED, LEFT_OUT, TROUBLED, REPEATED, ASSUMED = (
    "begins", "is done", "does not apply", "is left out", "meets its trouble", "is done once more", "is taken to begin all the same",
)  # fmt: skip
"""Words of the moves. The last one is no move of a run: where a step stands still for ever, the proof goes on as if it did not."""

DEPARTURES = frozenset({LEFT_OUT, TROUBLED, REPEATED})
"""Moves that plain order does not make."""


class Node(NamedTuple):
    """Where a way stands: the position, how conditions are decided on it, and whether something on it was assumed.

    Every step that is up has its condition decided, and it stays so until something that it rests on is asked again.
    """

    position: Position
    decided: Decided
    assumed: bool = False


class Move(NamedTuple):
    """One list's move."""

    lane: int
    step: Step
    kind: str
    trouble: Trouble | None = None


class Moves:
    """The moves of one procedure."""

    def __init__(self, procedure: Procedure, conditions: Conditions) -> None:
        self.procedure, self.conditions = procedure, conditions

    def decided(self, node: Node) -> list[Node]:
        """The node once for every way in which the conditions of the steps that are up may be decided."""
        found = [node]
        for lane in range(len(node.position.cursors)):
            step = flow.current(self.procedure, node.position, lane)
            condition = None if step is None or node.position.cursors[lane].begun else self.conditions.of(step)
            if condition is not None:
                found = [each for one in found for each in self._decided(one, condition)]
        return found

    def _decided(self, node: Node, condition: int) -> list[Node]:
        truths = self.conditions.truths(condition, node.decided)
        return [node._replace(decided=node.decided | {(condition, truth)}) for truth in truths]

    def applies(self, node: Node, step: Step) -> bool:
        """Whether the step that is up applies."""
        condition = self.conditions.of(step)
        return condition is None or (condition, True) in node.decided

    def of(self, node: Node, lane: int) -> Iterator[tuple[Move, Node]]:
        """The moves of one list; none where it has ended or stands still."""
        position = node.position
        step = flow.current(self.procedure, position, lane)
        if step is None:
            return
        if position.cursors[lane].begun:
            yield from self._ended(node, lane, step)
            return
        left = self.conditions.left_by(step, node.decided)
        after = flow.passed(self.procedure, position, lane)
        if not self.applies(node, step):
            yield Move(lane, step, PASSED), Node(after, self.conditions.left_behind(step, node.decided), node.assumed)
            return
        if not flow.blocks(self.procedure, position, lane):
            begun = flow.begun(self.procedure, position, lane)
            yield Move(lane, step, BEGINS), Node(begun, left, node.assumed)
        if step.optional:
            yield Move(lane, step, LEFT_OUT), Node(after, node.decided, node.assumed)

    def _ended(self, node: Node, lane: int, step: Step) -> Iterator[tuple[Move, Node]]:
        position = node.position
        if not flow.unmet_in_progress(position, step):
            done = flow.done(self.procedure, position, lane)
            yield Move(lane, step, DONE), Node(done, node.decided, node.assumed)
        for trouble in step.troubles:
            after = flow.troubled(self.procedure, position, lane, trouble)
            yield Move(lane, step, TROUBLED, trouble), Node(after, node.decided, node.assumed)
        if step.repeat is not None:
            yield Move(lane, step, REPEATED), node._replace(position=flow.repeated(position, lane))

    def assumed(self, node: Node, lane: int) -> Node:
        """The node with the step that is up in a list begun, as if what it lacks were so."""
        position = node.position
        step = flow.current(self.procedure, position, lane)
        assert step is not None
        if position.cursors[lane].begun:
            return node._replace(position=flow.done(self.procedure, position, lane), assumed=True)
        states, owners = list(position.states), list(position.owners)
        for state, value in step.needs:
            states[state] = value
        for state, _ in step.needs + step.makes:
            owners[state] = ""
        freed = position._replace(states=tuple(states), owners=tuple(owners))
        left = self.conditions.left_by(step, node.decided)
        return Node(flow.begun(self.procedure, freed, lane), left, assumed=True)
