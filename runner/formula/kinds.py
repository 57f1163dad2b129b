"""The kinds of things a name in a formula may stand for: a quantity, a text, a truth, a table, a web path."""

from typing import NamedTuple, TypeAlias, assert_never

from runner.formula.dimension import Dimension, describe


class Quantity(NamedTuple):
    """A number of a dimension, in SI."""

    dimension: Dimension


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
    """A web path: the names of its rollers in the order of the web."""

    rollers: tuple[str, ...]


Kind: TypeAlias = Quantity | TextKind | Truth | Table | Path


def words(kind: Kind) -> str:
    """A kind as it stands in a message: "a force (N)", "a text"."""
    match kind:
        case Quantity():
            return describe(kind.dimension)
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
