"""What a formula finds in tables and web paths, in words: the numbers that a person needs to follow its working.

Each call that looks into one stands under its own text, so that `explain` puts the number in its place.
"""

from collections.abc import Iterator, Mapping

from runner.formula.dimension import ANGLE, LENGTH, NUMBER
from runner.formula.evaluate import Value, evaluate
from runner.formula.explain import looks_away, text_of
from runner.formula.expr import Call, Expr, Reference, nodes
from runner.formula.fault import Fault
from runner.formula.functions import FUNCTIONS
from runner.formula.functions.row import Given
from runner.formula.kinds import Path, Quantity
from runner.formula.quantity import show
from runner.formula.scope import Scope
from runner.formula.units import UNITS, Unit

UNIT_OF = {LENGTH: UNITS["m"], ANGLE: UNITS["deg"], NUMBER: UNITS["1"]}
"""In which unit a number of a web path is shown."""


def looked_up(expr: Expr, values: Mapping[str, Value], scope: Scope) -> dict[str, str]:
    """The text of each call that looks into a table or a web path, and what it comes to."""
    return {text_of(call): words for call in calls(expr) if (words := found_words(call, values, scope))}


def calls(expr: Expr) -> Iterator[Call]:
    """The calls of a formula that look into a table or a web path."""
    return (node for node in nodes(expr) if isinstance(node, Call) and looks_away(node))


def found_words(call: Call, values: Mapping[str, Value], scope: Scope) -> str:
    """What a call comes to, with its unit; "" where it has no value, or where nobody knows its unit."""
    found = evaluate(call, values, scope)
    if isinstance(found, Fault):
        return ""
    if isinstance(found, str):
        return found
    unit = unit_of_column(call, scope) or unit_of_path(call, scope)
    return show(float(found), unit) if unit is not None else ""


def unit_of_column(call: Call, scope: Scope) -> Unit | None:
    """The unit of the column that is looked into."""
    table, column = call.arguments[0], call.arguments[-1]
    rows = scope.tables.get(table.id) if isinstance(table, Reference) and table.to == "table" else None
    if rows is None or not isinstance(column, Reference) or len(rows.units) < len(rows.columns):
        return None
    return rows.units[rows.columns.index(column.id)]


def unit_of_path(call: Call, scope: Scope) -> Unit | None:
    """The unit in which a number of a web path is shown."""
    path = call.arguments[0]
    if not isinstance(path, Reference) or path.id not in scope.paths:
        return None
    rollers = tuple(roller.name for roller in scope.paths[path.id])
    kind = FUNCTIONS[call.function].kind((Given(Path(rollers), path.id, path.id),))
    return UNIT_OF.get(kind.dimension) if isinstance(kind, Quantity) else None
