"""The table of a sweep as cells: a column a value, a row a place. Numbers of a column line up at their points.

A cell out of limits has its sign and word beside the number, and one without a result has them in the number's place. No
digit is ever cut off: a table that is too wide is set in blocks, each with the swept value first.
"""

from dataclasses import dataclass

from rich import box
from rich.cells import cell_len
from rich.table import Table
from rich.text import Text

from runner.formula.quantity import shown_number
from runner.procedure.working import Worked
from runner.report.working.marks import Signs
from runner.report.working.plot import ALARM, QUIET
from runner.report.working.swept import Swept

GAP = 2
"""Blank cells between columns."""
EACH_END = "each end"
"""What stands under the name of pieces where they are told."""


@dataclass(frozen=True, slots=True)
class Shown:
    """One column."""

    head: tuple[str, ...]
    cells: tuple[str, ...]
    marked: frozenset[int] = frozenset()
    """Rows that are out of limits or without a result."""

    left: bool = False
    """Set to the left, as texts are."""

    @property
    def width(self) -> int:
        """Cells that it takes."""
        return max(map(cell_len, (*self.head, *self.cells)))


def columns_of(swept: Swept, signs: Signs) -> list[Shown]:
    """All columns, the swept value first."""
    unit = swept.sweep.unit
    if unit is None:
        first = Shown(
            (signs.fit(swept.sweep.source.name),), tuple(signs.fit(one.shown) for one in swept.sweep.given), left=True
        )
    else:
        numbers = [shown_number(unit.magnitude(float(one.value))) for one in swept.sweep.given]
        first = Shown(head_of(swept.sweep.source.name, unit.text, signs), tuple(pointed(numbers)))
    return [first, *(column for name in swept.names for column in value_columns(swept, name, signs))]


def value_columns(swept: Swept, name: str, signs: Signs) -> list[Shown]:
    """The column of a value; for pieces a second one with what hangs at each end."""
    along = swept.along(name)
    marks = [signs.verdict(found.verdict) for found in along]
    behind = [
        1 + cell_len(mark) for found, mark in zip(along, marks, strict=True) if mark and found.verdict != "failed"
    ]
    widest = max(behind, default=0)
    numbers = pointed([number_of(found) for found in along])
    cells = [
        (mark if found.verdict == "failed" else f"{number} {mark}" if mark else number + " " * widest)
        for found, number, mark in zip(along, numbers, marks, strict=True)
    ]
    marked = frozenset(row for row, mark in enumerate(marks) if mark)
    columns = [Shown(head_of(name, along[0].unit, signs), tuple(cells), marked)]
    if any(found.ends for found in along):
        columns.append(Shown((name, EACH_END), tuple(signs.fit(pieces_words(found)) for found in along), marked, True))
    return columns


def head_of(name: str, unit: str, signs: Signs) -> tuple[str, ...]:
    """Name, and the unit under it."""
    return (name,) if unit in ("", "1") else (name, signs.fit(unit))


def number_of(found: Worked) -> str:
    """The number in its unit; nothing where there is none."""
    return "" if found.magnitude is None else shown_number(found.magnitude)


def pointed(numbers: list[str]) -> list[str]:
    """Numbers with blanks behind them, so that their points line up where they are set to the right."""
    behind = [len(number) - number.find(".") if "." in number else 0 for number in numbers]
    most = max(behind, default=0)
    return [number + " " * (most - part) for number, part in zip(numbers, behind, strict=True)]


def pieces_words(found: Worked) -> str:
    """`1x5 + 3x3` where the ends are alike, else each end: `1x5 | 2x3`."""
    ends = [" + ".join(f"{count}x{piece}" for piece, count in end) or "nothing" for end in found.ends]
    return ends[0] if len(set(ends)) == 1 else " | ".join(ends)


def blocks_of(columns: list[Shown], width: int) -> list[list[Shown]]:
    """Columns in blocks that fit side by side, the first column in each."""
    first, *others = columns
    blocks: list[list[Shown]] = []
    used = width + 1
    for column in others:
        if used + GAP + column.width > width:
            blocks.append([first])
            used = first.width
        blocks[-1].append(column)
        used += GAP + column.width
    return blocks or [[first]]


def tables_of(swept: Swept, width: int, signs: Signs) -> list[Table]:
    """The table, in blocks."""
    return [table_of(block, signs) for block in blocks_of(columns_of(swept, signs), width - 1)]


def table_of(block: list[Shown], signs: Signs) -> Table:
    """One block for the terminal. Every cell is a `Text`: nothing in it is markup."""
    table = Table(
        box=box.Box("    \n    \n -- \n    \n    \n    \n    \n    \n", ascii=True) if signs.plain else box.SIMPLE_HEAD,
        show_edge=False,
        pad_edge=False,
        padding=(0, GAP - 1, 0, 0),  # the box itself puts one more between columns
        header_style="bold",
    )
    for at, column in enumerate(block):
        head = Text("\n".join(set_to(column, part) for part in column.head))
        table.add_column(head, no_wrap=True, min_width=column.width, style=QUIET if at == 0 else "")
    for row in range(len(block[0].cells)):
        cells = (Text(set_to(column, column.cells[row]), ALARM if row in column.marked else "") for column in block)
        table.add_row(*cells)
    return table


def set_to(column: Shown, text: str) -> str:
    """A cell set to the right where it is a number; blanks behind it stay."""
    return text if column.left else " " * (column.width - cell_len(text)) + text
