"""A frozen record with some of its fields changed: what `dataclasses.replace` does, several times as fast.

Only for frozen records with slots whose construction checks nothing; the engine makes a new state for each event, and this
is most of what that costs.
"""

from collections.abc import Callable
from dataclasses import fields
from operator import attrgetter
from typing import Any, NamedTuple, TypeVar

R = TypeVar("R")

Write = Callable[[Any, Any], None]


class Layout(NamedTuple):
    """How the slots of one kind of record are read and written."""

    read: Callable[[Any], tuple[Any, ...]]
    writes: tuple[Write, ...]
    by_name: dict[str, Write]


class Layouts(dict[type[Any], Layout]):
    """Made when first asked for."""

    def __missing__(self, kind: type[Any]) -> Layout:
        """Of a kind of record with two fields or more."""
        names = [one.name for one in fields(kind)]
        by_name: dict[str, Write] = {name: getattr(kind, name).__set__ for name in names}
        self[kind] = Layout(attrgetter(*names), tuple(by_name.values()), by_name)
        return self[kind]


LAYOUTS = Layouts()


def changed(record: R, **values: Any) -> R:
    """The same record with these fields. TypeError for a field that it has not, as from `replace`."""
    kind = type(record)
    read, writes, by_name = LAYOUTS[kind]
    new: R = object.__new__(kind)
    for write, value in zip(writes, read(record), strict=True):
        write(new, value)
    for name, value in values.items():
        if name not in by_name:
            raise TypeError(f"{kind.__name__} has no field {name}")
        by_name[name](new, value)
    return new
