"""The formats of times, by name: those of every report, and tables for spreadsheets.

The csv has one part a table, its header first, parted by empty lines; a cell that a spreadsheet would work out is made
harmless as in the arithmetic.
"""

import csv
from collections.abc import Mapping
from io import StringIO
from typing import Any

from runner.report.document import Document
from runner.report.formats import FORMATS
from runner.report.formats.csv import cell
from runner.report.formats.format import Format


def as_csv(document: Document) -> bytes:
    """UTF-8, RFC 4180: the tables of the document's plain data, times in s. The first columns name procedure and table."""
    file = StringIO(newline="")
    writer = csv.writer(file, lineterminator="\r\n")
    data: Any = document.data
    parts = 0
    for procedure in data["procedures"]:
        for key, rows in procedure.items():
            if not isinstance(rows, list) or not rows:
                continue
            if parts:
                file.write("\r\n")
            parts += 1
            writer.writerow([cell(head) for head in ("procedure", "table", *rows[0])])
            for row in rows:
                writer.writerow([cell(field) for field in (procedure["procedure"], key, *map(flat, row.values()))])
    return file.getvalue().encode()


def flat(field: object) -> str | float | int | None:
    """A field as a cell: truth values as words."""
    if isinstance(field, bool):
        return "yes" if field else "no"
    if field is None or isinstance(field, str | int | float):
        return field
    return str(field)


FORMS: Mapping[str, Format] = {
    **FORMATS,
    "csv": Format("csv", ".csv", as_csv, "tables for spreadsheets (RFC 4180), times in s"),
}
"""The one list of them."""
