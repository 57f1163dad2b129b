"""Inputs, tables, racks and states: what is known before anything is worked out."""

from typing import NamedTuple

from runner.formula.dimension import MASS, describe
from runner.formula.kinds import Kind, Table, TextKind, quantity_in
from runner.formula.repairs import clash
from runner.formula.scope import TableRows
from runner.formula.units import Unit, quotient
from runner.procedure.desk import Desk, number, one_line
from runner.procedure.model import UNKNOWN, Band, Input, Rack, TrackedState
from runner.procedure.names import Known, Names
from runner.procedure.nodes import Map, Seq, key_place
from runner.procedure.parts.head import flag, text

MOST_PARTS = 10**9
"""Parts that one piece may have; a heavier one is a slip of the unit."""


def read_inputs(root: Map, names: Names) -> tuple[Input, ...]:
    """The inputs; each becomes a name."""
    nodes: Map | dict[str, Map] = root.get("inputs", {})
    return tuple(read_input(root["inputs"], name, names) for name in nodes)


def read_input(inputs: Map, name: str, names: Names) -> Input:
    """One input: a number, a choice or a text."""
    node: Map = inputs[name]
    desk, place = names.desk, key_place(inputs, name)
    unit = desk.unit(node, "unit") if "unit" in node else None
    choices = desk.different(node["choose"], "choice") if "choose" in node else ()
    kind: Kind | None = TextKind(choices)
    if "unit" in node:
        kind = None if unit is None else quantity_in(unit)
    within, likely = band(node, "within", unit, desk), band(node, "likely", unit, desk)
    if within and likely and (likely.low < within.low or likely.high > within.high):
        desk.at_value("likely-outside", "`likely` goes beyond `within`: no such value is allowed", node, "likely")
    for key in ("within", "likely"):
        if key in node and "unit" not in node:
            desk.at_key(
                "limits-without-unit",
                f"`{key}` needs a `unit`: a text has no limits",
                node,
                key,
                "Write `unit: 1` for a pure number.",
            )
    names.declare(Known(name, "input", kind, unit, place))
    return Input(name, text(node, "ask"), unit, choices, within, likely, text(node, "why"), place)


def band(node: Map, key: str, unit: Unit | None, desk: Desk) -> Band | None:
    """Least and greatest value in SI; None where the key or the unit is missing."""
    pair = None if unit is None else desk.band(node, key, unit)
    return None if pair is None else Band(*pair)


class ReadTable(NamedTuple):
    """A table as formulas see it, and what its columns hold."""

    rows: TableRows
    columns: tuple[tuple[str, Kind], ...]


def read_tables(root: Map, names: Names) -> dict[str, TableRows]:
    """Tables by name; each becomes a name."""
    nodes: Map | dict[str, Map] = root.get("tables", {})
    tables: dict[str, TableRows] = {}
    for name, node in nodes.items():
        table = read_table(node, names.desk)
        kind = None if table is None else Table(table.columns)
        names.declare(Known(name, "table", kind, None, key_place(root["tables"], name)))
        if table is not None:
            tables[name] = table.rows
    return tables


def read_table(node: Map, desk: Desk) -> ReadTable | None:
    """One table; None after a finding."""
    columns: Map = node["columns"]
    units = {name: None if unit.strip() == "text" else desk.unit(columns, name) for name, unit in columns.items()}
    texts = [unit.strip() == "text" for unit in columns.values()]
    if any(unit is None and not is_text for unit, is_text in zip(units.values(), texts, strict=True)):
        return None
    rows = [read_row(row, tuple(units.items()), desk, node["rows"], index) for index, row in enumerate(node["rows"])]
    if None in rows:
        return None
    whole = tuple(row for row in rows if row is not None)
    kinds = tuple(
        (
            name,
            TextKind(tuple(dict.fromkeys(str(row[place]) for row in whole))) if unit is None else quantity_in(unit),
        )
        for place, (name, unit) in enumerate(units.items())
    )
    return ReadTable(TableRows(tuple(units), whole, tuple(units.values())), kinds)


def read_row(
    row: Seq, columns: tuple[tuple[str, Unit | None], ...], desk: Desk, rows: Seq, index: int
) -> tuple[float | str, ...] | None:
    """One row in SI; None after a finding."""
    if len(row) != len(columns):
        desk.at_value(
            "row-length", f"this row has {len(row)} values, the table has {len(columns)} columns", rows, index
        )
        return None
    values: list[float | str] = []
    for place, (name, unit) in enumerate(columns):
        cell = one_line(row[place])
        value = number(cell)
        if unit is not None and value is None:
            desk.at_value("wrong-value", f"column `{name}` holds numbers in {unit.text}; `{cell}` is none", row, place)
            return None
        values.append(cell if unit is None or value is None else unit.si(value))
    return tuple(values)


def read_racks(root: Map, desk: Desk) -> dict[str, Rack]:
    """Racks by name."""
    nodes: Map | dict[str, Map] = root.get("pieces", {})
    racks: dict[str, Rack] = {}
    for name, node in nodes.items():
        unit = desk.unit(node, "unit")
        if unit is None:
            continue
        if unit.dimension != MASS:
            desk.at_value(
                "unit-mismatch",
                f"pieces have a mass (kg); {unit.text} is {describe(unit.dimension, unit.text)}",
                node,
                "unit",
                clash(unit.dimension, MASS),
            )
            continue
        place = key_place(root["pieces"], name)
        bare = Rack(name, unit, (), place)
        racks[name] = bare._replace(stock=read_stock(node["stock"], bare, desk))
    return racks


def read_stock(stock: Map, rack: Rack, desk: Desk) -> tuple[tuple[str, int, int], ...]:
    """(mass as written, parts, how many), heaviest first; a mass that is no whole number of parts is a finding."""
    pieces: list[tuple[str, int, int]] = []
    known: set[int] = set()
    unit = rack.unit.text
    for written, count in stock.items():
        top, bottom = quotient(float(written))
        parts, rest = divmod(top * rack.parts, bottom)
        if rest or not 0 < parts < MOST_PARTS:
            hint = f"Write it with {len(str(rack.parts)) - 1} digits after the point at most, or in a smaller unit."
            message = f"a piece of {written} {unit} is no whole number of {rack.part}"
            desk.at_key("stock-form", message, stock, written, hint)
        elif parts in known:
            desk.at_key("stock-form", f"pieces of {written} {unit} are listed twice", stock, written)
        else:
            known.add(parts)
            pieces.append((written, parts, int(count)))
    return tuple(sorted(pieces, key=lambda piece: -piece[1]))


def read_states(root: Map, desk: Desk) -> dict[str, TrackedState]:
    """Tracked states by name."""
    nodes: Map | dict[str, Map] = root.get("states", {})
    return {name: read_state(root["states"], name, desk) for name in nodes}


def read_state(states: Map, name: str, desk: Desk) -> TrackedState:
    """One tracked state."""
    node: Map = states[name]
    of = desk.different(node["of"], "value")
    if "unknown" in of:
        hint = "A state is unknown by itself when nobody vouches for it."
        desk.at_value("unknown-as-value", "`unknown` is no value of a state", node["of"], of.index("unknown"), hint)
    at_start = (
        UNKNOWN if text(node, "at_start", "unknown") == "unknown" else value_index(node, "at_start", name, of, desk)
    )
    at_end = value_index(node, "at_end", name, of, desk) if "at_end" in node else None
    label = text(node, "label", name.replace("_", " "))
    return TrackedState(
        name, label, of, at_start, at_end, flag(node, "one_owner"), flag(node, "keeps"), key_place(states, name)
    )


def value_index(node: Map, key: str, state: str, of: tuple[str, ...], desk: Desk) -> int:
    """The index of the value that a key names; UNKNOWN after a finding."""
    value = text(node, key)
    if value in of:
        return of.index(value)
    desk.missing("unknown-value", f"value of `{state}` called", value, of, node, key)
    return UNKNOWN
