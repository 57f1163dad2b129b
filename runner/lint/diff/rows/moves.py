"""Steps and phases that stand elsewhere, and what that means: what comes before what now, and whether the press runs."""

from collections.abc import Iterator

from runner.lint.diff.change import Found, Weight
from runner.lint.diff.context import Context, Standing
from runner.lint.diff.row import Row
from runner.lint.diff.said import phase as phase_words
from runner.lint.diff.subjects import step_title
from runner.procedure.model import Phase, Step


def step_moved(old: Standing, new: Standing, context: Context) -> Iterator[Found]:
    """A step in another phase, list or order; steps of a phase that moved whole are told with the phase."""
    if new.step.id not in context.moved_steps:
        return
    linked = links(old, new, context)
    presses = old.phase.press, new.phase.press
    means = [words for words, _ in linked]
    if presses[0] != presses[1]:
        means.insert(0, "the press may run then" if presses[1] == "running" else "the press stands then")
    grave = presses == ("stopped", "running") or any(before for _, before in linked)
    was, now = place_words(old), place_words(new)
    meaning = f": {'; '.join(means)}" if means else ""
    yield Found(Weight.MAYBE if grave else Weight.CHANGED, f"it stands elsewhere{meaning}", was, now)


def place_words(one: Standing) -> str:
    """Where a step stands."""
    before = one.list.steps[one.place - 1].id if one.place else ""
    return phase_words(one.phase, one.list.person) + (f", after {before}" if before else ", first")


def links(old: Standing, new: Standing, context: Context) -> list[tuple[str, bool]]:
    """What the move does to steps whose states it needs or makes: words, and whether something comes before it that should not."""
    found: list[tuple[str, bool]] = []
    for was, now in context.steps.both:
        if now.step.id == new.step.id:
            continue
        before_then, before_now = came_before(was, old), came_before(now, new)
        if before_then is None or before_now is None or before_then == before_now:
            continue
        side = "after" if before_now else "before"
        for states, words in (
            (shared(now.step, new.step), "which makes what it needs"),
            (shared(new.step, now.step), "which needs what it makes"),
        ):
            if states:
                named = ", ".join(context.new.states[state].name for state in states)
                found.append((f"now {side} {step_title(now)}, {words} ({named})", True))
    return found


def came_before(one: Standing, other: Standing) -> bool | None:
    """Whether one step comes before another; None for steps of lists side by side."""
    if one.phase_index != other.phase_index:
        return one.phase_index < other.phase_index
    return one.place < other.place if one.list is other.list else None


def shared(maker: Step, needer: Step) -> list[int]:
    """States that one makes and the other needs."""
    needed = {state for state, _ in needer.needs}
    return [state for state, _ in maker.makes if state in needed]


def phase_moved(_old: Phase, new: Phase, context: Context) -> Iterator[Found]:
    """A phase in another order."""
    index = next(number for number, one in enumerate(context.new.phases) if one is new)
    if index in context.moved_phases:
        back = {now: then for then, now in context.phase_of.items()}
        was, now = order_words(context.old.phases, back[index]), order_words(context.new.phases, index)
        yield Found(Weight.MAYBE, "the phase stands elsewhere, with all its steps", was, now)


def order_words(phases: tuple[Phase, ...], index: int) -> str:
    """Where a phase stands."""
    return f"after {phases[index - 1].name}" if index else "first"


ROWS = (
    Row("step-moved", "step", ("a phase.steps", "a phase.together", "a procedure.phases"), step_moved, "It is done in another state of the press.", paired=False),
    Row("phase-moved", "phase", ("a procedure.phases",), phase_moved, "Its steps are done in another state of the press.", paired=False),
)  # fmt: skip
