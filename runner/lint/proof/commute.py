"""Moves of two lists that commute: which list may go on alone, so that not every mixing has to be walked.

A list goes on alone while its step that is up makes nothing that another list still touches, and needs nothing that another
list still makes: its moves and the others' then give the same in any order, so every place where nothing can go on, and every
end, is still come to, by a way of the same length (persistent sets, after Godefroid 1996, from memory). Conditions need no
such look: a list may not use what the other asks for in the same phase (`used-too-early`).
"""

from runner.engine.position import Position
from runner.lint.proof.matters import States, back_to
from runner.procedure.model import Procedure, Step, StepList


class Commute:
    """For every place in every list what its steps from there on touch and make."""

    def __init__(self, procedure: Procedure) -> None:
        self._touched: list[list[list[tuple[States, States]]]] = [
            [touched_from(steps) for steps in phase.lists] for phase in procedure.phases
        ]

    def alone(self, position: Position, lane: int, step: Step) -> bool:
        """Whether the moves of a list's step are independent of all that other lists may do in this phase."""
        touches, makes = touched(step), made(step)
        for other, cursor in enumerate(position.cursors):
            if other != lane:
                all_, changed = self._touched[position.phase][other][cursor.step]
                if makes & all_ or touches & changed:
                    return False
        return True


def touched_from(steps: StepList) -> list[tuple[States, States]]:
    """For each place of a list and its end what its steps from there on touch and what they make, troubles that lead back too."""
    found: list[tuple[States, States]] = [(frozenset(), frozenset())]
    for step in reversed(steps.steps):
        all_, changed = found[-1]
        found.append((all_ | touched(step), changed | made(step)))
    found.reverse()
    for _ in steps.steps:
        before = list(found)
        for place, step in enumerate(steps.steps):
            for target in back_to(steps, step):
                for between in range(target, place + 1):
                    found[between] = (found[between][0] | found[target][0], found[between][1] | found[target][1])
        if found == before:
            break
    return found


def touched(step: Step) -> States:
    """The states that a step needs or makes."""
    return frozenset(state for state, _ in step.needs + step.makes)


def made(step: Step) -> States:
    """The states that a step makes."""
    return frozenset(state for state, _ in step.makes)
