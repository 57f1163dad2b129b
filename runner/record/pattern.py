"""Lines as this program writes them, as patterns over their bytes: to see that a line is whole without making an event of it.

A line that fits its pattern is one that `runner.record.line.decode` takes, to the same number, hash and mark; a test holds
the two together. Whatever fits none is left to `decode`, which says what is wrong. Patterns come from the layouts alone.
"""

import re
from collections.abc import Mapping
from datetime import datetime
from functools import cache, lru_cache
from hashlib import sha256
from types import NoneType, UnionType
from typing import Any, Union, get_args, get_origin, get_type_hints

from runner.engine.events import Abandoned, Event, Finished, RunBegun, RunSigned, Sealed
from runner.engine.moment import Moment
from runner.record.fields import ENVELOPE, LAYOUTS, Layout
from runner.record.line import Damage, Entry, Mark, decode

TEXT = rb'"[^"\\\x00-\x1f]*+(?:\\(?:["\\bfnrt]|u00[01][0-9a-f])[^"\\\x00-\x1f]*+)*+"'
WHOLE = rb"(?:0|[1-9][0-9]{0,11})"
REAL = rb"-?(?:0|[1-9][0-9]{0,16})\.[0-9]{1,20}(?:e[+-][0-9]{2})?"
UTC = rb"[0-9]{4}-[0-9]{2}-[0-9]{2}T[0-9]{2}:[0-9]{2}:[0-9]{2}\.[0-9]{3}Z"

SIMPLE: dict[object, bytes] = {
    str: TEXT,
    int: rb"-?" + WHOLE,
    float: REAL,
    bool: rb"(?:true|false)",
    NoneType: rb"null",
    Moment: rb'\{"boot":(' + TEXT + rb'),"tick":(' + REAL + rb'),"utc":"(' + UTC + rb')"\}',
}
"""What stands in a line for a field of each simple kind. Narrower than what is read where a writer is narrower."""

BARRED: tuple[type[Event], ...] = (RunBegun, Finished, Abandoned, Sealed, RunSigned)
"""Of these more is asked than that they are whole: they are always read."""

CAUGHT = ("hidden", "step")
"""Fields that are groups of their own."""

Parts = tuple[bytes, ...]
"""size, hash, JSON, boot, tick, utc, hidden, left, mode, n, of, prev, run, step: names in the order of the alphabet."""

LONGEST_WORD = 40
"""No word of ours comes near."""

WORD = re.compile(rb'"event":"([a-z-]+)"').search


def pattern_of(annotation: object, by: Mapping[object, bytes] = SIMPLE) -> bytes:
    """What stands in a line for a field of this annotation; `by` says it of the simple kinds."""
    simple = by.get(annotation)
    if simple is not None:
        return simple
    origin, parts = get_origin(annotation), get_args(annotation)
    if origin in (Union, UnionType):
        return rb"(?:" + b"|".join(pattern_of(part, by) for part in parts) + rb")"
    if len(parts) == 2 and parts[1] is Ellipsis:
        one = pattern_of(parts[0], by)
        return rb"\[(?:" + one + rb"(?:," + one + rb")*+)?\]"
    return rb"\[" + b",".join(pattern_of(part, by) for part in parts) + rb"\]"


@cache
def line_pattern(word: bytes) -> "re.Pattern[bytes] | None":
    """The whole line of a kind of event; None for one that is always read, and for what is none of ours."""
    layout = LAYOUTS.get(word.decode("ascii"))
    if layout is None or layout.event in BARRED:
        return None
    return re.compile(rb"([1-9][0-9]{0,8}) ([0-9a-f]{64}) (" + json_pattern(word, layout) + rb")\n")


def json_pattern(
    word: bytes, layout: Layout, by: Mapping[object, bytes] = SIMPLE, prev: bytes = b"(" + TEXT + b")"
) -> bytes:
    """The JSON of such a line, its keys in order; the terminal is there or not. Its groups are those of `Parts`, an empty
    one for a field that the event has not."""
    hints: dict[str, Any] = get_type_hints(layout.event)
    found = []
    for name in sorted({*hints, *ENVELOPE, *CAUGHT, "event"}):
        match name:
            case "event":
                value = b'"' + re.escape(word) + b'"'
            case "n" | "left" | "of":
                value = b"(" + WHOLE + b")"
            case "prev":
                value = prev
            case "run" | "mode":
                value = b"(" + by[str] + b")"
            case _ if name not in hints:
                found.append(b"()")
                continue
            case _:
                value = pattern_of(hints[name], by)
                value = b"(" + value + b")" if name in CAUGHT else value
        pair = b'"' + name.encode() + b'":' + value
        found.append(rb"(?:," + pair + rb")?" if name == "terminal" else b"," + pair)
    return rb"\{" + b"".join(found)[1:] + rb"\}"


@cache
def blank(word: bytes) -> Event:
    """An event of a kind with nothing in it: only its kind may be asked for."""
    event: Event = object.__new__(LAYOUTS[word.decode("ascii")].event)
    return event


@lru_cache(4096)
def text_of(quoted: bytes) -> str | None:
    """A text without escapes; None for one with."""
    return None if b"\\" in quoted else quoted[1:-1].decode()


def glance(line: bytes) -> Entry | Damage:
    """A line, with its newline, to its entry; the event is blank unless the run begins or ends with it."""
    word = WORD(line)
    pattern = line_pattern(word[1]) if word is not None and len(word[1]) < LONGEST_WORD else None
    fits = pattern.fullmatch(line) if pattern is not None else None
    if fits is None or word is None:
        return decode(line)
    return looked_at(line, fits.groups(), blank(word[1]))


def looked_at(line: bytes, parts: Parts, event: Event) -> Entry | Damage:
    """The entry of a line that fits its pattern."""
    size, own, content, _, _, utc, _, left, mode, number, of, prev, run, _ = parts
    own_text = own.decode()
    try:
        if not content.isascii():
            content.decode()
        datetime.fromisoformat(utc.decode())
        marked = text_of(run), text_of(mode)
    except ValueError:
        return decode(line)
    if int(size) != len(content) or sha256(content).hexdigest() != own_text or b"\\" in prev or None in marked:
        return decode(line)
    follow, lines, at = int(left), int(of), int(number)
    if not (follow < lines and at):
        return decode(line)
    mark = tuple.__new__(Mark, marked)
    return tuple.__new__(Entry, (at, own_text, prev[1:-1].decode(), follow, mark, event, lines, 0))
