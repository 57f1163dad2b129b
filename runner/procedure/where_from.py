"""Where the inputs of a calculation come from, in short words that stand beside its working.

The ticket, a reading at a step, another calculation, a row of a table, a constant. What a run knows better (who gave it,
from a file or typed) is given from outside and goes before what the procedure alone can say.
"""

from collections.abc import Iterator, Mapping

from runner.formula.dimension import NUMBER
from runner.formula.explain import explain
from runner.formula.expr import Call, Expr, Name, Reference, nodes
from runner.formula.functions.constants import CONSTANTS
from runner.procedure.model import Calculation, Procedure, Split, steps_of

TICKET = "job ticket"
WORKED_OUT = "worked out"

Origins = tuple[tuple[str, str], ...]
"""(name of a value, table or constant, where it comes from)."""


def origins_of(
    procedure: Procedure, calculation: Calculation | Split, shown: Mapping[str, str], known: Mapping[str, str]
) -> Origins:
    """For each value in the order of the names, then each table row and constant with a unit in the order of the formula."""
    exprs = exprs_of(calculation)
    values = [(name, known.get(name) or origin_of(procedure, name)) for name in sorted(calculation.uses)]
    looked_up = [pair for expr in exprs for pair in rows_of(expr, shown)]
    constants = [
        (node.id, f"constant {CONSTANTS[node.id].shown}")
        for expr in exprs
        for node in nodes(expr)
        if isinstance(node, Name) and node.id in CONSTANTS and CONSTANTS[node.id].dimension != NUMBER
    ]
    return tuple(dict.fromkeys((*values, *looked_up, *constants)))


def exprs_of(calculation: Calculation | Split) -> tuple[Expr, ...]:
    """Its formula, the bounds of its limits and its rough check."""
    if isinstance(calculation, Split):
        return ()
    rough = () if calculation.rough is None else (calculation.rough.formula,)
    return (calculation.formula, *(limit.bound for limit in calculation.limits), *rough)


def origin_of(procedure: Procedure, name: str) -> str:
    """What the procedure alone says of a value's origin."""
    if any(given.name == name for given in procedure.inputs):
        return TICKET
    for step in steps_of(procedure):
        if any(ask.name == name for ask in step.asks):
            return f"step {step.number}"
    return WORKED_OUT


def rows_of(expr: Expr, shown: Mapping[str, str]) -> Iterator[tuple[str, str]]:
    """(table, the row that a look-up takes) of every look-up in a formula."""
    for node in nodes(expr):
        if isinstance(node, Call) and node.arguments and isinstance(node.arguments[0], Reference):
            table, keys = node.arguments[0], node.arguments[1:-1]
            if table.to == "table":
                words = ", ".join(explain(key, shown) for key in keys)
                yield table.id, f"row {words}" if node.function == "lookup" else f"between rows, at {words}"
