"""Changes of phases and of what to do to stop and make safe."""

from collections.abc import Iterator

from runner.lint.diff import said
from runner.lint.diff.change import Found, Weight
from runner.lint.diff.context import Context
from runner.lint.diff.match import likeness, matched
from runner.lint.diff.row import Row, changed, texts
from runner.procedure.model import Phase, Procedure, SafeAct

PARKS = ("", "after", "throughout")
"""Where work may be interrupted, least first."""


def phase_there(old: Phase | None, new: Phase | None, _context: Context) -> Iterator[Found]:
    """A phase gone or come; its steps tell of themselves."""
    if new is None and old is not None:
        yield Found(Weight.CHANGED, "the phase is gone", old.name, "")
    elif old is None and new is not None:
        yield Found(Weight.CHANGED, "the phase is new", "", new.name)


def press(old: Phase, new: Phase, _context: Context) -> Iterator[Found]:
    """Whether the press stands for it."""
    weight = Weight.MAYBE if new.press == "running" else Weight.CHANGED
    words = "it is done while the press may run" if new.press == "running" else "the press stands for it"
    yield from changed(old.press, new.press, words, old.press, new.press, weight)


def park(old: Phase, new: Phase, _context: Context) -> Iterator[Found]:
    """Where work may be interrupted."""
    more = PARKS.index(new.park) > PARKS.index(old.park)
    words = (
        "it counts as a safe place to be interrupted, or more of it does"
        if more
        else "less of it counts as a safe place to be interrupted"
    )
    yield from changed(
        old.park,
        new.park,
        words,
        old.park or "nowhere",
        new.park or "nowhere",
        Weight.MAYBE if more else Weight.CHANGED,
    )


def lists(old: Phase, new: Phase, context: Context) -> Iterator[Found]:
    """Whose lists stand side by side."""
    was, now = [context.role(one.person) for one in old.lists], [one.person for one in new.lists]
    if set(was) != set(now):
        words = "its steps are done side by side" if len(now) > len(was) else "its steps are done in other lists"
        yield Found(Weight.MAYBE, words, said.several(was) or "one list", said.several(now) or "one list")


def make_safe(old: Procedure, new: Procedure, context: Context) -> Iterator[Found]:
    """The procedure's own list."""
    yield from acts(old.make_safe, new.make_safe, context)


def phase_make_safe(old: Phase, new: Phase, context: Context) -> Iterator[Found]:
    """The list of a phase, where it has its own in either text."""
    if old.make_safe != context.old.make_safe or new.make_safe != context.new.make_safe:
        yield from acts(old.make_safe, new.make_safe, context)


def acts(old: tuple[SafeAct, ...], new: tuple[SafeAct, ...], context: Context) -> Iterator[Found]:
    """What is done, in which order, and what it makes."""
    yield from texts(
        [act.do for act in old], [act.do for act in new],
        "an act of making safe is gone", "an act of making safe is new", "an act of making safe is reworded",
    )  # fmt: skip
    both = matched(old, new, lambda act: " ".join(act.do.split()), lambda one, other: likeness(one.do, other.do)).both
    for one, other in both:
        was, now = context.facts(one.makes, True), context.facts(other.makes, False)
        if was != now:
            words = "an act of making safe is said to make something else"
            yield Found(Weight.MAYBE, words, fact_words(was), fact_words(now), one.place, other.place)
    places = [old.index(one) for one, _ in both]
    if places != sorted(places):
        yield Found(Weight.CHANGED, "the acts of making safe stand in another order")


def fact_words(facts: dict[str, str]) -> str:
    """States with their values."""
    return said.several([f"{name}: {value}" for name, value in facts.items()]) or "nothing"


SAFE_KEYS = ("an act of making safe.do", "an act of making safe.makes")

ROWS = (
    Row("phase", "phase", ("a procedure.phases", "a phase.phase"), phase_there, "Its steps are done elsewhere or no longer.", alone=True),
    Row("phase-press", "phase", ("a phase.press",), press, "Drives may turn while hands are at work.", paired=False),
    Row("phase-park", "phase", ("a phase.park",), park, "Work is left where it may not be safe to leave it.", paired=False),
    Row("phase-lists", "phase", ("a phase.steps", "a phase.together"), lists, "Two people work at once, or no longer do.", paired=False),
    Row(
        "make-safe", "procedure", ("a procedure.make_safe", *SAFE_KEYS), make_safe,
        "Who stops in a hurry does what the list says, and nothing else.",
    ),
    Row(
        "phase-make-safe", "phase", ("a phase.make_safe", *SAFE_KEYS), phase_make_safe,
        "Who stops in a hurry does what the list says, and nothing else.",
    ),
)  # fmt: skip
