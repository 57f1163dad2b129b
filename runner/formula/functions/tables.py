"""Looking into tables, and at the last of several readings.

`lookup` finds the row whose first columns equal the keys; `interpolate` goes straight from row to row of a numeric first
column and never beyond the outermost ones: a table says nothing about what it does not hold.
"""

from itertools import pairwise, product

from runner.formula.fault import nearest_name
from runner.formula.functions.row import Function, Given, Misfit, Parameter, row, unlike
from runner.formula.interval import Interval, Possible, Texts, Unbounded, hull, loosened
from runner.formula.kinds import Kind, Quantity, Table, TextKind, words
from runner.formula.scope import TableRows

MOST_KEYS = 10_000
"""Combinations of keys that bounds are worked out for."""


def column_kind(given: tuple[Given, ...]) -> Kind | Misfit:
    """The kind of the column named last, in the table named first."""
    table, column = given[0].kind, str(given[-1].literal)
    assert isinstance(table, Table)
    columns = dict(table.columns)
    if column in columns:
        return columns[column]
    near = nearest_name(column, tuple(columns))
    return Misfit(
        len(given) - 1,
        f"{given[0].words} has no column {column}",
        f"did you mean {near}?" if near else f"its columns are {', '.join(columns)}",
    )


def lookup_kind(given: tuple[Given, ...]) -> Kind | Misfit:
    """Each key is of its column's kind, and a text that is written out stands in that column."""
    table = given[0].kind
    assert isinstance(table, Table)
    keys = given[1:-1]
    if len(keys) >= len(table.columns):
        return Misfit(
            len(given) - 1, f"{given[0].words} has {len(table.columns)} columns, too few for {len(keys)} keys"
        )
    for place, (key, (column, wanted)) in enumerate(zip(keys, table.columns, strict=False), start=1):
        found = key_misfit(key, column, wanted, place)
        if found is not None:
            return found
    return column_kind(given)


def key_misfit(key: Given, column: str, wanted: Kind, place: int) -> Misfit | None:
    """Whether a key may stand for a column."""
    match key.kind, wanted:
        case Quantity(), Quantity():
            if key.kind.dimension != wanted.dimension:
                return unlike(key, key.kind.dimension, wanted, place)
        case TextKind(), TextKind():
            if isinstance(key.literal, str) and wanted.choices and key.literal not in wanted.choices:
                return Misfit(
                    place, f"no row has '{key.literal}' in column {column}", f"there are {', '.join(wanted.choices)}"
                )
        case _:
            return Misfit(place, f"{key.words} is {words(key.kind)}, column {column} holds {words(wanted)}")
    return None


def interpolate_kind(given: tuple[Given, ...]) -> Kind | Misfit:
    """The first column and the wanted one are quantities, and x is of the first one's dimension."""
    table, x = given[0].kind, given[1]
    assert isinstance(table, Table)
    column, first = table.columns[0]
    if not isinstance(first, Quantity):
        return Misfit(
            0, f"the first column of {given[0].words}, {column}, is {words(first)}", "interpolate needs numbers"
        )
    misfit = key_misfit(x, column, first, 1)
    if misfit is not None:
        return misfit
    found = column_kind(given)
    if isinstance(found, Misfit | Quantity):
        return found
    return Misfit(2, f"column {given[2].literal} is {words(found)}, which cannot be interpolated", "use lookup")


def lookup(table: TableRows, *keys_and_column: float | str) -> float | str:
    """The value in the column named last, in the first row that begins with the keys."""
    *keys, column = keys_and_column
    place = table.columns.index(str(column))
    for found in table.rows:
        if list(found[: len(keys)]) == keys:
            return found[place]
    raise ValueError("the table has no row for this")


def lookup_bounds(table: TableRows, *keys_and_column: Possible | str) -> Possible:
    """All rows that the keys may lead to; unbounded where some keys together have no row."""
    *keys, column = keys_and_column
    place = table.columns.index(str(column))
    first: dict[tuple[float | str, ...], float | str] = {}
    for found in table.rows:
        first.setdefault(found[: len(keys)], found[place])
    wanted = asked_for(keys)
    if wanted is None or not wanted <= first.keys():
        return Unbounded("the table may have no row for this")
    return among([first[key] for key in wanted])


def asked_for(keys: list[Possible | str]) -> set[tuple[float | str, ...]] | None:
    """Everything that several keys together may be; None where that is not known, or more than `MOST_KEYS`."""
    each: list[list[float | str]] = []
    size = 1
    for key in keys:
        match key:
            case Interval() if key.low == key.high:
                each.append([key.low])
            case Texts(may=frozenset() as may):
                each.append(sorted(may))
            case _:
                return None
        size *= len(each[-1])
        if size > MOST_KEYS:
            return None
    return set(product(*each))


def among(cells: list[float | str]) -> Possible:
    """The smallest that holds all the cells."""
    numbers = [Interval(cell, cell) for cell in cells if isinstance(cell, float | int)]
    return hull(numbers) if numbers else Texts(frozenset(str(cell) for cell in cells))


def points(table: TableRows, column: str) -> list[tuple[float, float]]:
    """(first column, wanted column) of all rows, from the smallest to the largest."""
    place = table.columns.index(column)
    return sorted((float(found[0]), float(found[place])) for found in table.rows)


def interpolate(table: TableRows, x: float, column: str) -> float:
    """Straight between the two rows next to x."""
    known = points(table, column)
    if not known or not known[0][0] <= x <= known[-1][0]:
        raise ValueError("the table does not reach this far")
    for (x0, y0), (x1, y1) in pairwise(known):
        if x <= x1:
            return y1 if x == x1 else y0 + (y1 - y0) * ((x - x0) / (x1 - x0))
    return known[-1][1]


def interpolate_bounds(table: TableRows, x: Possible, column: str) -> Possible:
    """The values at both ends of x and in all rows between."""
    assert isinstance(x, Interval)
    try:
        ends = [interpolate(table, x.low, column), interpolate(table, x.high, column)]
    except ValueError:
        return Unbounded("the table may not reach this far")
    ends += [y for at, y in points(table, column) if x.low <= at <= x.high]
    return loosened(min(ends), max(ends), 1e-15 * len(ends))


def same_kind(given: tuple[Given, ...]) -> Kind | Misfit:
    """Kind rule of last."""
    return given[0].kind


TABLE, COLUMN = Parameter("table", "table"), Parameter("column", "column")

TABLES: tuple[Function, ...] = (
    row(
        "lookup",
        (TABLE, Parameter("key", "value", many=True), COLUMN),
        kind=lookup_kind,
        value=lookup,
        bounds=lookup_bounds,
        doc="The value in a column of a table, in the row whose first columns equal the keys.",
        example="lookup(wanted_tension, substrate, high)",
    ),
    row(
        "interpolate",
        (TABLE, Parameter("x", "value"), COLUMN),
        kind=interpolate_kind,
        value=interpolate,
        bounds=interpolate_bounds,
        doc="The value in a column of a table, straight between the rows next to x; never beyond the table.",
        example="interpolate(board_tension, caliper, pull)",
    ),
    row(
        "last",
        (Parameter("reading", "value"),),
        kind=same_kind,
        value=lambda reading: reading,
        bounds=lambda reading: reading,
        doc="The last of the readings taken under this name.",
        example="last(core_pressure)",
    ),
)
