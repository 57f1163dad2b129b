"""Changes of a step by itself: whether it is there, who does it, what it needs and makes, when it applies."""

from collections.abc import Iterator

from runner.lint.diff import said
from runner.lint.diff.change import Found, Weight
from runner.lint.diff.context import Context, Standing
from runner.lint.diff.row import Row, changed, quoted, text_changed
from runner.lint.diff.rows import limits
from runner.lint.diff.rows.people import rank
from runner.procedure.asks.wait import duration


def step_there(old: Standing | None, new: Standing | None, _context: Context) -> Iterator[Found]:
    """A step gone or come, with all that it guards."""
    if new is None and old is not None:
        guards = said.guards(old.step)
        weight, also = (Weight.WEAKER, f", and with it {said.several(guards)}") if guards else (Weight.MAYBE, "")
        yield Found(weight, f"the step is gone{also}", quoted(old.step.do.text), "")
    elif old is None and new is not None:
        guards = said.guards(new.step)
        weight, also = (Weight.STRONGER, f", and with it {said.several(guards)}") if guards else (Weight.CHANGED, "")
        yield Found(weight, f"the step is new{also}", "", quoted(new.step.do.text))


def doer(old: Standing, new: Standing, context: Context) -> Iterator[Found]:
    """Who does it."""
    was = context.role(old.step.by)
    yield from changed(was, new.step.by, "another role does it", was, new.step.by)


def act(old: Standing, new: Standing, _context: Context) -> Iterator[Found]:
    """What is done."""
    yield from text_changed(old.step.do.text, new.step.do.text, "its act is reworded", order=True)


def explained(old: Standing, new: Standing, _context: Context) -> Iterator[Found]:
    """What people learn from."""
    yield from text_changed(old.step.why, new.step.why, "its why is reworded")
    yield from text_changed(old.step.explain, new.step.explain, "its explanation is reworded")


def needs(old: Standing, new: Standing, context: Context) -> Iterator[Found]:
    """States that it needs."""
    was, now = context.facts(old.step.needs, True), context.facts(new.step.needs, False)
    for name, value in was.items():
        if name not in now:
            yield Found(Weight.WEAKER, f"it no longer needs {name}", f"{name}: {value}", "")
        elif now[name] != value:
            yield Found(Weight.MAYBE, f"it needs another value of {name}", f"{name}: {value}", f"{name}: {now[name]}")
    for name, value in now.items():
        if name not in was:
            yield Found(Weight.STRONGER, f"it needs {name}", "", f"{name}: {value}")


def makes(old: Standing, new: Standing, context: Context) -> Iterator[Found]:
    """States that it makes."""
    was, now = context.facts(old.step.makes, True), context.facts(new.step.makes, False)
    for name in dict.fromkeys((*was, *now)):
        shown = (fact_words(name, was), fact_words(name, now))
        words = (
            f"it no longer makes {name}"
            if name not in now
            else f"it makes {name}"
            if name not in was
            else f"it makes another value of {name}"
        )
        yield from changed(was.get(name), now.get(name), words, *shown, Weight.MAYBE)


def fact_words(name: str, facts: dict[str, str]) -> str:
    """A state with its value."""
    return f"{name}: {facts[name]}" if name in facts else ""


def when(old: Standing, new: Standing, context: Context) -> Iterator[Found]:
    """When it applies."""
    was, now = old.step.when, new.step.when
    shown = (was.text if was else "always", now.text if now else "always")
    if now is not None and was is None:
        yield Found(Weight.WEAKER, "it is passed over in some jobs", *shown)
    elif was is not None and now is None:
        yield Found(Weight.STRONGER, "it is done in every job", *shown)
    elif was is not None and now is not None:
        found = context.conditions(was.expr, now.expr)
        yield from limits.judged(found.less, found.more, "it is passed over where it was done",
                                 "it is done where it was passed over", "its condition is another", *shown)  # fmt: skip


def optional(old: Standing, new: Standing, context: Context) -> Iterator[Found]:
    """Whether it may be left out, and who has to agree."""
    was = context.role(old.step.optional)
    now = new.step.optional
    shown = (was or "must be done", now or "must be done")
    if was == now:
        return
    if not was or now == "reason":
        yield Found(
            Weight.WEAKER, "it may be left out" if not was else "it may be left out with a reason alone", *shown
        )
    elif not now or was == "reason":
        yield Found(
            Weight.STRONGER, "it may no longer be left out" if not now else "leaving it out needs agreement", *shown
        )
    else:
        yield from rank(context, was, now, "another role agrees to its being left out", (new.step.by,))


def lifts(old: Standing, new: Standing, context: Context) -> Iterator[Found]:
    """What it lifts with which gear."""
    was = {(context.value(load), gear) for load, names in old.step.lifts for gear in names}
    now = {(load, gear) for load, names in new.step.lifts for gear in names}
    less, more = (said.several([f"{load} with {gear}" for load, gear in sorted(one)]) for one in (was - now, now - was))
    if less:
        yield Found(Weight.WEAKER, f"{less} is no longer held against the rating of the site's gear", less, "")
    if more:
        yield Found(Weight.STRONGER, f"{more} is held against the rating of the site's gear", "", more)


def repeat(old: Standing, new: Standing, context: Context) -> Iterator[Found]:
    """Until when it is done again, and how often at most."""
    was, now = old.step.repeat, new.step.repeat
    shown = said.repeat(was), said.repeat(now)
    if now is None or was is None:
        if was is not None:
            yield Found(Weight.WEAKER, "it is done once, whatever comes of it", shown[0], "")
        elif now is not None:
            yield Found(Weight.STRONGER, "it is done again until a condition holds", "", shown[1])
        return
    found = context.conditions(was.until, now.until)
    yield from limits.judged(
        found.more, found.less, "it ends where it went on", "it goes on where it ended", "its end is another", *shown
    )
    if was.at_most != now.at_most:
        more = now.at_most > was.at_most
        words = "it may be tried more often before it counts as failed" if more else "it counts as failed earlier"
        yield Found(Weight.WEAKER if more else Weight.STRONGER, words, *shown)
    way = context.trouble(new.step.id, was.otherwise)
    if way and not now.otherwise:
        yield Found(Weight.WEAKER, "no trouble follows when it was not enough", way, "")
    elif now.otherwise and not way:
        yield Found(Weight.STRONGER, "a trouble follows when it was not enough", "", now.otherwise)
    else:
        yield from changed(
            way, now.otherwise, "another trouble follows when it was not enough", way, now.otherwise, Weight.MAYBE
        )


def expect(old: Standing, new: Standing, _context: Context) -> Iterator[Found]:
    """How long it takes."""
    was, now = (duration(one) if one is not None else "" for one in (old.step.expect_s, new.step.expect_s))
    yield from changed(was, now, "it is expected to take another time", was, now)


ROWS = (
    Row("step", "step", ("a step.id", "a step.do"), step_there, "What it does or looks at is no longer done.", alone=True),
    Row("doer", "step", ("a step.by",), doer, "Another person has to know it."),
    Row("act", "step", ("a step.do",), act, "People do what it says.", paired=False),
    Row("step-text", "step", ("a step.why", "a step.explain"), explained, "People who know why do it.", paired=False),
    Row("need", "step", ("a step.needs",), needs, "It may be begun in a state in which it was refused."),
    Row("made", "step", ("a step.makes",), makes, "Other steps may begin by it, or no longer may.", paired=False),
    Row("condition", "step", ("a step.when",), when, "In these jobs nobody does it."),
    Row("lifting-gear", "step", ("a step.lifts",), lifts, "A site's rating and inspection no longer stop the lift."),
    Row("optional", "step", ("a step.optional",), optional, "It can be left undone."),
    Row("repeat", "step", ("a step.repeat", "a repeat.until", "a repeat.at_most", "a repeat.else"), repeat, "Work goes on with less done."),
    Row("expected-time", "step", ("a step.expect",), expect, "The clock and the times count by it."),
)  # fmt: skip
