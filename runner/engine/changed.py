"""A frozen record with some of its fields changed: what `dataclasses.replace` does, ten times as fast.

Only for frozen records with slots whose construction checks nothing; the engine makes a new state for each event, and this
is most of what that costs. The copy is made in an open twin of the record's class, which lets its slots be written, and
then becomes one of the class; nobody has it before that.
"""

from collections.abc import Callable
from dataclasses import fields
from typing import Any, NamedTuple, TypeVar

R = TypeVar("R")


class Twin(NamedTuple):
    """How records of one class are copied."""

    open: type[Any]
    """The class without its guard."""
    names: frozenset[str]
    copy: Callable[[Any, Any], None]
    """Writes all fields of the second into the first."""


class Twins(dict[type[Any], Twin]):
    """Made when first asked for."""

    def __missing__(self, kind: type[Any]) -> Twin:
        """Of a class of records."""
        names = [one.name for one in fields(kind)]
        made: dict[str, Any] = {}
        # written out line by line, as `dataclasses` does: a loop over the names takes several times as long
        exec("def copy(new, old):\n" + "\n".join(f"    new.{name} = old.{name}" for name in names), made)
        self[kind] = Twin(open_twin(kind), frozenset(names), made["copy"])
        return self[kind]


def open_twin(kind: type[Any]) -> type[Any]:
    """A class whose objects may be written, and may become objects of the class given: it adds nothing to them."""
    unguarded = {"__slots__": (), "__setattr__": object.__setattr__, "__delattr__": object.__delattr__}
    return type(f"Open{kind.__name__}", (kind,), unguarded)


TWINS = Twins()


def changed(record: R, **values: Any) -> R:
    """The same record with these fields. TypeError for a field that it has not, as from `replace`."""
    kind = type(record)
    twin = TWINS[kind]
    new = object.__new__(twin.open)
    twin.copy(new, record)
    try:
        for name, value in values.items():
            setattr(new, name, value)
    except AttributeError:
        raise TypeError(f"{kind.__name__} has no field {', '.join(values.keys() - twin.names)}") from None
    new.__class__ = kind
    return new  # type: ignore[no-any-return]  # it has become one of them
