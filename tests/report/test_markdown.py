"""Markdown: tables that hold, and no text that acts. The rules are those of CommonMark 0.31 and GitHub Flavored Markdown
(backslash escapes 2.4, tables 4.10), from memory; the parser that judges is markdown-it-py, which comes with rich."""

import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from markdown_it import MarkdownIt
from markdown_it.token import Token

from runner.procedure.clean import clean
from runner.report.contents.run_record import CAUTION
from runner.report.document import Document, Heading, Note, Picture, Pictures, Table
from runner.report.formats.markdown import escaped, render
from tests.report.documents import DOCUMENTS, full, without_end

UNESCAPED = re.compile(r"(?<!\\)(?:\\\\)*([`*_\[\]<>#|~&!$@])")
WORDS = st.text(st.characters(codec="utf-8"), max_size=60)


def test_a_table_has_as_many_cells_in_each_row() -> None:
    for name in DOCUMENTS:
        rows = [line for line in render(DOCUMENTS[name]()).decode().split("\n") if line.startswith("|")]
        assert rows
        widths: list[int] = []
        for line in rows:
            cells = len(re.findall(r"(?<!\\)\|", line)) - 1
            if set(line) <= set("|-: "):
                assert widths[-1] == cells
            widths.append(cells)


@pytest.mark.parametrize(
    "text", ["*a*", "_a_", "`a`", "[a](b)", "<b>", "a|b", "&lt;", "![a](b)", "~~a~~", "@a", "$a$", "# a"]
)
def test_what_acts_is_escaped(text: str) -> None:
    assert not UNESCAPED.search(escaped(text))
    assert re.sub(r"\\(.)", r"\1", escaped(text)) == text


def test_an_address_makes_no_link() -> None:
    assert escaped("http://a www.b") == r"http\://a www\.b"


@pytest.mark.parametrize(
    ("text", "shown"), [("- a", r"\- a"), ("+ a", r"\+ a"), ("1. a", r"1\. a"), ("== a", r"\== a")]
)
def test_a_paragraph_makes_no_list_and_no_underline(text: str, shown: str) -> None:
    assert f"\n\n{shown}\n" in render(Document("Title", (Note(text),))).decode()


def read(shown: bytes) -> list[Token]:
    """What a parser that is not ours makes of it, the parts of paragraphs and cells among them."""
    tokens = MarkdownIt("commonmark").enable(["table", "strikethrough"]).parse(shown.decode())
    return [part for token in tokens for part in (token, *(token.children or ()))]


@settings(max_examples=100, deadline=None)
@given(WORDS)
def test_any_words_come_back_from_a_parser_as_they_were(words: str) -> None:
    # a blank that is none of ASCII is no blank in Markdown, and words of nothing but blanks make no paragraph
    wanted = " ".join(part for part in clean(words).split(" ") if part)
    tokens = read(render(Document("Title", (Heading("Part"), Note(words), Heading("End")))))
    parts = [token.content for token in tokens if token.type in ("text", "text_special")]
    assert " ".join("".join(parts).removeprefix("TitlePart").removesuffix("End").split()) == " ".join(wanted.split())
    assert {token.type for token in tokens if token.nesting == 1} <= {"heading_open", "paragraph_open"}


@settings(max_examples=60, deadline=None)
@given(WORDS, WORDS)
def test_any_words_keep_the_shape_of_a_table(a: str, b: str) -> None:
    tokens = read(render(Document("Title", (Table("Caption", ("One", a), ((a, (b, a)), (b, b)), frozenset({1})),))))
    assert [token.type for token in tokens if token.type in ("tr_open", "th_open", "td_open")] == [
        "tr_open", "th_open", "th_open", "tr_open", "td_open", "td_open", "tr_open", "td_open", "td_open",
    ]  # fmt: skip
    assert {token.content for token in tokens if token.type == "html_inline"} <= {"<br>"}


@pytest.mark.parametrize("name", DOCUMENTS)
def test_nothing_in_a_document_becomes_a_link_an_image_or_html(name: str) -> None:
    tokens = read(render(DOCUMENTS[name]()))
    assert not {token.type for token in tokens} & {"link_open", "image", "html_block"}
    assert {token.content for token in tokens if token.type == "html_inline"} <= {"<br>"}


def test_a_drawing_is_code_that_no_line_of_it_ends() -> None:
    shown = render(Document("T", (Pictures((Picture("Path", "<svg/>", ("```", "o--o")),)),))).decode()
    assert "````text\n```\no--o\n````" in shown
    assert "svg" not in shown


def test_the_mark_stands_first_and_last_and_the_caution_twice() -> None:
    shown = render(without_end()).decode()
    assert shown.startswith("**DRY RUN")
    assert shown.rstrip().split("\n")[-1].startswith("**DRY RUN")
    assert shown.count(CAUTION) == 2


def test_a_marked_row_says_so_in_a_word_and_a_symbol() -> None:
    assert "| **▲ see** " in render(full()).decode()
