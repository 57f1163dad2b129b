"""Changes of what a step asks for: readings, choices, scans, threading, feeds and waits."""

from collections.abc import Iterator

from runner.lint.diff import said
from runner.lint.diff.change import Found, Weight
from runner.lint.diff.context import Context
from runner.lint.diff.row import Row, changed, either, quoted, text_changed
from runner.lint.diff.rows import limits
from runner.lint.diff.subjects import Asked
from runner.procedure.asks import KIND_OF
from runner.procedure.asks.wait import duration


def ask_there(old: Asked | None, new: Asked | None, _context: Context) -> Iterator[Found]:
    """A question gone or come."""
    if new is None and old is not None:
        yield Found(Weight.WEAKER, f"the {KIND_OF[old.ask.kind].word} is gone", quoted(old.ask.ask), "")
    elif old is None and new is not None:
        yield Found(Weight.STRONGER, f"the {KIND_OF[new.ask.kind].word} is new", "", quoted(new.ask.ask))


def question(old: Asked, new: Asked, _context: Context) -> Iterator[Found]:
    """What is asked, and in which unit."""
    if old.ask.kind not in ("thread", "wait"):
        yield from text_changed(old.ask.ask, new.ask.ask, "its question is reworded", order=True)
    if old.ask.unit and new.ask.unit:
        was, now = old.ask.unit.text, new.ask.unit.text
        same = old.ask.unit.dimension == new.ask.unit.dimension
        yield from changed(
            was, now, "it is asked for in another unit", was, now, Weight.CHANGED if same else Weight.MAYBE
        )


def ask_limits(old: Asked, new: Asked, context: Context) -> Iterator[Found]:
    """What is accepted, side by side; the length that a feed must reach is one."""
    unit = new.ask.unit
    for lower, was, now in ((True, old.ask.low, new.ask.low), (False, old.ask.high, new.ask.high)):
        what = "least value" if lower else "greatest value"
        shown = said.formula(was, unit), said.formula(now, unit)
        yield from limits.bound(context, was, now, what, *shown, lower=lower)
    yield from limits.band(old.ask.likely, new.ask.likely, unit, ("least usual value", "greatest usual value"))


def answers(old: Asked, new: Asked, _context: Context) -> Iterator[Found]:
    """Which answers of a choice are offered, and which let the work go on."""
    if old.ask.kind != "choose":
        return
    offered = set(old.ask.of), set(new.ask.of)
    accepted = set(old.ask.accept or old.ask.of), set(new.ask.accept or new.ask.of)
    for text in new.ask.of:
        if text in accepted[1] - accepted[0]:
            known = text in offered[0]
            words = "an answer lets the work go on that did not" if known else "a new answer lets the work go on"
            yield Found(Weight.WEAKER if known else Weight.MAYBE, words, said.several(old.ask.accept), quoted(text))
        elif text not in offered[0]:
            yield Found(Weight.CHANGED, "an answer is offered that was not", "", quoted(text))
    for text in old.ask.of:
        if text in accepted[0] - accepted[1] and text in offered[1]:
            yield Found(
                Weight.STRONGER, "an answer no longer lets the work go on", quoted(text), said.several(new.ask.accept)
            )
        elif text not in offered[1]:
            words = (
                "an answer that lets the work go on is no longer offered"
                if text in accepted[0]
                else "an answer that stops the work is no longer offered"
            )
            yield Found(Weight.CHANGED if text in accepted[0] else Weight.MAYBE, words, quoted(text), "")


def match(old: Asked, new: Asked, context: Context) -> Iterator[Found]:
    """What the answer must equal."""
    was, now = context.value(old.ask.match) if old.ask.match else "", new.ask.match
    yield from either(was, now, "it is no longer compared with anything", "it is compared with the ticket or an answer")
    if was and now:
        yield from changed(was, now, "it is compared with something else", was, now, Weight.MAYBE)


def way_out(old: Asked, new: Asked, context: Context) -> Iterator[Found]:
    """The trouble that an answer out of limits leads to."""
    was, now = context.trouble(new.step.id, old.ask.otherwise), new.ask.otherwise
    yield from either(
        was, now, "no trouble follows an answer that is refused", "a trouble follows an answer that is refused"
    )
    if was and now:
        yield from changed(was, now, "another trouble follows an answer that is refused", was, now, Weight.MAYBE)


def path(old: Asked, new: Asked, context: Context) -> Iterator[Found]:
    """The web path that is threaded."""
    was = context.naming.paths.get(old.ask.path, old.ask.path)
    was = old.ask.path if was not in context.new.scope.paths else was
    yield from changed(was, new.ask.path, "another web path is threaded", was, new.ask.path)


def times(old: Asked, new: Asked, _context: Context) -> Iterator[Found]:
    """How long is waited, and when it is late."""
    if old.ask.kind != "wait":
        return
    if old.ask.at_least_s != new.ask.at_least_s:
        shorter = new.ask.at_least_s < old.ask.at_least_s
        words = f"its wait is {'shorter' if shorter else 'longer'}"
        yield Found(
            Weight.WEAKER if shorter else Weight.STRONGER,
            words,
            duration(old.ask.at_least_s),
            duration(new.ask.at_least_s),
        )
    was, now = old.ask.at_most_s, new.ask.at_most_s
    shown = (late_words(was), late_words(now))
    if was != now:
        later = now is None or (was is not None and now > was)
        words = "it counts as late later" if later else "it counts as late earlier"
        yield Found(Weight.WEAKER if later else Weight.STRONGER, words, *shown)


def late_words(at_most_s: float | None) -> str:
    """When a wait is late."""
    return "never" if at_most_s is None else duration(at_most_s)


ROWS = (
    Row(
        "ask", "ask", ("a step.read", "a step.choose", "a step.scan", "a step.thread", "a step.advance", "a step.wait"), ask_there,
        "Nobody has to look, and nothing stops the work when it is wrong.", alone=True,
    ),
    Row(
        "question", "ask", ("a reading.ask", "a choice.ask", "a scan.ask", "a reading.unit"), question,
        "People answer what is asked.", paired=False,
    ),
    Row(
        "answer-limits", "ask", ("a reading.within", "a reading.at_least", "a reading.at_most", "a reading.likely", "a step.advance"),
        ask_limits, "A value passes that was refused or asked for again.",
    ),
    Row("answer-accepted", "ask", ("a choice.of", "a choice.accept"), answers, "An observation that stopped the work lets it go on.", paired=False),
    Row("answer-match", "ask", ("a choice.match", "a scan.match"), match, "A wrong thing is not noticed."),
    Row("answer-way-out", "ask", ("a reading.else", "a choice.else", "a scan.else"), way_out, "Nobody is told what to do when it is refused."),
    Row("threaded-path", "ask", ("a step.thread",), path, "The web is led another way."),
    Row("wait", "ask", ("a wait.at_least", "a wait.at_most"), times, "Work goes on before what was waited for has happened."),
)  # fmt: skip
