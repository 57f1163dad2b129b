"""Whether the head of the new text tells what changed: its revision, its line of history, what people must do.

These are findings about the text as a whole, made after all changes are known.
"""

from collections.abc import Iterator, Sequence

from runner.lint.diff.change import Change, Found, Weight
from runner.procedure.model import Procedure

KEYS = (
    "a procedure.revision",
    "a procedure.changes",
    "a change.revision",
    "a change.date",
    "a change.why",
    "a change.retrain",
)
"""Keys of the language that these findings read."""

RETRAIN = ("none", "read", "demonstrate")

SAFETY = frozenset({Weight.WEAKER, Weight.MAYBE, Weight.STRONGER})
"""Weights of changes that touch what keeps people safe."""

QUIET = frozenset({"silenced-finding", "status"})
"""Kinds of change that change no meaning for the people who work by the text."""


def untold(old: Procedure, new: Procedure, changes: Sequence[Change]) -> Iterator[tuple[str, Found, str]]:
    """(kind, what is missing, why it matters)."""
    shown = (f"revision {old.revision}", f"revision {new.revision}")
    if new.revision < old.revision:
        yield (
            "revision-lower",
            Found(Weight.UNTOLD, "the revision is lower than it was", *shown),
            "The older text looks like the newer.",
        )
        return
    telling = [change for change in changes if change.kind not in QUIET]
    if not telling:
        return
    if new.revision == old.revision:
        reason = "Two texts with one number cannot be told apart on paper, on records and in talk."
        yield (
            "revision-not-raised",
            Found(Weight.UNTOLD, "the meaning changed, and the revision did not", *shown),
            reason,
        )
        return
    lines = [line for line in new.changes if line.revision > old.revision]
    if not any(line.revision == new.revision for line in lines):
        words = f"no line of `changes` says what revision {new.revision} brought"
        yield "change-line-missing", Found(Weight.UNTOLD, words), "Those who know the old text are told by it."
        return
    most = max((RETRAIN.index(line.retrain) for line in lines), default=0)
    grave = [change for change in telling if change.weight in SAFETY]
    if grave and most == 0:
        words = f"{len(grave)} of the changes touch safety, and nobody has to read the new text"
        yield "retraining-too-low", Found(Weight.UNTOLD, words, "", "retrain: none"), "People go on as they know it."
