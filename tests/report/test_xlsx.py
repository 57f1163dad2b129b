"""The workbook: read back it is the document, no text of it is a formula, and the same document gives the same bytes."""

import sys
from importlib import import_module
from io import BytesIO
from typing import Any
from zipfile import ZipFile

import pytest

from runner.report.document import Document, Facts, Heading, Note, Table
from runner.report.formats.csv import ACTING
from runner.report.formats.format import Missing
from runner.report.formats.xlsx import LONGEST, NAME_LONGEST, render
from tests.report.documents import DOCUMENTS, full

openpyxl: Any = import_module("openpyxl")  # it has no types


def book(document: Document) -> Any:
    return openpyxl.load_workbook(BytesIO(render(document)))


# OWASP, CSV Injection (from memory); a cell of type "f" is a formula: ISO/IEC 29500-1, 18.3.1.40 (from memory)
@pytest.mark.parametrize("start", [*ACTING, "\t=", "\r@", " ="])
def test_no_text_is_a_formula(start: str) -> None:
    words = f'{start}HYPERLINK("x")'
    document = Document(words, (Heading(words), Facts(((words, (words, words)),)), Table(words, (words,), ((words,),))))
    found = [cell for sheet in book(document).worksheets for row in sheet.iter_rows() for cell in row if cell.value]
    assert len(found) > 5
    assert {cell.data_type for cell in found} == {"s"}
    with ZipFile(BytesIO(render(document))) as archive:
        assert not any(b"<f>" in archive.read(name) for name in archive.namelist())


def test_numbers_of_numeric_columns_are_numbers_and_all_else_is_text() -> None:
    table = Table("Caption", ("What", "Event"), (("7", "12"), ("a", "–")), frozenset({1}), frozenset({1}))
    (sheet,) = book(Document("Title", (table,))).worksheets
    assert [[cell.value for cell in row] for row in sheet["A3:C5"]] == [
        [None, "What", "Event"], [None, "7", 12], ["see", "a", "–"],
    ]  # fmt: skip


def test_steps_values_exceptions_and_times_have_sheets() -> None:
    names = book(full()).sheetnames
    assert {"For the reviewer to decide", "Steps", "Answers", "Values worked out", "Times"} <= set(names)
    assert names[0] == "Run"


def test_names_of_sheets_are_allowed_and_differ() -> None:
    # Office Open XML: at most 31 characters, none of [ ] : * ? / \ (from memory)
    document = Document(
        "T", (Heading("a" * 40), Heading("a" * 40), Heading("x/[y]*?"), Heading("'''"), Heading("steps"))
    )
    names = book(document).sheetnames
    assert len({name.casefold() for name in names}) == len(names) == 6
    assert all(len(name) <= NAME_LONGEST and not set(name) & set("[]:*?/\\") for name in names)


def test_a_text_that_no_cell_holds_is_cut() -> None:
    (sheet,) = book(Document("T", (Note("x" * (LONGEST + 10)),))).worksheets
    assert len(sheet["A2"].value) == LONGEST


@pytest.mark.parametrize("name", DOCUMENTS)
def test_the_same_document_gives_the_same_bytes(name: str) -> None:
    assert render(DOCUMENTS[name]()) == render(DOCUMENTS[name]())


def test_without_the_library_it_says_what_to_install(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "openpyxl", None)
    with pytest.raises(Missing, match=r"pip install 'changeover-runner\[xlsx\]'"):
        render(full())
