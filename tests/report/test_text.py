"""The plain text keeps to 80 columns and lines up, whatever stands in it."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from rich.cells import cell_len

from runner.procedure.clean import clean
from runner.report.document import Document, Facts, Heading, Listing, Note, Table
from runner.report.formats.text import WIDTH, hanging, render, wrapped
from tests.report.documents import DOCUMENTS

WORDS = st.text(st.characters(codec="utf-8"), max_size=120)


@pytest.mark.parametrize("name", DOCUMENTS)
def test_no_line_is_longer_than_80_cells(name: str) -> None:
    assert max(cell_len(line) for line in render(DOCUMENTS[name]()).decode().splitlines()) <= WIDTH


@settings(max_examples=60, deadline=None)
@given(st.lists(WORDS, min_size=6, max_size=6))
def test_any_words_fit_and_stay(words: list[str]) -> None:
    a, b, c, d, e, f = words
    blocks = (
        Heading(a), Facts(((b, c), (d, (e, f)))), Note(a, "problem"), Listing((b, c)),
        Table(d, ("One", "Two", "Three"), ((a, b, c), (d, (e, f), a)), frozenset({1}), frozenset({2})),
    )  # fmt: skip
    shown = render(Document(f, blocks, mark=a, caution=b, running=c)).decode()
    assert all(cell_len(line) <= WIDTH for line in shown.splitlines())
    kept = "".join(shown.split())
    for piece in clean(c).split():
        assert piece[:1] in kept


@given(WORDS, st.integers(10, 80))
def test_wrapping_keeps_every_character_in_order(words: str, width: int) -> None:
    fit = clean(words)
    lines = wrapped(fit, width)
    assert "".join("".join(lines).split(" ")) == "".join(fit.split(" "))
    assert all(cell_len(line) <= width for line in lines)


def test_a_line_that_goes_on_is_set_in() -> None:
    assert hanging("- ", "one two three", 9) == ["- one two", "  three"]


def test_wide_characters_count_as_two_cells() -> None:
    # Unicode Standard Annex 11: East Asian wide characters take two cells.
    assert wrapped("巻巻巻巻巻巻", 10) == ["巻巻巻巻巻", "巻"]


def test_a_table_lines_up_and_marks_its_rows() -> None:
    table = Table("Weights", ("Piece", "Count"), (("5 kg", "3"), ("2.5 kg", "12")), frozenset({1}), frozenset({1}))
    assert render(Document("T", (table,))).decode() == (
        "T\n=\n\nWeights\n-------\n\n  Piece   Count\n  ------  -----\n  5 kg        3\n! 2.5 kg     12\n"
    )


def test_a_digest_is_not_broken() -> None:
    shown = render(Document("T", (Facts((("Digest of the procedure", "0" * 64),)),))).decode()
    assert "0" * 64 in shown


def test_a_date_is_not_broken_in_a_narrow_column() -> None:
    halt = ("2026-11-25 09:57:40", "to 2026-11-25 10:01:40", "10 min 01 s")
    long = "Somebody reached in and the press was stopped by hand before anything else was done"
    columns = ("What", "From, to", "Said", "Unconfirmed", "Event")
    table = Table("Halts", columns, (("stopped", halt, long, "unwind guard: closed", "52"),))
    shown = render(Document("T", (table,))).decode()
    assert shown.count("2026-11-25") == 2
    assert "10 min 01 s" in shown
