"""The fields of every event as a journal keeps them, read from the annotations in `runner.engine.events`.

A journal is untrusted: whatever comes out of it is checked against the annotation of its field before an event is
made of it. Text stays text, tuples stand as lists, a number must be finite. What is the same for all events of a class
is worked out once, on importing. Nothing here knows hashes or lines.
"""

import json
import math
import re
from collections.abc import Callable
from dataclasses import MISSING, dataclass, fields
from datetime import datetime
from functools import cache
from json.encoder import encode_basestring
from operator import attrgetter
from types import NoneType, UnionType
from typing import Any, Union, get_args, get_origin, get_type_hints

from runner.engine.events import EVENTS, Event, RunBegun
from runner.engine.moment import Moment

Reader = Callable[[object], object]
"""Takes what the JSON holds, gives the event's value; raises ValueError with words where it does not fit."""


Writer = Callable[[Any], str]
"""Takes the event's value, gives its JSON; raises ValueError where there is none."""

UTC_LENGTH = len("2026-11-25T09:40:14.250Z")


ENVELOPE = frozenset({"n", "prev", "left", "of", "run", "mode"})
"""What stands on every line beside the fields of its event and its word."""


@dataclass(frozen=True, slots=True)
class Layout:
    """How one class of event lies in a line."""

    event: type[Event]
    fields: tuple[tuple[str, Reader | None], ...]
    """All, each with what reads it; None for plain text, apart because most are."""
    template: str
    """The JSON of a line with `%(name)s` for the JSON of each field, of `n` and the like, and of `at.boot` and the like."""
    elsewhere: str
    """The same with `terminal`, for an event of a terminal that does not keep the record."""
    names: tuple[str, ...]
    """All but `at` and `terminal`."""
    writers: tuple[Writer, ...]
    """Of `names`."""
    get: Callable[[Event], tuple[object, ...]]
    """The values of `names`."""
    defaults: frozenset[str]
    """Fields that an older journal need not have."""


def word_of(event: type[Event]) -> str:
    """The journal's word for a class: its name in kebab case."""
    return re.sub(r"(?<!^)(?=[A-Z])", "-", event.__name__).lower()


dump = json.JSONEncoder(
    sort_keys=True, separators=(",", ":"), ensure_ascii=False, allow_nan=False, check_circular=False
).encode


quote = encode_basestring
"""A text as JSON, as `dump` gives it."""


def json_text(value: object) -> str:
    """Any value as JSON, the same bytes that `dump` gives."""
    writer = WRITERS.get(type(value))
    return dump(value) if writer is None else writer(value)


def float_text(value: float) -> str:
    """A finite number."""
    if not math.isfinite(value):
        raise ValueError("is not finite")
    return float.__repr__(value)


def real_text(value: object) -> str:
    """Where a float may stand a whole number is written as one."""
    return float_text(float(value)) if type(value) is int else json_text(value)


def list_text(value: tuple[object, ...]) -> str:
    """A tuple, as a list."""
    return f"[{','.join([json_text(part) for part in value])}]"


WRITERS: dict[type, Writer] = {
    str: quote,
    float: float_text,
    int: int.__repr__,
    bool: {True: "true", False: "false"}.__getitem__,
    NoneType: {None: "null"}.__getitem__,
    tuple: list_text,
}
"""By the very type; of anything else that the format has a form for, `dump` makes it."""


def writer_of(annotation: object) -> Writer:
    """The writer for a field's annotation."""
    if annotation is float or float in get_args(annotation):
        return real_text
    return json_text


def template_of(event: type[Event], elsewhere: bool = False) -> str:
    """The JSON of a line of a class of event: its keys in order, `event` with its word, a place for each other value.

    Only where an act was done at another terminal than the one that keeps the record, its name stands there (`elsewhere`).
    """
    moment = ",".join(f'"{part}":%(at.{part})s' for part in sorted(Moment._fields))
    values = {name: f"%({name})s" for name in (*ENVELOPE, *(field.name for field in fields(event)))}
    values |= {"at": f"{{{moment}}}", "event": dump(word_of(event))}
    if not elsewhere:
        del values["terminal"]
    if event is RunBegun:
        values["format"] = "%(format)s"
    return f"{{{','.join(f'{dump(name)}:{values[name]}' for name in sorted(values))}}}"


def read_text(value: object) -> str:
    """Text, and nothing else."""
    if type(value) is not str:
        raise ValueError(f"is {kind_of(value)} where text belongs")
    return value


def read_float(value: object) -> float:
    """A finite number; truth values are no numbers."""
    if type(value) is float and math.isfinite(value):
        return value
    if type(value) is int and abs(value) < 1 << 1000:
        return float(value)
    raise ValueError(f"is {kind_of(value)} where a finite number belongs")


def read_int(value: object) -> int:
    """A whole number without a decimal point."""
    if type(value) is not int:
        raise ValueError(f"is {kind_of(value)} where a whole number belongs")
    return value


def read_bool(value: object) -> bool:
    """true or false."""
    if type(value) is not bool:
        raise ValueError(f"is {kind_of(value)} where true or false belongs")
    return value


def read_none(value: object) -> None:
    """null."""
    if value is not None:
        raise ValueError(f"is {kind_of(value)} where null belongs")


def read_moment(value: object) -> Moment:
    """{boot, tick, utc}; utc is RFC 3339 with milliseconds and Z."""
    if type(value) is not dict or value.keys() != {"utc", "tick", "boot"}:
        raise ValueError("is no moment with boot, tick and utc")
    utc = read_text(value["utc"])
    try:
        if len(utc) != UTC_LENGTH or utc[-1] != "Z":
            raise ValueError
        datetime.fromisoformat(utc)
    except ValueError:
        raise ValueError("has no time like 2026-11-25T09:40:14.250Z") from None
    return Moment(utc, read_float(value["tick"]), read_text(value["boot"]))


def kind_of(value: object) -> str:
    """What a JSON value is, in words."""
    match value:
        case None:
            return "null"
        case bool():
            return "a truth value"
        case int() | float():
            return "a number"
        case str():
            return "text"
        case list():
            return "a list"
        case _:
            return "an object"


SIMPLE: dict[object, Reader] = {
    str: read_text,
    float: read_float,
    int: read_int,
    bool: read_bool,
    NoneType: read_none,
    Moment: read_moment,
}


@cache
def reader_of(annotation: object) -> Reader:
    """The reader for a field's annotation: simple types, unions of them, tuples of those to any depth."""
    simple = SIMPLE.get(annotation)
    if simple is not None:
        return simple
    origin, parts = get_origin(annotation), get_args(annotation)
    if origin in (Union, UnionType):
        return one_of(tuple(reader_of(part) for part in parts))
    if origin is tuple and len(parts) == 2 and parts[1] is Ellipsis:
        return list_of(reader_of(parts[0]))
    if origin is tuple:
        return row_of(tuple(reader_of(part) for part in parts))
    raise TypeError(f"an event field may not be {annotation!r}: the journal has no form for it")


def one_of(readers: tuple[Reader, ...]) -> Reader:
    """The first reader that takes the value."""

    def read(value: object) -> object:
        for reader in readers:
            try:
                return reader(value)
            except ValueError:
                continue
        raise ValueError(f"is {kind_of(value)}, which does not belong here")

    return read


def list_of(reader: Reader) -> Reader:
    """A list of any length, as a tuple."""

    def read(value: object) -> tuple[object, ...]:
        if type(value) is not list:
            raise ValueError(f"is {kind_of(value)} where a list belongs")
        return tuple([reader(part) for part in value])

    return read


def row_of(readers: tuple[Reader, ...]) -> Reader:
    """A list of a fixed length, as a tuple."""

    def read(value: object) -> tuple[object, ...]:
        if type(value) is not list or len(value) != len(readers):
            raise ValueError(f"is no list of {len(readers)}")
        return tuple([reader(part) for reader, part in zip(readers, value, strict=True)])

    return read


def layout_of(event: type[Event]) -> Layout:
    """The layout of a class of event, from its annotations."""
    hints = get_type_hints(event)
    names = tuple(field.name for field in fields(event) if field.name not in ("at", "terminal"))
    return Layout(
        event=event,
        fields=tuple(
            (field.name, None if hints[field.name] is str else reader_of(hints[field.name])) for field in fields(event)
        ),
        template=template_of(event),
        elsewhere=template_of(event, elsewhere=True),
        names=names,
        writers=tuple(writer_of(hints[name]) for name in names),
        get=attrgetter(*names),
        defaults=frozenset(field.name for field in fields(event) if field.default is not MISSING),
    )


LAYOUTS: dict[str, Layout] = {word_of(event): layout_of(event) for event in EVENTS}
"""By the journal's word."""

WORDS: dict[type[Event], str] = {layout.event: word for word, layout in LAYOUTS.items()}
"""The journal's word of a class."""
