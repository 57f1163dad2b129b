"""Changes of what to do when something goes wrong, and the way on from there."""

from collections.abc import Iterator

from runner.lint.diff import said
from runner.lint.diff.change import Found, Weight
from runner.lint.diff.context import Context
from runner.lint.diff.row import Row, changed, quoted, text_changed
from runner.procedure.model import Trouble


def trouble_there(old: Trouble | None, new: Trouble | None, _context: Context) -> Iterator[Found]:
    """A trouble gone or come."""
    if new is None and old is not None:
        yield Found(Weight.WEAKER, "the trouble is gone", quoted(old.sign), "")
    elif old is None and new is not None:
        yield Found(Weight.STRONGER, "the trouble is new", "", quoted(new.sign))


def trouble_text(old: Trouble, new: Trouble, _context: Context) -> Iterator[Found]:
    """How it is seen and what is done about it."""
    yield from text_changed(old.sign, new.sign, "its sign is reworded", order=True)
    yield from text_changed(old.do.text, new.do.text, "what to do about it is reworded", order=True)


def way_on(old: Trouble, new: Trouble, context: Context) -> Iterator[Found]:
    """Where the work goes on."""
    was, now = way_words(old, context), way_words(new, None)
    if old.way_on == new.way_on:
        yield from changed(was, now, "the work goes back to another step", was, now, Weight.MAYBE)
    elif new.way_on == "go_on":
        yield Found(Weight.WEAKER, "the work goes on in spite of it", was, now)
    elif old.way_on == "go_on":
        yield Found(Weight.STRONGER, "the work no longer goes on in spite of it", was, now)
    else:
        weight = Weight.MAYBE if old.way_on == "stop" else Weight.CHANGED
        yield Found(weight, "the work no longer stops" if old.way_on == "stop" else "the work stops", was, now)


def way_words(given: Trouble, context: Context | None) -> str:
    """The way on in words."""
    if given.way_on == "back_to":
        return f"back to {context.step(given.back_to) if context else given.back_to}"
    return "stop" if given.way_on == "stop" else "go on"


def blocking(old: Trouble, new: Trouble, _context: Context) -> Iterator[Found]:
    """Whether the run finishes while it is open."""
    if old.blocking != new.blocking:
        weight, words = (
            (Weight.STRONGER, "the run does not finish while it is open")
            if new.blocking
            else (Weight.WEAKER, "the run finishes while it is open")
        )
        yield Found(weight, words, said.yes(old.blocking), said.yes(new.blocking))


ROWS = (
    Row("trouble", "trouble", ("a step.trouble",), trouble_there, "Nobody is told what to do when it comes about.", alone=True),
    Row("trouble-text", "trouble", ("a trouble.sign", "a trouble.do"), trouble_text, "People do what it says.", paired=False),
    Row("trouble-way-on", "trouble", ("a trouble.back_to", "a trouble.then"), way_on, "Work goes on with what was wrong."),
    Row("trouble-blocking", "trouble", ("a trouble.blocking",), blocking, "The run ends with what was wrong still open."),
)  # fmt: skip
