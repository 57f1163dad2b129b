"""Changes of cautions: what they say, how grave they are, and which step shows them in which order."""

from collections.abc import Iterator

from runner.lint.diff.change import Found, Weight
from runner.lint.diff.context import Context, Standing
from runner.lint.diff.row import Row, changed, either, quoted
from runner.lint.diff.said import several
from runner.procedure.model import Caution, steps_of

GRAVITY = ("notice", "caution", "warning", "danger")
"""Signal words, least grave first (ANSI Z535.6 and ISO 3864-2)."""


def is_used(one: Caution, context: Context) -> bool:
    """Whether a step shows it, in either text."""
    return any(one in step.cautions for given in (context.old, context.new) for step in steps_of(given))


def caution_there(old: Caution | None, new: Caution | None, context: Context) -> Iterator[Found]:
    """A caution that no step shows gone or come; of the others the steps tell."""
    if old is not None and new is None and not is_used(old, context):
        yield Found(Weight.CHANGED, "the caution, which no step showed, is gone", old.hazard, "")
    if new is not None and old is None and not is_used(new, context):
        yield Found(Weight.CHANGED, "the caution is new, and no step shows it", "", new.hazard)


def signal(old: Caution, new: Caution, _context: Context) -> Iterator[Found]:
    """The signal word."""
    was, now = GRAVITY.index(old.signal), GRAVITY.index(new.signal)
    if now < was:
        yield Found(Weight.WEAKER, "its signal word is lower", old.signal, new.signal)
    elif now > was:
        yield Found(Weight.STRONGER, "its signal word is higher", old.signal, new.signal)


def caution_text(old: Caution, new: Caution, _context: Context) -> Iterator[Found]:
    """What it says."""
    for key, was, now in (
        ("hazard", old.hazard, new.hazard), ("harm", old.harm, new.harm), ("avoid", old.avoid, new.avoid),
    ):  # fmt: skip
        yield from either(was and quoted(was), now and quoted(now), f"its {key} is gone", f"it has a {key} now")
        if was and now:
            yield from changed(was, now, f"its {key} is reworded", quoted(was), quoted(now), Weight.MAYBE)


def shown(old: Standing, new: Standing, context: Context) -> Iterator[Found]:
    """The cautions that a step shows."""
    named = context.naming.cautions
    was = [named.get(one.id, one.id) for one in old.step.cautions]
    now = [one.id for one in new.step.cautions]
    for id_ in was:
        if id_ not in now:
            yield Found(
                Weight.WEAKER, f"the caution {id_} is no longer shown before the act", several(was), several(now)
            )
    for id_ in now:
        if id_ not in was:
            yield Found(Weight.STRONGER, f"the caution {id_} is shown before the act", several(was), several(now))


def caution_order(old: Standing, new: Standing, context: Context) -> Iterator[Found]:
    """The order of those that are as grave as one another; of others the signal words tell."""
    named = context.naming.cautions
    was = {named.get(one.id, one.id): (place, one.signal) for place, one in enumerate(old.step.cautions)}
    both = [one for one in new.step.cautions if one.id in was]
    for place, one in enumerate(both):
        for other in both[place + 1 :]:
            same_now, same_then = one.signal == other.signal, was[one.id][1] == was[other.id][1]
            if same_now and same_then and was[one.id][0] > was[other.id][0]:
                yield from changed(
                    0, 1, "its cautions stand in another order", several(list(was)), several([c.id for c in both])
                )
                return


ROWS = (
    Row("caution", "caution", ("a procedure.cautions",), caution_there, "It is shown nowhere.", alone=True),
    Row("caution-signal", "caution", ("a caution.signal",), signal, "The signal word says how gravely one can be hurt."),
    Row(
        "caution-text", "caution", ("a caution.hazard", "a caution.harm", "a caution.avoid"), caution_text,
        "People take care by what it says; whether it says less is for a person to judge.",
    ),
    Row("caution-shown", "step", ("a step.cautions",), shown, "Nobody is told of the hazard before the act."),
    Row("caution-order", "step", ("a step.cautions",), caution_order, "The first is read best."),
)  # fmt: skip
