"""How the old text's names are written in the new one, and old formulas in new names.

A name that nothing else changes about is renamed, not removed and added. Tables and web paths that are otherwise in the two
texts stand apart under a name of their own, so that an old formula keeps its old rows and rollers.
"""

from typing import NamedTuple, assert_never

from runner.formula.expr import (
    Arithmetic,
    Call,
    Comparison,
    Expr,
    Logic,
    Name,
    Negate,
    Not,
    Number,
    Reference,
    Text,
)
from runner.formula.scope import PathRoller, Scope

OLD = "old "
"""Goes before the name of a table or web path that is otherwise in the new text; no author's name has a blank."""


class Naming(NamedTuple):
    """Old names to new ones, by what they name; a name that is not in here is the same in both."""

    roles: dict[str, str]
    cautions: dict[str, str]
    values: dict[str, str]
    """Inputs, calculations and answers."""
    states: dict[str, str]
    racks: dict[str, str]
    tables: dict[str, str]
    paths: dict[str, str]
    steps: dict[str, str]


def nothing_renamed() -> Naming:
    """Every name is the same in both."""
    return Naming({}, {}, {}, {}, {}, {}, {}, {})


def in_new_names(expr: Expr, naming: Naming) -> Expr:
    """An old formula in the new text's names."""
    match expr:
        case Number() | Text():
            return expr
        case Name():
            return expr._replace(id=naming.values.get(expr.id, expr.id))
        case Reference(to="table"):
            return expr._replace(id=naming.tables.get(expr.id, expr.id))
        case Reference(to="path"):
            return expr._replace(id=naming.paths.get(expr.id, expr.id))
        case Reference():
            return expr
        case Negate() | Not():
            return expr._replace(operand=in_new_names(expr.operand, naming))
        case Arithmetic() | Comparison() | Logic():
            return expr._replace(left=in_new_names(expr.left, naming), right=in_new_names(expr.right, naming))
        case Call():
            return expr._replace(arguments=tuple(in_new_names(argument, naming) for argument in expr.arguments))
        case _:
            assert_never(expr)


def roller_in_new_names(roller: PathRoller, naming: Naming) -> PathRoller:
    """An old roller in the new text's names."""
    return roller._replace(
        x=in_new_names(roller.x, naming), y=in_new_names(roller.y, naming),
        diameter=in_new_names(roller.diameter, naming),
    )  # fmt: skip


def both_scopes(old: Scope, new: Scope, naming: Naming) -> Scope:
    """The new text's tables and web paths, with those of the old that stand apart."""
    tables = {
        **new.tables,
        **{naming.tables[name]: rows for name, rows in old.tables.items() if name in naming.tables},
    }
    paths = {
        **new.paths,
        **{
            naming.paths[name]: tuple(roller_in_new_names(roller, naming) for roller in rollers)
            for name, rollers in old.paths.items()
            if name in naming.paths
        },
    }
    return Scope(tables, paths)
