"""The usual lines read quickly: all fields there, no other, each of its kind. Whatever is unusual is left to the slow way.

Nothing is taken here that `runner.record.line.entry_of` would not take, and the event is the same; a test holds the two
together. What is the same for all lines of a kind of event is worked out once.
"""

from collections.abc import Callable
from datetime import datetime
from math import isfinite
from operator import itemgetter
from typing import Any, NamedTuple

from runner.engine.changed import open_twin
from runner.engine.events import Event, RunBegun
from runner.engine.moment import Moment
from runner.record.fields import ENVELOPE, LAYOUTS, UTC_LENGTH, Layout, Reader, read_moment

TEXT = {str}
"""The kinds of what is text."""

Content = dict[str, Any]


class Shape(NamedTuple):
    """How the usual line of a kind of event looks."""

    event: type[Event]
    open: type[Any]
    """The same without its guard."""
    texts: Callable[[Content], tuple[object, ...]]
    """All plain texts: those of the event first, then prev, run and mode."""
    others: tuple[tuple[str, Reader], ...]
    """The other fields but `at`, each with what reads it."""
    fill: Callable[[Any, tuple[object, ...], list[object], Moment], tuple[str, str, str]]
    """Writes texts, others and `at` into an event, and what is not there as it is then; gives prev, run and mode."""


def shapes_of(layout: Layout) -> dict[int, Shape]:
    """By how many keys a line has: with the terminal, and without."""
    there = {name: reader for name, reader in layout.fields if name != "at"}
    found = {}
    for unsaid in ((), ("terminal",)):
        names = {name: reader for name, reader in there.items() if name not in unsaid}
        plain = [name for name, reader in names.items() if reader is None]
        others = tuple((name, reader) for name, reader in names.items() if reader is not None)
        fill = filler(plain, [name for name, _ in others], unsaid)
        texts = itemgetter(*plain, "prev", "run", "mode")
        shape = Shape(layout.event, open_twin(layout.event), texts, others, fill)
        found[len(names) + len(ENVELOPE) + len(("at", "event"))] = shape
    return found


def filler(plain: list[str], others: list[str], unsaid: tuple[str, ...]) -> Callable[..., tuple[str, str, str]]:
    """Written out name by name, as `dataclasses` does: a loop over the names takes several times as long."""
    lines = ["def fill(new, texts, others, at):"]
    lines.append(f"    {', '.join([*(f'new.{name}' for name in plain), 'prev', 'run', 'mode'])} = texts")
    lines += [f"    new.{name} = others[{at}]" for at, name in enumerate(others)]
    lines += [f"    new.{name} = ''" for name in unsaid]
    lines += ["    new.at = at", "    return prev, run, mode"]
    made: dict[str, Any] = {}
    exec("\n".join(lines), made)
    fill: Callable[..., tuple[str, str, str]] = made["fill"]
    return fill


class Shapes(dict[str, dict[int, Shape]]):
    """By the journal's word, then by how many keys; made when first asked for."""

    def __missing__(self, word: str) -> dict[int, Shape]:
        """KeyError for a word that is none of ours. The first line of a journal is read the slow way."""
        layout = LAYOUTS[word]
        self[word] = {} if layout.event is RunBegun else shapes_of(layout)
        return self[word]


SHAPES = Shapes()

NUMBERS = itemgetter("n", "left", "of")

Quick = tuple[int, int, int, str, str, str, Event]
"""n, left, of, prev, run, mode and the event."""


def quick(content: Content) -> Quick | None:
    """What a usual line says; None for any other. ValueError or KeyError stand for None too."""
    shape = SHAPES[content["event"]].get(len(content))
    if shape is None:
        return None
    texts = shape.texts(content)
    number, left, of = NUMBERS(content)
    if set(map(type, texts)) != TEXT or not (type(number) is type(left) is type(of) is int and 0 <= left < of):
        return None
    at = content["at"]
    utc, tick, boot = at["utc"], at["tick"], at["boot"]
    if type(tick) is float and type(utc) is type(boot) is str and len(at) == 3 and len(utc) == UTC_LENGTH:
        if utc[-1] != "Z" or not isfinite(tick):
            return None
        datetime.fromisoformat(utc)
        moment = tuple.__new__(Moment, (utc, tick, boot))
    else:
        moment = read_moment(at)
    event = object.__new__(shape.open)
    prev, run, mode = shape.fill(event, texts, [read(content[name]) for name, read in shape.others], moment)
    event.__class__ = shape.event
    return number, left, of, prev, run, mode, event
