"""What a row of the table of changes is, and the short ways in which rows look at two values.

A row names the keys of the language that it answers for; a test holds the table against the language, so that a new key
asks for its row.
"""

from collections.abc import Callable, Iterator, Sequence
from typing import NamedTuple

from runner.lint.diff.change import Found, Weight
from runner.lint.diff.match import likeness, matched


class Row(NamedTuple):
    """One kind of change."""

    name: str
    subject: str
    """What it compares: a key of `runner.lint.diff.subjects.SUBJECTS`."""
    keys: tuple[str, ...]
    """Keys of the language, each with its record: `a hold.release`."""
    find: Callable[..., Iterator[Found]]
    """(old, new, context) to what is different. A row that is `alone` gets None for what one text does not have."""
    reason: str
    """Why it matters where it is weaker, or at all: one sentence."""
    paired: bool = True
    """Whether weaker one way is always stronger the other way."""
    alone: bool = False


LONGEST = 400
"""Characters of a text that are shown."""


def quoted(text: str) -> str:
    """A text of an author on one line, in quotes, cut where it is long."""
    line = " ".join(text.split())
    return f'"{line}"' if len(line) <= LONGEST else f'"{line[:LONGEST].rstrip()} ..."'


def either(
    old: str, new: str, gone: str, come: str, weight: Weight = Weight.WEAKER, back: Weight = Weight.STRONGER
) -> Iterator[Found]:
    """Something that guards is gone, or has come; both there is for another row."""
    if old and not new:
        yield Found(weight, gone, old, "")
    elif new and not old:
        yield Found(back, come, "", new)


def texts(
    old: Sequence[str], new: Sequence[str], gone: str, come: str, other: str, reworded: Weight = Weight.MAYBE
) -> Iterator[Found]:
    """Texts that each guard: gone is weaker, come is stronger, and reworded has to be read."""
    found = matched(_plain(old), _plain(new), str, likeness)
    for was, now in found.both:
        if was != now:
            yield Found(reworded, other, quoted(was), quoted(now))
    for was in found.gone:
        yield Found(Weight.WEAKER, gone, quoted(was), "")
    for now in found.come:
        yield Found(Weight.STRONGER, come, "", quoted(now))


def _plain(given: Sequence[str]) -> list[str]:
    return [" ".join(text.split()) for text in given]


def text_changed(old: str, new: str, words: str, *, order: bool = False) -> Iterator[Found]:
    """A text that guards nothing by itself. An order where a number or a word like `not` differs may."""
    was, now = " ".join(old.split()), " ".join(new.split())
    if was != now:
        weight = Weight.MAYBE if order and telling(was) != telling(now) else Weight.CHANGED
        yield Found(weight, words, quoted(was) if was else "", quoted(now) if now else "")


TELLING = frozenset({"no", "not", "never", "nobody", "none", "without", "only", "always", "before", "after", "until"})
"""Words that turn an order round."""


def telling(text: str) -> list[str]:
    """The numbers, slots and turning words of a text, in order."""
    words = [word.strip(".,;:!?()\"'").casefold() for word in text.split()]
    return [word for word in words if word in TELLING or any(sign.isdigit() or sign in "{}" for sign in word)]


def changed(
    old: object, new: object, words: str, was: str, now: str, weight: Weight = Weight.CHANGED
) -> Iterator[Found]:
    """Something is another, and no side is the safer one."""
    if old != new:
        yield Found(weight, words, was, now)
