"""Changes of holds and second looks: who else has to see before work goes on."""

from collections.abc import Iterator

from runner.lint.diff.change import Found, Weight
from runner.lint.diff.context import Context, Standing
from runner.lint.diff.row import Row, changed, either, quoted, texts
from runner.lint.diff.rows.people import rank
from runner.procedure.model import Hold, SecondLook


def hold(old: Standing, new: Standing, _context: Context) -> Iterator[Found]:
    """A hold gone or come."""
    was, now = (hold_words(one.step.hold) for one in (old, new))
    place = old.step.hold.place if old.step.hold else None, new.step.hold.place if new.step.hold else None
    for found in either(was, now, "its hold is gone", "it has a hold now"):
        yield found._replace(old_place=place[0], new_place=place[1])


def hold_words(given: Hold | None) -> str:
    """A hold in words."""
    return "" if given is None else f"released by {given.release} after {len(given.confirm)} confirmations"


def held(old: Standing, new: Standing) -> tuple[Hold, Hold] | None:
    """The holds where both texts have one."""
    return (old.step.hold, new.step.hold) if old.step.hold and new.step.hold else None


def releaser(old: Standing, new: Standing, context: Context) -> Iterator[Found]:
    """Who releases it."""
    both = held(old, new)
    if both:
        doers = (new.step.by, *([new.list.person] if new.list.person else []))
        for found in rank(
            context, context.role(both[0].release), both[1].release, "another role releases its hold", doers
        ):
            yield found._replace(old_place=both[0].place, new_place=both[1].place)


def confirmations(old: Standing, new: Standing, _context: Context) -> Iterator[Found]:
    """What the releaser confirms."""
    both = held(old, new)
    if both:
        for found in texts(
            both[0].confirm, both[1].confirm,
            "a confirmation of its hold is gone", "its hold has one more confirmation", "a confirmation of its hold is reworded",
        ):  # fmt: skip
            yield found._replace(old_place=both[0].place, new_place=both[1].place)


def protection(old: Standing, new: Standing, _context: Context) -> Iterator[Found]:
    """The physical protection that the step relies on."""
    both = held(old, new)
    if not both:
        return
    was, now = both[0].protects, both[1].protects
    yield from either(
        was and quoted(was),
        now and quoted(now),
        "what protects people in the step is no longer named",
        "what protects people in the step is named",
    )
    if was and now:
        yield from changed(
            was, now, "what protects people in the step is another, or reworded", quoted(was), quoted(now), Weight.MAYBE
        )


def second(old: Standing, new: Standing, context: Context) -> Iterator[Found]:
    """Who else looks, and whether by themselves."""
    was, now = old.step.second, new.step.second
    shown = second_words(was, context), second_words(now, None)
    yield from either(*shown, "its second look is gone", "it has a second look now")
    if was is None or now is None:
        return
    if was.how != now.how:
        together = now.how == "together"
        words = (
            "both look together, so the first answer is seen"
            if together
            else "the second person looks without seeing the first answer"
        )
        yield Found(Weight.WEAKER if together else Weight.STRONGER, words, *shown, was.place, now.place)
    yield from changed(context.role(was.by), now.by, "another role takes the second look", *shown)


def second_words(given: SecondLook | None, context: Context | None) -> str:
    """A second look in words."""
    return "" if given is None else f"{given.how}, by {context.role(given.by) if context else given.by}"


ROWS = (
    Row("hold", "step", ("a step.hold",), hold, "Work goes on without anybody else having looked."),
    Row("hold-releaser", "step", ("a hold.release",), releaser, "Who releases has to be able to say no."),
    Row("hold-confirmation", "step", ("a hold.confirm",), confirmations, "The releaser need not look at it any more."),
    Row("hold-protection", "step", ("a hold.protects",), protection, "Nobody is told what the step relies on."),
    Row("second-look", "step", ("a step.second", "a second look.by", "a second look.how"), second, "Nobody sees their own slip."),
)  # fmt: skip
