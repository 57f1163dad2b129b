"""What of a node still matters: nodes that differ in nothing else are one.

A state's value no longer matters where every way from here begins a step that makes it before any step needs it; what
`at_end` asks is followed apart (see `ending`). A decided condition matters while a later step has it, or one that is joined
with it by values.
"""

from runner.engine.position import Position
from runner.lint.proof.conditions import Conditions
from runner.lint.proof.moves import Node
from runner.procedure.model import UNKNOWN, Procedure, Step, StepList

States = frozenset[int]


class Matters:
    """For every place in every list what matters from there on."""

    def __init__(self, procedure: Procedure, conditions: Conditions) -> None:
        self.procedure, self.conditions = procedure, conditions
        self._states: list[list[list[States]]] = []
        self._conditions: list[list[list[States]]] = []
        states, later = frozenset[int](), frozenset[int]()
        for phase in reversed(procedure.phases):
            live = [needed_from(steps, states) for steps in phase.lists]
            used = [self._used_from(steps, later) for steps in phase.lists]
            self._states.append(live)
            self._conditions.append(used)
            states = frozenset[int]().union(*(lane[0] for lane in live)) if live else states
            later = later.union(*(lane[0] for lane in used))
        self._states.reverse()
        self._conditions.reverse()
        self._owned = frozenset(at for at, state in enumerate(procedure.states) if state.one_owner)
        self._memo: dict[tuple[int, tuple[int, ...]], tuple[tuple[int, ...], States]] = {}

    def _used_from(self, steps: StepList, later: States) -> list[States]:
        """For each place of a list and its end the conditions that steps from there on have."""
        found = [later]
        for step in reversed(steps.steps):
            condition = self.conditions.of(step)
            found.append(found[-1] if condition is None else found[-1] | {condition})
        found.reverse()
        return looked_back(steps, found)

    def here(self, node: Node) -> tuple[tuple[int, ...], States]:
        """The states that no longer matter at a node, and the conditions that do."""
        phase, cursors = node.position.phase, node.position.cursors
        key = (phase, tuple([cursor.step for cursor in cursors]))
        known = self._memo.get(key)
        if known is None:
            states, used = self._owned, frozenset[int]()
            if phase < len(self._states):
                lanes = range(len(cursors))
                states = states.union(*(self._states[phase][lane][cursors[lane].step] for lane in lanes))
                used = used.union(*(self._conditions[phase][lane][cursors[lane].step] for lane in lanes))
            known = (tuple(at for at in range(len(self.procedure.states)) if at not in states), used)
            self._memo[key] = known
        return known

    def only(self, node: Node) -> Node:
        """The node without what no longer matters."""
        over, used = self.here(node)
        position, decided = node.position, node.decided
        if any(position.states[at] != UNKNOWN for at in over):
            values = list(position.states)
            for at in over:
                values[at] = UNKNOWN
            position = Position(position.phase, position.cursors, tuple(values), position.owners)
        if decided:
            decided = frozenset(pair for pair in decided if self.conditions.related[pair[0]] & used)
        return Node(position, decided, node.assumed)


def needed_from(steps: StepList, later: States) -> list[States]:
    """For each place of a list and its end the states whose value matters: needed there or later, before it is surely made anew."""
    found = [later] * (len(steps.steps) + 1)
    changed = True
    while changed:
        changed = False
        for place in range(len(steps.steps) - 1, -1, -1):
            step = steps.steps[place]
            live = frozenset(state for state, _ in step.needs) | (found[place + 1] - surely_made(step))
            for target in back_to(steps, step):
                live |= found[target] - surely_made(step)
            if live != found[place]:
                found[place], changed = live, True
    return found


def surely_made(step: Step) -> States:
    """The states that any way past a step makes unknown first, so that what they were before is no matter."""
    if step.when is not None or step.optional:
        return frozenset()
    return frozenset(state for state, _ in step.makes)


def back_to(steps: StepList, step: Step) -> list[int]:
    """The places that the troubles of a step lead back to."""
    ids = [other.id for other in steps.steps]
    return [ids.index(trouble.back_to) for trouble in step.troubles if trouble.way_on == "back_to"]


def looked_back(steps: StepList, found: list[States]) -> list[States]:
    """What is used from each place on, also by way of troubles that lead back."""
    changed = True
    while changed:
        changed = False
        for place, step in enumerate(steps.steps):
            for target in back_to(steps, step):
                for between in range(target, place + 1):
                    if not found[target] <= found[between]:
                        found[between] |= found[target]
                        changed = True
    return found
