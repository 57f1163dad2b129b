"""CSV: read back by the standard library it is the document, and no cell of it is a formula."""

import csv
from io import StringIO

import pytest

from runner.report.contents.run_record import CAUTION
from runner.report.document import Document, Facts, Heading, Note, Table
from runner.report.formats.csv import ACTING, FLAG, cell, render
from tests.report.documents import DOCUMENTS, full, without_end


def rows(document: Document) -> list[list[str]]:
    return list(csv.reader(StringIO(render(document).decode(), newline="")))


# OWASP, CSV Injection: a cell that begins with one of = + - @, tab or carriage return (from memory)
@pytest.mark.parametrize("start", [*ACTING, " =", "\t=", "\r@", "\n+"])
def test_no_cell_of_somebodys_words_is_a_formula(start: str) -> None:
    words = f'{start}HYPERLINK("x")'
    document = Document(
        words, (Heading(words), Facts(((words, (words, words)),)), Table(words, (words,), ((words,),))), mark=words
    )
    shown = [part for row in rows(document) for part in row if "HYPERLINK" in part]
    assert len(shown) > 8
    assert all(part[0] not in (*ACTING, "\t", "\r") for part in shown)
    assert not any(character in render(document) for character in (b"\t", b"\x00"))


@pytest.mark.parametrize("number", ["-3.5", "+2", "12"])
def test_a_number_keeps_its_sign(number: str) -> None:
    assert cell(number) == number


@pytest.mark.parametrize("words", ["-3.5 s", "-1+1", "--1", "-1-1"])
def test_what_only_begins_like_a_number_is_text(words: str) -> None:
    assert cell(words) == f"'{words}"


def test_a_table_comes_back_as_it_was() -> None:
    table = Table("Caption", ("No.", 'What "was"'), (("1", ("a, b", "c")), ("2", "d")), frozenset({1}))
    assert rows(Document("Title", (table,)))[1:] == [
        ["Caption", "", "No.", 'What "was"'], ["Caption", "", "1", "a, b; c"], ["Caption", FLAG, "2", "d"],
    ]  # fmt: skip


def test_lines_end_as_rfc_4180_says() -> None:
    assert render(Document("Title", (Note("words"),))).endswith(b"words\r\n")


def test_the_mark_stands_first_and_last_and_the_caution_twice() -> None:
    shown = rows(without_end())
    assert shown[0] == shown[-1]
    assert shown[0][0] == "Mark"
    assert "DRY RUN" in shown[0][2]
    assert sum(CAUTION in row for row in shown) == 2


@pytest.mark.parametrize("name", DOCUMENTS)
def test_every_marked_row_of_the_document_is_marked(name: str) -> None:
    document = DOCUMENTS[name]()
    marked = sum(len(block.marks) for block in document.blocks if isinstance(block, Table))
    assert sum(row[1] == FLAG for row in rows(document)) == marked


def test_exceptions_can_be_filtered_by_their_part() -> None:
    found = [row for row in rows(full()) if row[0] == "Exceptions"]
    assert found[0][2] == "No."
    assert [row[2] for row in found[1:]] == [str(number) for number in range(1, len(found))]
