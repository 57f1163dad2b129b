"""One idea of a report, once: rows of plain data, and the columns that show them.

The rows go into the json as they are and the columns turn the same rows into cells, so the formats cannot disagree.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from runner.engine.events import Event
from runner.report.contents.words import NOTHING, moment_words, terminal_words
from runner.report.document import Block, Cell, Note, Table

Row = dict[str, Any]
"""Plain data: text, numbers, truth values, None, and lists and dicts of those."""


@dataclass(frozen=True, slots=True)
class Column:
    """A head, and the key of the row that stands under it or a function that says it."""

    head: str
    says: str | Callable[[Row], Cell]
    numeric: bool = False


def never(_: Row) -> bool:
    """No row is marked."""
    return False


@dataclass(frozen=True, slots=True)
class Section:
    """Rows of one kind and how to show them."""

    key: str
    """The name of the rows in the json."""
    caption: str
    columns: tuple[Column, ...]
    rows: tuple[Row, ...]
    none: str
    """What to say where there are no rows."""
    mark: Callable[[Row], bool] = never
    """Which rows a reviewer must not miss."""
    marked: str = ""
    """What a summary calls the marked rows: `3, 2 open`."""


def cell_of(column: Column, row: Row) -> Cell:
    """What stands in a column for a row."""
    if not isinstance(column.says, str):
        said = column.says(row)
        return said if said not in ("", ()) else NOTHING
    value = row[column.says]
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, list):
        return tuple(str(part) for part in value) or NOTHING
    return NOTHING if value is None or value == "" else str(value)


def blocks_of(section: Section) -> tuple[Block, ...]:
    """The section as a table, or as a sentence where it has no rows."""
    if not section.rows:
        return (Note(section.none),)
    return (
        Table(
            caption=section.caption,
            columns=tuple(column.head for column in section.columns),
            rows=tuple(tuple(cell_of(column, row) for column in section.columns) for row in section.rows),
            marks=frozenset(i for i, row in enumerate(section.rows) if section.mark(row)),
            numeric=frozenset(i for i, column in enumerate(section.columns) if column.numeric),
        ),
    )


def data_of(sections: tuple[Section, ...]) -> Mapping[str, list[Row]]:
    """The rows of sections by their keys."""
    return {section.key: list(section.rows) for section in sections}


def stamp(number: int, event: Event) -> Row:
    """The number of an event in the record, when it was, who did it, and where, if at another terminal than the one that
    keeps the record."""
    row = {"event": number, "at": event.at.utc, "by": event.by}
    return {**row, "terminal": event.terminal} if event.terminal else row


def when_and_who(row: Row) -> Cell:
    """The cell of a stamp: moment, person, another terminal, and when it was done where it was entered later from paper."""
    lines = [moment_words(row["at"]), *([row["by"]] if row["by"] else [])]
    if "terminal" in row:
        lines.append(terminal_words(row["terminal"]))
    if "on_paper" in row:
        lines.append(f"LATE: done on paper {moment_words(row['on_paper'])}")
    return tuple(lines) if len(lines) > 1 else lines[0]


def by_cell(row: Row) -> Cell:
    """Who, and at which other terminal."""
    return (row["by"], terminal_words(row["terminal"])) if "terminal" in row else row["by"]


BY = Column("By", by_cell)
WHEN = Column("When (UTC), who", when_and_who)
EVENT = Column("Event", "event", numeric=True)
"""Where the row stands in the record."""


def step_cell(row: Row) -> Cell:
    """Number and id of the step that a row speaks of."""
    return f"{row['step_number']} {row['step']}".strip()


STEP = Column("Step", step_cell)
