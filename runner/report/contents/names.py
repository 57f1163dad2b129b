"""What people call the things that events name by id: steps, phases, roles, states, cautions.

The names come from the compiled procedure when it is the one that was run, else from the events alone; a report is
possible without the procedure and says less then.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field

from runner.engine.events import Event
from runner.procedure.model import Procedure

Entries = Sequence[tuple[int, Event]]
"""(number in the record, event), in order."""


@dataclass(frozen=True, slots=True)
class StepName:
    """Where a step stands."""

    number: str
    phase: str
    press: str
    """running, stopped, or empty where not known."""


@dataclass(frozen=True, slots=True)
class Names:
    """Names by id."""

    from_procedure: bool
    steps: Mapping[str, StepName] = field(default_factory=dict)
    """In the order of the procedure, or in that of the events."""
    roles: Mapping[str, str] = field(default_factory=dict)
    states: Mapping[str, str] = field(default_factory=dict)
    cautions: Mapping[str, str] = field(default_factory=dict)
    equipment: str = ""
    purpose: str = ""

    def number(self, step: str) -> str:
        """The number of a step, empty where it has none."""
        return self.steps[step].number if step in self.steps else ""

    def step(self, step: str) -> str:
        """Number and id of a step."""
        return f"{self.number(step)} {step}".strip()

    def role(self, role: str) -> str:
        """How people call a role."""
        return self.roles.get(role, role)

    def state(self, state: str) -> str:
        """How people call a tracked state."""
        return self.states.get(state, state)

    def states_said(self, pairs: Iterable[tuple[str, str]]) -> list[list[str]]:
        """(state, value) pairs with the states' names."""
        return [[self.state(state), value] for state, value in pairs]

    def caution(self, caution: str) -> str:
        """Signal word and hazard of a caution."""
        return self.cautions.get(caution, caution)


def names_from_procedure(procedure: Procedure, entries: Entries) -> Names:
    """Names of the procedure; steps that only events know come after its own."""
    steps = {
        step.id: StepName(step.number, phase.name, phase.press)
        for phase in procedure.phases
        for steps in phase.lists
        for step in steps.steps
    }
    for step, name in names_from_events(entries).steps.items():
        steps.setdefault(step, name)
    return Names(
        from_procedure=True,
        steps=steps,
        roles=dict(procedure.people),
        states={state.name: state.label for state in procedure.states},
        cautions={caution.id: f"{caution.signal.upper()}: {caution.hazard}" for caution in procedure.cautions},
        equipment=procedure.equipment,
        purpose=procedure.purpose,
    )


def names_from_events(entries: Entries) -> Names:
    """What the events alone say: the steps that they name, each in the phase that its number begins with."""
    steps: dict[str, StepName] = {}
    for _, event in entries:
        step = getattr(event, "step", "")
        if not step:
            continue
        number = getattr(event, "number", "")
        if not isinstance(number, str):  # an exception's own number
            number = ""
        if step not in steps or (number and not steps[step].number):
            steps[step] = StepName(number, phase_of_number(number), "")
    return Names(from_procedure=False, steps=steps)


def phase_of_number(number: str) -> str:
    """`5a.3` is in phase 5."""
    digits = number.partition(".")[0].rstrip("abcdefghijklmnopqrstuvwxyz")
    return f"Phase {digits}" if digits else ""
