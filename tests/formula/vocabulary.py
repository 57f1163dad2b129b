"""Case files: names, tables, paths and values as a case file spells them, made into kinds and a scope."""

from typing import Any, NamedTuple

from runner.formula.expr import Expr
from runner.formula.fault import Fault
from runner.formula.kinds import Kind, Path, Table, TextKind, Truth, quantity_in
from runner.formula.scope import PathRoller, Scope, TableRows
from runner.formula.syntax import parse
from runner.formula.units import Unit, parse_unit


class Vocabulary(NamedTuple):
    """What the formulas of a case file may name."""

    names: dict[str, Kind]
    scope: Scope
    values: dict[str, float | str | bool]


def unit_of(text: str) -> Unit:
    """A unit of a case file, which must be one."""
    unit = parse_unit(text)
    assert isinstance(unit, Unit), unit
    return unit


def tree(text: str) -> Expr:
    """A formula that must parse."""
    expr = parse(text)
    assert not isinstance(expr, Fault), (text, expr)
    return expr


def si(text: str) -> float:
    """ "1200 mm" in SI; a number alone is a plain number."""
    number, _, unit = text.partition(" ")
    return unit_of(unit or "1").si(float(number))


def kind_of(spelled: Any) -> Kind:
    """A name's kind: a unit, a list of choices, or truth."""
    if isinstance(spelled, list):
        return TextKind(tuple(spelled))
    if spelled == "truth":
        return Truth()
    return TextKind() if spelled == "text" else quantity_in(unit_of(spelled))


def placed(text: str) -> Expr:
    """A roller's place or size: a quantity ("900 mm") or a formula."""
    number, _, unit = text.partition(" ")
    return tree(f"{number} [{unit}]") if unit and number.replace(".", "").isdigit() else tree(text)


def vocabulary(document: dict[str, Any]) -> Vocabulary:
    """The vocabulary that a case file declares."""
    names = {name: kind_of(spelled) for name, spelled in document.get("names", {}).items()}
    tables: dict[str, TableRows] = {}
    for name, table in document.get("tables", {}).items():
        columns = table["columns"]
        rows = tuple(
            tuple(
                cell if columns[column] == "text" else unit_of(columns[column]).si(cell)
                for column, cell in zip(columns, row, strict=True)
            )
            for row in table["rows"]
        )
        tables[name] = TableRows(tuple(columns), rows)
        names[name] = Table(
            tuple(
                (
                    column,
                    TextKind(tuple(str(row[place]) for row in rows)) if unit == "text" else kind_of(unit),
                )
                for place, (column, unit) in enumerate(columns.items())
            )
        )
    paths: dict[str, tuple[PathRoller, ...]] = {}
    for name, rollers in document.get("paths", {}).items():
        paths[name] = tuple(
            PathRoller(
                roller[0], placed(roller[1]), placed(roller[2]), placed(roller[3]), roller[4],
                si(roller[5]) if len(roller) > 5 else None,
                (si(roller[6]), si(roller[7])) if len(roller) > 6 else None,
            )
            for roller in rollers
        )  # fmt: skip
        names[name] = Path(
            tuple(roller[0] for roller in rollers), frozenset(roller[0] for roller in rollers if len(roller) > 6)
        )
    values: dict[str, float | str | bool] = {
        name: value if isinstance(names[name], TextKind | Truth) else si(str(value))
        for name, value in document.get("values", {}).items()
    }
    return Vocabulary(names, Scope(tables, paths), values)
