"""What a formula may look into besides values: the rows of tables and the rollers of web paths.

A roller's place and size are formulas themselves, since a roll's diameter is known only once the job is.
"""

from collections.abc import Mapping
from typing import NamedTuple

from runner.formula.expr import Expr, Reference, names_in, nodes
from runner.formula.units import Unit


class TableRows(NamedTuple):
    """A table: the names of its columns, its rows of SI floats and texts, and the units in which its columns are shown."""

    columns: tuple[str, ...]
    rows: tuple[tuple[float | str, ...], ...]
    units: tuple[Unit | None, ...] = ()
    """None for a text; left out where nobody reads the numbers."""


class PathRoller(NamedTuple):
    """One roller: formulas for the centre and the diameter, the `side` on which the web passes (over, under), the
    direction in which it `moves` (rad from the horizontal; None where it is fixed), and how far its `travel` goes along
    that direction from where it is drawn (m; None where nobody has said)."""

    name: str
    x: Expr
    y: Expr
    diameter: Expr
    side: str
    moves: float | None = None
    travel: tuple[float, float] | None = None


class Scope(NamedTuple):
    """Tables and web paths by name."""

    tables: Mapping[str, TableRows]
    paths: Mapping[str, tuple[PathRoller, ...]]


EMPTY = Scope({}, {})


def names_needed(expr: Expr, scope: Scope) -> frozenset[str]:
    """All values that a formula needs: those it names, and those that the rollers of its web paths name."""
    if not scope.paths:
        return names_in(expr)
    needed = set(names_in(expr))
    for node in nodes(expr):
        if isinstance(node, Reference) and node.to == "path":
            for roller in scope.paths.get(node.id, ()):
                needed |= names_in(roller.x) | names_in(roller.y) | names_in(roller.diameter)
    return frozenset(needed)
