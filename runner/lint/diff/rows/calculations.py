"""Changes of what is worked out: formulas, limits, checks, pieces."""

from collections.abc import Iterator

from runner.formula.expr import Call, Expr
from runner.formula.units import UNITS
from runner.lint.diff import said
from runner.lint.diff.change import Found, Weight
from runner.lint.diff.context import Context
from runner.lint.diff.normal import NOWHERE, key_of
from runner.lint.diff.row import Row, changed, either, text_changed
from runner.lint.diff.rows import limits
from runner.lint.diff.rows.people import rank
from runner.procedure.model import Calculation, Limit, Split


def calculation_there(old: Calculation | None, new: Calculation | None, _context: Context) -> Iterator[Found]:
    """A calculation gone or come; its limit goes with it."""
    if new is None and old is not None:
        weight, words = (
            (Weight.WEAKER, "it is gone, and its limit with it") if old.limits else (Weight.CHANGED, "it is gone")
        )
        yield Found(weight, words, limit_words(old.limits) or said.formula(old.formula), "")
    elif old is None and new is not None:
        weight, words = (Weight.STRONGER, "it is new, and has a limit") if new.limits else (Weight.CHANGED, "it is new")
        yield Found(weight, words, "", limit_words(new.limits) or said.formula(new.formula))


def limit_words(given: tuple[Limit, ...]) -> str:
    """The sides of a limit."""
    return " and ".join(f"{limit.op} {said.formula(limit.bound)}" for limit in given)


def formula(old: Calculation, new: Calculation, context: Context) -> Iterator[Found]:
    """What it comes to. With a limit above, less is weaker; with one below, more is."""
    was, now = said.formula(old.formula), said.formula(new.formula)
    if old.unit.dimension != new.unit.dimension:
        yield Found(Weight.MAYBE, "it is worked out otherwise, and is another kind of quantity", was, now)
        return
    found = context.compare(old.formula, new.formula)
    if found.less.so is False and found.more.so is False:
        return
    sides = {limit.op[0] for limit in (*old.limits, *new.limits)}
    for side, wider, narrower in (("<", found.less, found.more), (">", found.more, found.less)):
        if side in sides:
            way = "less" if side == "<" else "more"
            yield from limits.judged(wider, narrower, f"it comes out {way}, and so its limit lets more pass",
                                     "it comes out nearer to its limit", "it is worked out otherwise", was, now)  # fmt: skip
    if not sides:
        resting = context.resting(new.name)
        words = limits.in_words(found)
        also = limits.looked_into(was, now) + (f", and on it rest: {said.several(resting)}" if resting else "")
        text = (f"it comes out {words}" if words else "it is worked out otherwise") + also
        yield Found(Weight.MAYBE if resting else Weight.CHANGED, text, was, now)


def shown_unit(old: Calculation, new: Calculation, _context: Context) -> Iterator[Found]:
    """The unit that it is shown in."""
    yield from changed(old.unit.text, new.unit.text, "it is shown in another unit", old.unit.text, new.unit.text)


def limit(old: Calculation, new: Calculation, context: Context) -> Iterator[Found]:
    """What the result may be, one side after the other."""
    for sign, what in (("<", "upper limit"), (">", "lower limit")):
        was, now = ([one for one in given.limits if one.op[0] == sign] for given in (old, new))
        shown = limit_words(tuple(was)), limit_words(tuple(now))
        ends = one_bound(was), one_bound(now)
        yield from limits.bound(context, *ends, what, *shown, lower=sign == ">")
        strict = [all(one.op == sign for one in given) for given in (was, now)]
        if was and now and strict[0] != strict[1]:
            weight = Weight.WEAKER if strict[0] else Weight.STRONGER
            yield Found(weight, f"its {what} itself is {'allowed' if strict[0] else 'not allowed'}", *shown)


def one_bound(given: list[Limit]) -> Expr | None:
    """The side of a limit as one formula."""
    if len(given) < 2:
        return given[0].bound if given else None
    return Call("min" if given[0].op[0] == "<" else "max", tuple(one.bound for one in given), NOWHERE)


def rounding(old: Calculation, new: Calculation, _context: Context) -> Iterator[Found]:
    """Direction and step."""
    was, now = (one.rounding.text if one.rounding else "" for one in (old, new))
    same = (old.rounding and old.rounding[:2]) == (new.rounding and new.rounding[:2])
    yield from changed(
        same, True, "it is rounded otherwise; which side is the safe one, the text does not say", was, now
    )


def rough(old: Calculation, new: Calculation, context: Context) -> Iterator[Found]:
    """The second way to the result."""
    was, now = (
        f"{said.formula(one.rough.formula)}, within {100 * one.rough.within:.3g} %" if one.rough else ""
        for one in (old, new)
    )
    yield from either(was, now, "its rough check is gone", "it has a rough check now")
    if old.rough and new.rough:
        yield from limits.tolerance(
            old.rough.within * 100, new.rough.within * 100, None, "tolerance of the rough check in %"
        )
        if key_of(context.now(old.rough.formula)) != key_of(new.rough.formula):
            yield Found(Weight.MAYBE, "its rough check is worked out otherwise", was, now)


def example(old: Calculation, new: Calculation, context: Context) -> Iterator[Found]:
    """The case worked out by hand."""
    was, now = (example_words(one) for one in (old, new))
    yield from either(was, now, "its worked example is gone", "it has a worked example now")
    if old.example and new.example:
        yield from limits.tolerance(old.example.within, new.example.within, new.unit, "tolerance of the worked example")
        given = {context.value(name): value for name, value in old.example.given}
        if given != dict(new.example.given) or old.example.gives != new.example.gives:
            yield Found(Weight.CHANGED, "its worked example is another", was, now)


def example_words(given: Calculation) -> str:
    """What an example gives."""
    return "" if given.example is None else f"gives {said.number(given.example.gives, given.unit)}"


def calculation_why(old: Calculation, new: Calculation, _context: Context) -> Iterator[Found]:
    """What it is for."""
    yield from text_changed(old.why, new.why, "its why is reworded")


def split_there(old: Split | None, new: Split | None, _context: Context) -> Iterator[Found]:
    """Pieces gone or come."""
    if new is None and old is not None:
        yield Found(Weight.MAYBE, "its pieces are no longer planned", f"for {old.mass}", "")
    elif old is None and new is not None:
        yield Found(Weight.CHANGED, "its pieces are planned", "", f"for {new.mass}")


def split_tolerance(old: Split, new: Split, _context: Context) -> Iterator[Found]:
    """How far the pieces may be off, and the ends apart."""
    kilogram = UNITS["kg"]
    yield from limits.tolerance(old.within, new.within, kilogram, "tolerance")
    yield from limits.tolerance(old.uneven, new.uneven, kilogram, "difference between the ends")


def split_release(old: Split, new: Split, context: Context) -> Iterator[Found]:
    """Who may accept pieces out of tolerance."""
    was, now = context.role(old.release) if old.release else "", new.release
    if now and not was:
        yield Found(Weight.WEAKER, "pieces out of tolerance may be accepted", "by nobody", f"by {now}")
    elif was and not now:
        yield Found(Weight.STRONGER, "pieces out of tolerance are not accepted", f"by {was}", "by nobody")
    else:
        yield from rank(context, was, now, "another role accepts pieces out of tolerance")


def split_source(old: Split, new: Split, context: Context) -> Iterator[Found]:
    """Which mass, which rack, how many ends, and what the pieces are said to give."""
    was = f"{context.value(old.mass)} from {context.naming.racks.get(old.rack, old.rack)} at {old.ends} ends"
    now = f"{new.mass} from {new.rack} at {new.ends} ends"
    yield from changed(was, now, "its pieces are planned otherwise", was, now, Weight.MAYBE)
    gives = context.value(old.gives) if old.gives else ""
    yield from changed(gives, new.gives, "it says otherwise what the pieces give", gives, new.gives)


ROWS = (
    Row("calculation", "calculation", ("a procedure.calculations",), calculation_there, "A limit that is gone stops nobody.", alone=True),
    Row("formula", "calculation", ("a calculation.formula",), formula, "The same job comes to another number."),
    Row("calculation-unit", "calculation", ("a calculation.unit",), shown_unit, "The number that people see is another.", paired=False),
    Row("limit", "calculation", ("a calculation.limit",), limit, "A job passes that was stopped."),
    Row("rounding", "calculation", ("a calculation.round",), rounding, "The number that people work by is another."),
    Row(
        "rough-check", "calculation", ("a calculation.rough", "a rough check.formula", "a rough check.within"), rough,
        "A slip in the formula or the ticket is found by nothing else.",
    ),
    Row(
        "worked-example", "calculation",
        ("a calculation.example", "a worked example.given", "a worked example.gives", "a worked example.within"), example,
        "A slip in the formula is found before anybody works by it.",
    ),
    Row("calculation-text", "calculation", ("a calculation.why",), calculation_why, "People judge the number by it.", paired=False),
    Row("pieces", "split", ("a procedure.calculations", "a split.split"), split_there, "Pieces are hung as planned.", alone=True),
    Row("pieces-tolerance", "split", ("a split.within", "a split.uneven"), split_tolerance, "The bar may hang lighter, heavier or more askew."),
    Row("pieces-release", "split", ("a split.release",), split_release, "What is out of tolerance can be hung all the same."),
    Row(
        "pieces-source", "split", ("a split.split", "a split.from", "a split.ends", "a split.gives"), split_source,
        "Other pieces are hung.",
    ),
)  # fmt: skip
