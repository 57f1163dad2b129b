"""Things of a procedure by their names, as the engine needs them.

Plain searches over the frozen procedure; what is costly and asked often is kept per procedure by its identity.
"""

from runner.procedure.model import Facts, Procedure, Split, Step, Trouble, steps_of
from runner.procedure.working import uses


class Index:
    """What is looked up often, for one procedure."""

    def __init__(self, procedure: Procedure) -> None:
        self.procedure = procedure
        self.steps: dict[str, Step] = {step.id: step for step in steps_of(procedure)}
        self.states: dict[str, int] = {state.name: index for index, state in enumerate(procedure.states)}
        self.changed: dict[str, tuple[str, ...]] = {}
        self.own: dict[str, frozenset[str]] = {}
        """By step: what it asks for, and what is worked out from that."""
        self.rests: dict[str, tuple[str, ...]] = {}
        """By step: the splits that it uses, itself or through calculations, besides its own."""
        self.accepted = tuple(made for made in procedure.calculations if isinstance(made, Split) and made.release)
        """The splits whose nearest choice somebody may accept."""


MOST_KEPT = 8
_KEPT: dict[int, Index] = {}
"""By identity of the procedure, which is large and never changes; its index keeps it, so that no other takes its identity."""


def index(procedure: Procedure) -> Index:
    """The index of a procedure, made once."""
    known = _KEPT.get(id(procedure))
    if known is None:
        if len(_KEPT) >= MOST_KEPT:
            _KEPT.clear()
        known = _KEPT[id(procedure)] = Index(procedure)
    return known


def step_named(procedure: Procedure, step_id: str) -> Step | None:
    """A step by its id."""
    return index(procedure).steps.get(step_id)


def trouble_named(step: Step, name: str) -> Trouble | None:
    """A trouble of a step by its id, or by its sign where it has none."""
    for trouble in step.troubles:
        if name and name in (trouble.id, trouble.sign):
            return trouble
    return None


def fact_of(procedure: Procedure, state: str, value: str) -> tuple[int, int] | None:
    """(index of the state, index of the value) by their names; None where there is no such."""
    at = index(procedure).states.get(state)
    if at is None or value not in procedure.states[at].of:
        return None
    return at, procedure.states[at].of.index(value)


def facts_of(procedure: Procedure, named: tuple[tuple[str, str], ...]) -> Facts:
    """Named facts as indices; unknown names are left out."""
    return tuple(fact for state, value in named if (fact := fact_of(procedure, state, value)) is not None)


def named_facts(procedure: Procedure, facts: Facts) -> tuple[tuple[str, str], ...]:
    """Facts by name, as events keep them."""
    return tuple((procedure.states[state].name, procedure.states[state].of[value]) for state, value in facts)


def changed_by(procedure: Procedure, name: str) -> tuple[str, ...]:
    """Calculations that a value goes into, directly or through others, in the order of working out."""
    known = index(procedure).changed
    if name not in known:
        names = {name}
        for calculation in procedure.calculations:
            if uses(calculation) & names:
                names.add(calculation.name)
        known[name] = tuple(c.name for c in procedure.calculations if c.name in names and c.name != name)
    return known[name]
