"""Changes of what the runner keeps track of."""

from collections.abc import Iterator

from runner.lint.diff import said
from runner.lint.diff.change import Found, Weight
from runner.lint.diff.context import Context
from runner.lint.diff.row import Row, changed, text_changed
from runner.procedure.model import UNKNOWN, TrackedState


def tracked(old: TrackedState | None, new: TrackedState | None, _context: Context) -> Iterator[Found]:
    """A state gone or come."""
    if new is None and old is not None:
        yield Found(Weight.WEAKER, "it is no longer kept track of", said.several(old.of), "")
    elif old is None and new is not None:
        yield Found(Weight.STRONGER, "it is kept track of", "", said.several(new.of))


def words_at(state: TrackedState, index: int | None) -> str:
    """A value of a state."""
    return "" if index is None else "unknown" if index == UNKNOWN else state.of[index]


def values(old: TrackedState, new: TrackedState, _context: Context) -> Iterator[Found]:
    """Its values; the first one is where nobody owns it."""
    was, now = said.several(old.of), said.several(new.of)
    if sorted(old.of) != sorted(new.of):
        yield Found(Weight.CHANGED, "it has other values", was, now)
    elif old.of[0] != new.of[0] and (old.one_owner or new.one_owner):
        yield Found(Weight.MAYBE, "another value is the one in which nobody owns it", was, now)


def at_start(old: TrackedState, new: TrackedState, _context: Context) -> Iterator[Found]:
    """What it is taken to be before anybody has looked."""
    was, now = words_at(old, old.at_start), words_at(new, new.at_start)
    if was == now:
        return
    if was == "unknown":
        yield Found(Weight.WEAKER, "its value at the start is taken for granted", was, now)
    elif now == "unknown":
        yield Found(Weight.STRONGER, "its value at the start is no longer taken for granted", was, now)
    else:
        yield Found(Weight.MAYBE, "another value at the start is taken for granted", was, now)


def at_end(old: TrackedState, new: TrackedState, _context: Context) -> Iterator[Found]:
    """What it must be for the run to finish."""
    was, now = words_at(old, old.at_end), words_at(new, new.at_end)
    if was and not now:
        yield Found(Weight.WEAKER, "the run finishes whatever it is at the end", was, "")
    elif now and not was:
        yield Found(Weight.STRONGER, "the run finishes only with it as wanted", "", now)
    else:
        yield from changed(was, now, "it must have another value at the end", was, now, Weight.MAYBE)


def one_owner(old: TrackedState, new: TrackedState, _context: Context) -> Iterator[Found]:
    """Whether one list has it alone."""
    if old.one_owner != new.one_owner:
        weight, words = (
            (Weight.STRONGER, "one list has it alone")
            if new.one_owner
            else (Weight.WEAKER, "both lists may use it at once")
        )
        yield Found(weight, words, said.yes(old.one_owner), said.yes(new.one_owner))


def keeps(old: TrackedState, new: TrackedState, _context: Context) -> Iterator[Found]:
    """Whether a pause makes it unconfirmed."""
    if old.keeps != new.keeps:
        weight, words = (
            (Weight.WEAKER, "it is not looked at again after a pause")
            if new.keeps
            else (Weight.STRONGER, "it is looked at again after a pause")
        )
        yield Found(weight, words, said.yes(old.keeps), said.yes(new.keeps))


def label(old: TrackedState, new: TrackedState, _context: Context) -> Iterator[Found]:
    """What people read."""
    if old.label != old.name.replace("_", " ") or new.label != new.name.replace("_", " "):
        yield from text_changed(old.label, new.label, "it is called otherwise")


ROWS = (
    Row("state", "state", ("a procedure.states",), tracked, "No step can need it any more, and nothing is proved about it.", alone=True),
    Row("state-values", "state", ("a state.of",), values, "Steps need and make these values."),
    Row("state-at-start", "state", ("a state.at_start",), at_start, "Steps begin by it before anybody has looked."),
    Row("state-at-end", "state", ("a state.at_end",), at_end, "The press may be left in another state than was meant."),
    Row("state-one-owner", "state", ("a state.one_owner",), one_owner, "Two people may use it against each other."),
    Row("state-keeps", "state", ("a state.keeps",), keeps, "In a pause somebody may have changed it."),
    Row("state-label", "state", ("a state.label",), label, "People know it by this name.", paired=False),
)  # fmt: skip
