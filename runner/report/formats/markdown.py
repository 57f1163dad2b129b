"""A document as Markdown: CommonMark with the tables of GitHub Flavored Markdown (both from memory).

Every character that Markdown, its HTML or its automatic links could act on is escaped, so that a text stands as it was
written. A line break within a cell is the one HTML tag that is written, and it is ours.
"""

import re
from collections.abc import Iterable
from typing import assert_never

from runner.procedure.clean import clean
from runner.report.document import Block, Cell, Document, Facts, Heading, Listing, Note, Pictures, Table, lines_of
from runner.report.formats.format import Format

ACTING = re.compile(r"[\\`*_{}\[\]<>#|~&!$@^]|:(?=//)|(?<=www)\.", re.IGNORECASE)
"""Characters that may begin emphasis, code, a link, a tag, an entity, a table cell, a formula or a mention."""

FIRST = re.compile(r"^(\s*)([-+=]|\d{1,9}(?=[.)]))")
"""What would make a list or an underline of a line that begins with it."""

TONES = {"plain": "", "caution": "> **⚠ Caution.** ", "problem": "> **▲ Problem.** "}


def render(document: Document) -> bytes:
    """UTF-8, blocks parted by an empty line."""
    mark = [f"**{escaped(document.mark)}**"] if document.mark else []
    parts = [*mark, f"# {escaped(document.title)}", *map(block_text, document.blocks)]
    if document.caution:
        parts += ["---", TONES["caution"] + escaped(document.caution)]
    if document.running:
        parts.append(line_text(document.running))
    return ("\n\n".join(part for part in [*parts, *mark] if part) + "\n").encode()


def block_text(block: Block) -> str:
    """The lines of one block."""
    match block:
        case Heading():
            return f"{'#' * max(2, min(6, block.level))} {escaped(block.text)}"
        case Facts():
            return lines(f"- **{escaped(name) or ' '}:** {cell_text(said)}" for name, said in block.rows)
        case Table():
            return table_text(block)
        case Note():
            start = TONES.get(block.tone, "")
            return start + escaped(block.text) if start else line_text(block.text)
        case Listing():
            return lines(f"- {line_text(point)}" for point in block.points)
        case Pictures():
            return "\n\n".join(drawing(picture.caption, picture.lines) for picture in block.pictures)
        case _:
            assert_never(block)


def table_text(table: Table) -> str:
    """The caption, then the rows; numbers line up on the right, a marked row says so in its first cell."""
    rule = ("---:" if at in table.numeric else "---" for at in range(len(table.columns)))
    rows = [[escaped(column) for column in table.columns], list(rule)]
    for at, row in enumerate(table.rows):
        first = "**▲ see** " if at in table.marks else ""
        rows.append([(first if not number else "") + cell_text(cell) for number, cell in enumerate(row)])
    return f"**{escaped(table.caption)}**\n\n" + lines("| " + " | ".join(row) + " |" for row in rows)


def drawing(caption: str, drawn: tuple[str, ...]) -> str:
    """A drawing in characters, as code: its fence is longer than any row of backticks in it."""
    shown = [clean(line) for line in drawn]
    fence = "`" * max([3, *(len(found) + 1 for line in shown for found in re.findall("`+", line))])
    return lines([line_text(caption), "", f"{fence}text", *shown, fence])


def cell_text(cell: Cell) -> str:
    """The lines of a cell with a break between them."""
    return "<br>".join(map(escaped, lines_of(cell)))


def line_text(text: str) -> str:
    """A text that stands at the beginning of a line: neither a list nor an underline comes of it."""
    return FIRST.sub(first_escaped, escaped(text).strip())


def first_escaped(found: re.Match[str]) -> str:
    """The sign escaped; of a number it is the sign behind it that makes a list."""
    blank, sign = found.groups()
    return f"{blank}{sign}\\" if sign.isdigit() else f"{blank}\\{sign}"


def escaped(text: str) -> str:
    """A text in which nothing acts: on a terminal, in Markdown or in HTML."""
    return ACTING.sub(lambda found: "\\" + found.group(), clean(text))


def lines(parts: Iterable[str]) -> str:
    """Parts below each other."""
    return "\n".join(parts)


FORMAT = Format("markdown", ".md", render, "Markdown with tables, for notes and tickets")
