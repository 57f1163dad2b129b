"""The kinds of things a name in a formula may stand for: a quantity, a text, a truth, a table, a web path."""

from typing import NamedTuple, TypeAlias, assert_never

from runner.formula.dimension import Dimension, describe
from runner.formula.units import Unit


class Quantity(NamedTuple):
    """A number of a dimension, in SI.

    `unit` is the unit that the author declared it with, "" for none. It is for words alone: kinds are compared by dimension.
    """

    dimension: Dimension
    unit: str = ""


class TextKind(NamedTuple):
    """A text; `choices` are all that it may be, none given means any text."""

    choices: tuple[str, ...] = ()


class Truth(NamedTuple):
    """True or false, as a comparison gives."""

    words: str = "true or false"


class Table(NamedTuple):
    """A table: its columns by name, each a quantity or a text (whose choices are the texts in its rows)."""

    columns: tuple[tuple[str, "Kind"], ...]


class Path(NamedTuple):
    """A web path: the names of its rollers in the order of the web, and of those that have a travel."""

    rollers: tuple[str, ...]
    travelling: frozenset[str] = frozenset()


Kind: TypeAlias = Quantity | TextKind | Truth | Table | Path


def quantity_in(unit: Unit) -> Quantity:
    """The kind of a value that is declared in a unit."""
    return Quantity(unit.dimension, unit.text)


def words(kind: Kind) -> str:
    """A kind as it stands in a message: "a force (N)" with the unit of the author, "a text"."""
    match kind:
        case Quantity():
            return describe(kind.dimension, kind.unit)
        case TextKind():
            return "a text"
        case Truth():
            return "true or false"
        case Table():
            return "a table"
        case Path():
            return "a web path"
        case _:
            assert_never(kind)
