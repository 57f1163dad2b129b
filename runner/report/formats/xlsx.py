"""A document as a workbook (Office Open XML, ISO/IEC 29500): a sheet for each part, its tables one below the other.

Every text is a text cell, whatever it begins with: nothing in it is worked out by a spreadsheet. The same document gives
the same bytes: no time of writing stands in the file. Drawings are left out, as in csv.
"""

import re
from importlib import import_module
from io import BytesIO
from typing import Any, NamedTuple
from zipfile import ZIP_DEFLATED, ZipFile, ZipInfo

from runner.procedure.clean import clean
from runner.report.document import Block, Document, Facts, Heading, Listing, Note, Pictures, Table, lines_of
from runner.report.formats.csv import TONES, is_number
from runner.report.formats.format import Format, Missing

Library = Any
"""Of openpyxl, which has no types of its own and is loaded where a workbook is made."""
LONGEST = 32767
"""Characters that a cell holds (the format's own limit; from memory)."""
NAME_LONGEST = 31
"""Characters of a sheet's name (the same)."""
NOT_IN_A_NAME = re.compile(r"[\[\]:*?/\\']")
WHEN = (1980, 1, 1, 0, 0, 0)
"""The earliest time that a zip archive can hold stands for all of its parts."""
TIME = re.compile(rb"(<dcterms:(?:created|modified)[^>]*>)[^<]*(<)")
FLAG = "see"
FILLS = {"heads": "FFF3F5F7", "flagged": "FFFDF0EF"}
WIDE, NARROW = 60, 8
"""Widths of columns, in characters, at most and at least."""


class Line(NamedTuple):
    """A row of a sheet."""

    cells: tuple[str, ...]
    look: str = ""
    """title, heads, flagged, or empty."""
    numeric: frozenset[int] = frozenset()


def render(document: Document) -> bytes:
    """The file's bytes."""
    try:
        book: Library = import_module("openpyxl").Workbook()
    except ImportError:
        raise Missing("xlsx", "xlsx") from None
    while book.worksheets:
        book.remove(book.worksheets[0])
    for name, lines in parts_of(document):
        fill(book.create_sheet(sheet_name(name, book)), lines)
    file = BytesIO()
    book.properties.title, book.properties.creator = clean(document.title), "changeover"
    book.save(file)
    return stable(file.getvalue())


def parts_of(document: Document) -> list[tuple[str, list[Line]]]:
    """(name, rows) of each sheet; the mark and the caution stand first on the first one."""
    first: list[Line] = [Line((document.mark,), "title")] if document.mark else []
    first.append(Line((document.title,), "title"))
    parts = [("Run", first)]
    for block in document.blocks:
        if isinstance(block, Heading) and block.level <= 2:
            parts.append((block.text, [Line((document.mark,), "title")] if document.mark else []))
        else:
            parts[-1][1].extend(lines_of_block(block))
    if document.running:
        parts[0][1].append(Line((document.running,)))
    return parts


def lines_of_block(block: Block) -> list[Line]:
    """The rows of one block, and an empty one behind a table."""
    match block:
        case Heading():
            return [Line((block.text,), "title")]
        case Facts():
            return [*(Line((name, joined(said))) for name, said in block.rows), Line(())]
        case Table():
            flagged = ("",) if block.marks else ()
            shift = len(flagged)
            numeric = frozenset(at + shift for at in block.numeric)
            lines = [Line((block.caption,), "title"), Line((*flagged, *block.columns), "heads")]
            for at, row in enumerate(block.rows):
                flag = (FLAG if at in block.marks else "",) if block.marks else ()
                look = "flagged" if at in block.marks else ""
                lines.append(Line((*flag, *(joined(cell) for cell in row)), look, numeric))
            return [*lines, Line(())]
        case Note():
            tone = TONES.get(block.tone, block.tone)
            return [Line((f"{tone}: {block.text}" if tone else block.text,))]
        case Listing():
            return [*(Line((point,)) for point in block.points), Line(())]
        case Pictures():
            return [Line((f"Drawing, not in this sheet: {picture.caption}",)) for picture in block.pictures]


def joined(cell: str | tuple[str, ...]) -> str:
    """A cell of several lines, with its line breaks."""
    return "\n".join(clean(line) for line in lines_of(cell))


def fill(sheet: Library, lines: list[Line]) -> None:
    """Put the rows into a sheet."""
    styles: Library = import_module("openpyxl.styles")
    top, bold = styles.Alignment(wrap_text=True, vertical="top"), styles.Font(bold=True)
    looks = {kind: styles.PatternFill("solid", fgColor=colour) for kind, colour in FILLS.items()}
    widths: dict[int, int] = {}
    for at, line in enumerate(lines, start=1):
        for across, text in enumerate(line.cells, start=1):
            if not text:
                continue
            cell = sheet.cell(row=at, column=across)
            shown = text if "\n" in text else clean(text)
            if across - 1 in line.numeric and is_number(shown):
                cell.value = float(shown) if "." in shown else int(shown)
            else:
                cell.value = shown[:LONGEST]
                cell.data_type = "s"  # a text stays one, with an equals sign in front as well
            single = len(line.cells) == 1
            cell.alignment = styles.Alignment(vertical="top") if single else top
            if line.look in ("title", "heads"):
                cell.font = bold
            if line.look in looks:
                cell.fill = looks[line.look]
            if not single:
                longest = max(map(len, shown.split("\n")))
                widths[across] = max(widths.get(across, NARROW), min(WIDE, longest + 2))
    for across, width in widths.items():
        sheet.column_dimensions[column_letter(across)].width = width
    sheet.page_setup.orientation, sheet.page_setup.paperSize = "landscape", sheet.PAPERSIZE_A4
    sheet.page_setup.fitToHeight = 0
    sheet.sheet_properties.pageSetUpPr.fitToPage = True


def column_letter(across: int) -> str:
    """A column's letters."""
    utils: Library = import_module("openpyxl.utils")
    return str(utils.get_column_letter(across))


def sheet_name(name: str, book: Library) -> str:
    """A name that a workbook takes, and that no other sheet has."""
    plain = NOT_IN_A_NAME.sub(" ", clean(name)).strip()[:NAME_LONGEST] or "Sheet"
    taken = {sheet.title.casefold() for sheet in book.worksheets}
    found, number = plain, 1
    while found.casefold() in taken:
        number += 1
        found = f"{plain[: NAME_LONGEST - 4]} {number}"
    return found


def stable(written: bytes) -> bytes:
    """The same archive with its parts in order and without times."""
    file = BytesIO()
    with ZipFile(BytesIO(written)) as old, ZipFile(file, "w", ZIP_DEFLATED) as new:
        for name in old.namelist():
            content = TIME.sub(rb"\g<1>1980-01-01T00:00:00Z\g<2>", old.read(name))
            info = ZipInfo(name, WHEN)
            info.compress_type, info.create_system, info.external_attr = ZIP_DEFLATED, 0, 0
            new.writestr(info, content)
    return file.getvalue()


FORMAT = Format(
    "xlsx", ".xlsx", render, "a workbook, a sheet for each part (needs the extra xlsx)", "xlsx", binary=True
)
