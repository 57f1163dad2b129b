"""What times need to know of a procedure: where each step stands, whose list it is in, and what it depends on.

A step of one list depends on a step of the other where the order rules could have kept it waiting: one makes a state that
the other needs or makes. This is the rule of `runner.engine.flow.blocks`.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from runner.procedure.model import Procedure, Step


@dataclass(frozen=True, slots=True)
class Planned:
    """A step as written. Roles as people call them, never a person's name."""

    id: str
    number: str
    phase: int
    press: str
    """running or stopped."""
    lane: int
    """Place of its list in the phase."""
    of_list: str
    """The role whose list it is; empty in a phase with one list."""
    by: str
    release: str
    """The role that releases its hold; empty without one."""
    second: str
    """The role that looks second; empty without one."""
    needs: frozenset[int]
    """Indexes of tracked states."""
    makes: frozenset[int]
    bound: bool
    """True where something says when it is done: a need, a state it makes, a hold or a caution."""


Plan = Mapping[str, Planned]
"""By the id of the step, in the order of the procedure."""


def plan_of(procedure: Procedure) -> Plan:
    """All steps of a procedure."""
    return {
        step.id: planned(procedure, step, at, phase.press, lane, steps.person)
        for at, phase in enumerate(procedure.phases)
        for lane, steps in enumerate(phase.lists)
        for step in steps.steps
    }


def planned(procedure: Procedure, step: Step, phase: int, press: str, lane: int, person: str) -> Planned:
    """One step."""

    people = dict(procedure.people)

    def called(role: str) -> str:
        return people.get(role, role)

    needs, makes = (frozenset(state for state, _ in facts) for facts in (step.needs, step.makes))
    return Planned(
        step.id, step.number, phase, press, lane, called(person), called(step.by),
        called(step.hold.release) if step.hold is not None else "",
        called(step.second.by) if step.second is not None else "",
        needs, makes, bool(needs or makes or step.hold or step.cautions or step.second),
    )  # fmt: skip


def depends(later: Planned, earlier: Planned) -> bool:
    """Whether a step could have waited for one of the other list."""
    return bool((later.needs | later.makes) & earlier.makes or later.makes & earlier.needs)
