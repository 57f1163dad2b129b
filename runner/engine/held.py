"""Which pieces hold a step: a split without a choice within tolerance, that a role may accept, holds every step that uses it.

This is apart from `flow`: it hangs on values, adds no state, and a person of the role can always end it, so that the path
proof takes it for passed. It holds a step before it begins, and again before it ends where the split was worked out anew.
"""

from runner.engine.lookup import changed_by, index
from runner.engine.state import KnownValue, RunState
from runner.procedure.model import Procedure, Split, Step


def held_values(procedure: Procedure, state: RunState, step: Step) -> tuple[KnownValue, ...]:
    """The values that hold a step until the nearest choice is accepted, in the order of the procedure."""
    return resting_on(procedure, state, step, "held")


def resting_on(procedure: Procedure, state: RunState, step: Step, verdict: str) -> tuple[KnownValue, ...]:
    """Splits of a verdict that a step uses, itself or through calculations; what its own answers bring does not count."""
    used = step.uses - own_values(procedure, step)
    found = []
    for split in splits(procedure):
        known = state.values.get(split.name)
        if known is None or known.stale or known.verdict != verdict:
            continue
        if used & {split.name, *changed_by(procedure, split.name)}:
            found.append(known)
    return tuple(found)


def splits(procedure: Procedure) -> tuple[Split, ...]:
    """The splits whose nearest choice somebody may accept."""
    return index(procedure).accepted


def split_named(procedure: Procedure, name: str) -> Split | None:
    """One of them by its name."""
    return next((split for split in splits(procedure) if split.name == name), None)


def releaser_of(procedure: Procedure, name: str) -> str:
    """The role that may accept the nearest choice of a split; empty where nobody may."""
    split = split_named(procedure, name)
    return split.release if split is not None else ""


def own_values(procedure: Procedure, step: Step) -> frozenset[str]:
    """What a step asks for, and what is worked out from that."""
    return frozenset(name for ask in step.asks for name in (ask.name, *changed_by(procedure, ask.name)))
