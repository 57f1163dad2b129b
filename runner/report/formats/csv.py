"""A document as one table for spreadsheets: RFC 4180, UTF-8; each row says first which part of the document it is of.

A text cell that a spreadsheet would take for a formula gets an apostrophe in front, so that nothing in it is worked out
there; a number keeps its sign. Drawings are left out: a cell has no room for them.
"""

import csv
from collections.abc import Iterator
from io import StringIO
from typing import assert_never

from runner.procedure.clean import clean
from runner.report.document import Block, Cell, Document, Facts, Heading, Listing, Note, Pictures, Table, lines_of
from runner.report.formats.format import Format

ACTING = ("=", "+", "-", "@", "＝", "＋", "－", "＠")
"""First characters at which a spreadsheet begins to work something out (OWASP, CSV Injection; from memory). Tab and line
ends belong to them too: `clean` leaves none."""

Field = str | float | int | None

FLAG = "see"
"""In the second column of a row that a reviewer must not miss."""

TONES = {"plain": "", "caution": "Caution", "problem": "Problem"}


def render(document: Document) -> bytes:
    """UTF-8 with CR LF line ends. Columns: the part, the flag, then what stands in the document; a table has its heads first."""
    file = StringIO(newline="")
    writer = csv.writer(file, lineterminator="\r\n")
    writer.writerows([cell(field) for field in row] for row in rows_of(document))
    return file.getvalue().encode()


def rows_of(document: Document) -> Iterator[tuple[str, ...]]:
    """All rows; the mark and the caution stand first and last, as in every format."""
    mark = (("Mark", "", document.mark),) if document.mark else ()
    yield from mark
    yield ("Title", "", document.title)
    part = "Title"
    for block in document.blocks:
        if isinstance(block, Heading):
            part = block.text
        yield from block_rows(part, block)
    if document.caution:
        yield ("Caution", "", document.caution)
    if document.running:
        yield ("Title", "", document.running)
    yield from mark


def block_rows(part: str, block: Block) -> Iterator[tuple[str, ...]]:
    """The rows of one block."""
    match block:
        case Heading():
            pass  # its words stand in the first column of what follows
        case Facts():
            yield from ((part, "", name, one_cell(said)) for name, said in block.rows)
        case Table():
            yield (block.caption, "", *block.columns)
            for at, row in enumerate(block.rows):
                yield (block.caption, FLAG if at in block.marks else "", *map(one_cell, row))
        case Note():
            yield (part, TONES.get(block.tone, block.tone), block.text)
        case Listing():
            yield from ((part, "", point) for point in block.points)
        case Pictures():
            yield from ((part, "", f"Drawing, not in this table: {picture.caption}") for picture in block.pictures)
        case _:
            assert_never(block)


def one_cell(said: Cell) -> str:
    """A cell of several lines in one; a line break within a cell is no use to a filter."""
    return "; ".join(line for line in lines_of(said) if line)


def cell(field: Field) -> str:
    """A field made harmless."""
    if field is None:
        return ""
    if isinstance(field, float | int):
        return repr(field)
    text = clean(field)
    return f"'{text}" if text.lstrip().startswith(ACTING) and not is_number(text) else text


def is_number(text: str) -> bool:
    """Whether a spreadsheet takes a text for a plain number."""
    return text.lstrip("+-").replace(".", "", 1).isdecimal() and text.isascii() and text[1:2] not in ("+", "-")


FORMAT = Format("csv", ".csv", render, "one table for spreadsheets, in which no cell is a formula")
