"""Hints of a step on three levels, counted in the record: 1 a reminder, 2 the key points, 3 it is shown.

The author's own come first: those of a fault that is on, then those of the step. Else they come from the step itself.
The levels follow tell, show, do, follow up as the trade teaches it (Training Within Industry, job instruction, from memory).
"""

from typing import NamedTuple

from runner.procedure.model import Procedure, Step
from runner.procedure.scenarios.model import Scenario

LEVELS = ("unaided", "reminder", "key points", "shown")
"""By the number that the record keeps."""


class Hint(NamedTuple):
    """One hint."""

    level: int
    words: str
    last: bool


def hint(scenario: Scenario, procedure: Procedure, step: Step, faults: tuple[str, ...], taken: int, now: str) -> Hint:
    """The next hint at a step after `taken` of them; `faults` are on there, `now` says what is to be done in the runner."""
    told = hints_of(scenario, procedure, step, faults, now)
    level = min(taken + 1, len(told))
    return Hint(level if level < len(told) else max(level, min(3, taken + 1)), told[level - 1], level == len(told))


def hints_of(
    scenario: Scenario, procedure: Procedure, step: Step, faults: tuple[str, ...], now: str
) -> tuple[str, ...]:
    """All hints of a step, the least telling first."""
    for name in faults:
        fault = scenario.fault(name)
        if fault is not None and fault.hints:
            return fault.hints
    own = dict(scenario.hints).get(step.id)
    return (
        own
        if own
        else (reminder(procedure, step), "; ".join(key_points(procedure, step)) or "Do as it is written.", now)
    )


def reminder(procedure: Procedure, step: Step) -> str:
    """What the step is for, or what it rests on."""
    if step.why:
        return step.why
    needs = ", ".join(
        f"{procedure.states[state].label} {procedure.states[state].of[value]}" for state, value in step.needs
    )
    return f"Before this step: {needs}." if needs else "Read the act once more, aloud."


def key_points(procedure: Procedure, step: Step) -> tuple[str, ...]:
    """What makes or breaks the step, may hurt, or makes it easier: its cautions, holds, signs of trouble."""
    points = [f"{caution.hazard} {caution.avoid}" for caution in step.cautions]
    if step.hold is not None:
        points += [
            f"The {dict(procedure.people).get(step.hold.release, step.hold.release)} confirms: {point}."
            for point in step.hold.confirm
        ]
        points.append(f"It relies on: {step.hold.protects}.")
    points += [f"Watch for: {trouble.sign}" for trouble in step.troubles]
    if step.second is not None:
        points.append("A second person looks before it is done.")
    return tuple(points)


def reasons(step: Step) -> tuple[str, ...]:
    """Why the step is done and what its cautions protect from."""
    return tuple(
        text for text in (step.why, step.explain, *(f"{c.hazard} {c.harm}".strip() for c in step.cautions)) if text
    )
