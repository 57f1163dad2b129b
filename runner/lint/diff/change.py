"""What became different between two procedures, as data: how it weighs, what it was, what it is now, and both places.

A change is weaker where the new text lets something pass that the old one did not. Where that cannot be decided it may be
weaker, and is said to be so; it is never passed over.
"""

from enum import Enum
from typing import NamedTuple

from runner.procedure.finding import Place


class Weight(Enum):
    """How a change weighs, gravest first; the value is its word."""

    WEAKER = "weaker"
    MAYBE = "may be weaker"
    UNTOLD = "not told"
    """The head of the new text does not say what people have to be told."""
    CHANGED = "changed"
    STRONGER = "stronger"


LEVELS: dict[str, tuple[frozenset[Weight], str]] = {
    "weaker": (frozenset({Weight.WEAKER}), "what is weaker for sure"),
    "maybe": (frozenset({Weight.WEAKER, Weight.MAYBE}), "also what may be weaker"),
    "untold": (
        frozenset({Weight.WEAKER, Weight.MAYBE, Weight.UNTOLD}),
        "also a revision or retraining that the head does not say",
    ),
    "any": (frozenset(Weight), "any change of meaning"),
    "never": (frozenset(), "nothing"),
}
"""What makes a comparison fail, by the name of the level, with the words for help."""


class Found(NamedTuple):
    """One difference as a row finds it. Places are given where they are nearer than those of the things compared."""

    weight: Weight
    words: str
    """What became different, as a clause: `a confirmation is no longer asked for`."""
    was: str = ""
    now: str = ""
    old_place: Place | None = None
    new_place: Place | None = None


class Change(NamedTuple):
    """One difference, ready to be told."""

    kind: str
    """The name of its row."""
    weight: Weight
    subject: str
    """What it is about: `step 5.4 trial-lift`."""
    words: str
    reason: str
    """Why it weighs so."""
    was: str
    now: str
    old_place: Place | None
    new_place: Place | None


class Diff(NamedTuple):
    """All differences: gravest first, then as the new text runs."""

    old: str
    """The old procedure in words: `change-roll, revision 1, draft`."""
    new: str
    changes: tuple[Change, ...]

    def of(self, weight: Weight) -> tuple[Change, ...]:
        """The changes of one weight."""
        return tuple(change for change in self.changes if change.weight is weight)
