"""A document as plain text in 80 columns, for terminals, mail and printers.

Tables line up in columns where their words fit; a table that is too wide for that is written row by row, a line a
column. Marked rows begin with `!`. Widths are counted in terminal cells, so wide characters line up too.
"""

from collections.abc import Sequence
from typing import assert_never

from rich.cells import cell_len, chop_cells

from runner.procedure.clean import clean
from runner.report.document import Block, Cell, Document, Facts, Heading, Listing, Note, Pictures, Table, lines_of
from runner.report.formats.format import Format

WIDTH = 80
GAP = 2
"""Blank cells between columns."""
LONGEST_WORD = 20
"""A word longer than this may be broken to keep a table in columns."""
SHORT_LINE = 11
"""A line of at most so many cells, such as `10 min 01 s`, is never broken in a table."""
HIGHEST_ROW = 8
"""A table whose rows would take more lines than this in columns is written row by row."""

TONES = {"plain": "", "caution": "CAUTION: ", "problem": "! "}


def render(document: Document) -> bytes:
    """UTF-8, no line over 80 cells, no control character but the line end."""
    lines = [*banner(document.mark), *wrapped(clean(document.title), WIDTH)]
    lines.append("=" * min(WIDTH, max(cell_len(line) for line in lines[-2:])))
    for block in document.blocks:
        lines += ["", *block_lines(block)]
    if document.caution:
        lines += ["", *wrapped(TONES["caution"] + clean(document.caution), WIDTH)]
    if document.running:
        lines += ["", *wrapped(clean(document.running), WIDTH)]
    if document.mark:
        lines += ["", *banner(document.mark)[:-1]]
    return ("\n".join(line.rstrip() for line in lines) + "\n").encode()


def banner(mark: str) -> list[str]:
    """The mark between two rules, and a blank line; nothing for no mark."""
    if not mark:
        return []
    return ["#" * WIDTH, *(f"##  {line}" for line in wrapped(clean(mark), WIDTH - 4)), "#" * WIDTH, ""]


def block_lines(block: Block) -> list[str]:
    """The lines of one block."""
    match block:
        case Heading():
            text = clean(block.text)
            lines = wrapped(text.upper() if block.level <= 2 else text, WIDTH)
            return [*lines, ("=" if block.level <= 2 else "-") * min(WIDTH, max(map(cell_len, lines)))]
        case Facts():
            return facts_lines(block)
        case Table():
            return table_lines(block)
        case Note():
            return wrapped(TONES.get(block.tone, "") + clean(block.text), WIDTH)
        case Listing():
            return [line for point in block.points for line in hanging("- ", clean(point), WIDTH)]
        case Pictures():
            return picture_lines(block)
        case _:
            assert_never(block)


def picture_lines(block: Pictures) -> list[str]:
    """Each drawing under its caption."""
    lines: list[str] = []
    for picture in block.pictures:
        lines += [*([""] if lines else []), *wrapped(clean(picture.caption), WIDTH), *map(clean, picture.lines)]
    return lines


def facts_lines(facts: Facts) -> list[str]:
    """Names in one column, what they are in the next."""
    width = min(34, max((cell_len(clean(name)) for name, _ in facts.rows), default=0))
    room = WIDTH - width - GAP
    lines: list[str] = []
    for name, said in facts.rows:
        left = wrapped(clean(name), width)
        if longest_word(said) > room:  # a digest stays whole, on a line of its own
            lines += [*left, *("    " + line for line in cell_lines(said, WIDTH - 4))]
        else:
            lines += beside([left, cell_lines(said, room)], [width, room], frozenset())
    return lines


def table_lines(table: Table) -> list[str]:
    """Caption, then columns, or row by row where they do not fit."""
    caption = wrapped(clean(table.caption), WIDTH)
    caption.append("-" * min(WIDTH, max(map(cell_len, caption))))
    flagged = bool(table.marks)
    room = WIDTH - (2 if flagged else 0)
    widths = column_widths(table, room)
    if widths is None:
        return [*caption, *stacked_lines(table)]
    head = beside([wrapped(clean(column), width) for column, width in zip(table.columns, widths, strict=True)],
                  widths, table.numeric)  # fmt: skip
    lines = [*head, *beside([["-" * width] for width in widths], widths, frozenset())]
    shown = [("  " if flagged else "") + line for line in lines]
    several = False
    for i, row in enumerate(table.rows):
        cells = [cell_lines(cell, width) for cell, width in zip(row, widths, strict=True)]
        if several:
            shown.append("")
        several = any(len(cell) > 1 for cell in cells)
        first = "! " if i in table.marks else "  "
        for j, line in enumerate(beside(cells, widths, table.numeric)):
            shown.append(((first if j == 0 else "  ") if flagged else "") + line)
    return [*caption, "", *shown]


def column_widths(table: Table, room: int) -> list[int] | None:
    """Widths that hold every word and every short line and keep rows low; None where there are none."""
    columns = range(len(table.columns))
    cells = [[table.columns[i], *(row[i] for row in table.rows)] for i in columns]
    least = [
        max([*(min(LONGEST_WORD, widest_word(cell)) for cell in cells[i]),
             *(longest_line(row[i], SHORT_LINE) for row in table.rows)])
        for i in columns
    ]  # fmt: skip
    wanted = [max(longest_line(cell) for cell in cells[i]) for i in columns]
    spare = room - GAP * (len(table.columns) - 1) - sum(least)
    if spare < 0:
        return None
    widths = list(least)
    while spare > 0 and any(widths[i] < wanted[i] for i in columns):
        # one cell at a time to the column that would wrap most
        neediest = max(columns, key=lambda i: wanted[i] / widths[i])
        widths[neediest] += 1
        spare -= 1
    highest = max((len(cell_lines(row[i], widths[i])) for row in table.rows for i in columns), default=0)
    return widths if highest <= HIGHEST_ROW else None


def stacked_lines(table: Table) -> list[str]:
    """Each row as a small list: the first cell, then `column: what stands there`."""
    lines: list[str] = []
    for i, row in enumerate(table.rows):
        first = "! " if i in table.marks else "  "
        lines.append("")
        for j, (column, cell) in enumerate(zip(table.columns, row, strict=True)):
            name = f"{first if j == 0 else '    '}{clean(column)}: "
            parts = lines_of(cell)
            lines += hanging(name, clean(parts[0]), WIDTH)
            for part in parts[1:]:
                lines += hanging(" " * 8, clean(part), WIDTH)
    return lines


def longest_word(cell: Cell) -> int:
    """Cells of the longest word."""
    return max((cell_len(word) for line in lines_of(cell) for word in clean(line).split()), default=1)


def widest_word(cell: Cell) -> int:
    """Cells that a column needs so that no word is broken: in a cell of several lines, what goes on is set in by one."""
    parts = [clean(line).split() for line in lines_of(cell)]
    if len(parts) < 2:
        return longest_word(cell)
    return max((cell_len(word) + (at > 0) for words in parts for at, word in enumerate(words)), default=1)


def longest_line(cell: Cell, at_most: int | None = None) -> int:
    """Cells of the longest line, or of the longest that has at most so many."""
    lengths = [cell_len(clean(line)) for line in lines_of(cell)]
    return max([1, *(length for length in lengths if at_most is None or length <= at_most)])


def cell_lines(cell: Cell, width: int) -> list[str]:
    """A cell wrapped to a width; a line of a cell of several hangs by one where it goes on."""
    parts = lines_of(cell)
    if len(parts) == 1:
        return wrapped(clean(parts[0]), width)
    return [line for part in parts for line in hanging("", clean(part), width, " ")]


def wrapped(text: str, width: int) -> list[str]:
    """Clean text in lines of at most so many cells, broken at blanks, else inside a word."""
    return hanging("", text, width)


def hanging(start: str, text: str, width: int, indent: str | None = None) -> list[str]:
    """The same behind a start; lines after the first are set in by `indent`, or as far as the start reaches."""
    inset = " " * min(cell_len(start), width // 3) if indent is None else indent
    lines: list[str] = []
    line, empty = start, True
    for word in text.split(" "):
        gap = "" if empty else " "
        if cell_len(line) + len(gap) + cell_len(word) <= width:
            line, empty = line + gap + word, False
            continue
        if not empty:
            lines.append(line)
            line, empty = inset, True
        if cell_len(line) + cell_len(word) > width:
            first, *others = broken(word, width - cell_len(line), width - cell_len(inset))
            for piece in others:
                lines.append(line + first)
                line, first = inset, piece
            word = first
        line, empty = line + word, False
    return [*lines, line]


def broken(word: str, first: int, others: int) -> list[str]:
    """A word that fits on no line, in pieces; the first line may have less room."""
    pieces = chop_cells(word, max(2, first))
    if len(pieces) < 2:
        return pieces or [""]
    return [pieces[0], *chop_cells(word[len(pieces[0]) :], max(2, others))]


def beside(cells: Sequence[Sequence[str]], widths: Sequence[int], right: frozenset[int]) -> list[str]:
    """Columns of lines set side by side."""
    lines: list[str] = []
    for i in range(max(map(len, cells))):
        parts = []
        for j, width in enumerate(widths):
            part = cells[j][i] if i < len(cells[j]) else ""
            blank = " " * max(0, width - cell_len(part))
            parts.append(blank + part if j in right else part + blank)
        lines.append((" " * GAP).join(parts).rstrip())
    return lines


FORMAT = Format("text", ".txt", render, "plain text in 80 columns")
