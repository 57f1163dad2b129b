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
    found = [state.values.get(name) for name in rests_on(procedure, step)]
    return tuple(known for known in found if known is not None and not known.stale and known.verdict == verdict)


def rests_on(procedure: Procedure, step: Step) -> tuple[str, ...]:
    """The names of these splits, whatever they came to."""
    kept = index(procedure).rests
    if step.id not in kept:
        used = step.uses - own_values(procedure, step)
        kept[step.id] = tuple(
            split.name for split in splits(procedure) if used & {split.name, *changed_by(procedure, split.name)}
        )
    return kept[step.id]


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
    kept = index(procedure).own
    if step.id not in kept:
        kept[step.id] = frozenset(name for ask in step.asks for name in (ask.name, *changed_by(procedure, ask.name)))
    return kept[step.id]
