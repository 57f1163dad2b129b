"""The tree of a formula: frozen nodes, each with the columns of the text that it came from.

Everything else in this package is a reading of this tree. A `Name` is a value; the name of a table, a web path or a
column is a `Reference`, so that what a formula needs to know before it can be worked out is exactly `names_in`.
"""

from typing import Literal, NamedTuple, TypeAlias, assert_never

ArithmeticSign: TypeAlias = Literal["+", "-", "*", "/", "^"]
ComparisonSign: TypeAlias = Literal["==", "!=", "<", "<=", ">", ">="]
LogicWord: TypeAlias = Literal["and", "or"]
ReferenceTo: TypeAlias = Literal["table", "path", "column"]


class Span(NamedTuple):
    """Half-open columns, from 0, inside the text of the formula."""

    start: int
    end: int


class Number(NamedTuple):
    """A number as typed and the text of its unit, "" for none: `3.2 [kg]` is Number(3.2, "kg", ...)."""

    value: float
    unit: str
    span: Span


class Text(NamedTuple):
    """A text in quotes, without them."""

    value: str
    span: Span


class Name(NamedTuple):
    """The value called `id`: an input, a calculation, a reading, a choice, or one of the constants."""

    id: str
    span: Span


class Reference(NamedTuple):
    """A table, a web path, or a column, named as an argument of a function that wants one."""

    id: str
    to: ReferenceTo
    span: Span


class Negate(NamedTuple):
    """`-operand`"""

    operand: "Expr"
    span: Span


class Not(NamedTuple):
    """`not operand`"""

    operand: "Expr"
    span: Span


class Arithmetic(NamedTuple):
    """`left + right` and its kin; the right side of `^` is always a plain number."""

    op: ArithmeticSign
    left: "Expr"
    right: "Expr"
    span: Span


class Comparison(NamedTuple):
    """`left < right` and its kin."""

    op: ComparisonSign
    left: "Expr"
    right: "Expr"
    span: Span


class Logic(NamedTuple):
    """`left and right`, `left or right`."""

    op: LogicWord
    left: "Expr"
    right: "Expr"
    span: Span


class Call(NamedTuple):
    """`function(arguments)`"""

    function: str
    arguments: tuple["Expr", ...]
    span: Span


Expr: TypeAlias = Number | Text | Name | Reference | Negate | Not | Arithmetic | Comparison | Logic | Call


LEAVES = frozenset({Number, Text, Name, Reference})
"""Nodes without parts."""


def children(expr: Expr) -> tuple[Expr, ...]:
    """The parts of a node, from left to right."""
    match expr:
        case Number() | Text() | Name() | Reference():
            return ()
        case Negate() | Not():
            return (expr.operand,)
        case Arithmetic() | Comparison() | Logic():
            return (expr.left, expr.right)
        case Call():
            return expr.arguments
        case _:
            assert_never(expr)


MOST_KNOWN = 4096
"""Trees whose nodes and names are kept: the same few formulas are asked about again and again."""

_known: dict[int, tuple[Expr, tuple[Expr, ...], frozenset[str]]] = {}
"""By identity, with the tree itself so that it stays the one it was: two trees of different kinds may be equal as tuples."""


def nodes(expr: Expr) -> tuple[Expr, ...]:
    """The node and all that is under it, each before its parts."""
    return _looked_into(expr)[1]


def _looked_into(expr: Expr) -> tuple[Expr, tuple[Expr, ...], frozenset[str]]:
    """A tree, all its nodes and the names in it."""
    known = _known.get(id(expr))
    if known is None:
        under = _under(expr)
        names = frozenset([node.id for node in under if isinstance(node, Name) and node.id not in CONSTANT_NAMES])
        if len(_known) >= MOST_KNOWN:
            _known.clear()
        known = _known[id(expr)] = (expr, under, names)
    return known


def _under(expr: Expr) -> tuple[Expr, ...]:
    found: list[Expr] = []
    waiting = [expr]
    while waiting:
        node = waiting.pop()
        found.append(node)
        if node.__class__ not in LEAVES:
            waiting.extend(reversed(children(node)))
    return tuple(found)


def names_in(expr: Expr) -> frozenset[str]:
    """Names of the values that a formula uses; not of tables, web paths and columns, and not the constants."""
    return _looked_into(expr)[2]


def references_in(expr: Expr) -> frozenset[Reference]:
    """The tables, web paths and columns that a formula uses. A web path may itself use values: its rollers' formulas."""
    return frozenset(node for node in nodes(expr) if isinstance(node, Reference))


def depth(expr: Expr) -> int:
    """Number of nodes on the longest way from the top of the tree to a leaf."""
    levels, layer = 0, [expr]
    while layer:
        levels += 1
        layer = [child for node in layer for child in children(node)]
    return levels


CONSTANT_NAMES = frozenset({"pi", "g_n"})
"""Names with a value of their own in every formula (functions/constants.py says which); no value may be called so."""
