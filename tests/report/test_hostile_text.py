"""Whatever stands in a journal or a procedure comes out as text: no markup, no control of a terminal or a browser.

Every text of every event and of the procedure gets each attack; the page must keep the shape that it has with a
harmless text of the same kind.
"""

import json
import re
import unicodedata
from collections.abc import Callable

import pytest

from runner.procedure.model import Procedure
from runner.report.contents.run_record import run_record
from runner.report.document import Document
from runner.report.formats import FORMATS, html, text
from runner.report.verification import Verification
from tests.report import sample
from tests.report.test_html import ATTRIBUTES, TAGS, Page

ATTACKS = {
    "script": "<script>alert(1)</script>",
    "image": "<img src=x onerror=alert(1)>",
    "svg": "<svg/onload=alert(1)>",
    "attribute, double": '" onmouseover="alert(1)',
    "attribute, single": "' onmouseover='alert(1)",
    "end of style": "</style><script>alert(1)</script>",
    "end of title": "</title><script>alert(1)</script>",
    "link": '<a href="data:text/html,<script>alert(1)</script>">x</a>',
    "comment": "<!-- --><![CDATA[",
    "entity": "&lt;b&gt;&#0;",
    "template": "{{ 7 * 7 }}{% raw %}",
    "console markup": "[/b][link=x]y[/link]",
    "escape sequence": "\x1b[2J\x1b]52;c;YQ==\x07",
    "c1": "\x9b2J\x90q\x9c",
    "bidi": "\u202egnp.exe\u2066",
    "zero width": "a\u200bb\ufeff",
    "line breaks": "\r\n\nOutcome  finished\u2028\u0085",
    "backspaces": "NOT\x08\x08\x08\x00\x7f",
    "half surrogate": "\ud800",
    "invisible tags": "\U000e0041",
}

FORMS = ("viewbox", "width", "height", "d")
"""Attributes of a drawing that go with what it shows; a code for scanning grows with its text."""

# Unicode Standard Annex 9, table 4: the explicit directional formatting characters, by their classes in the Unicode
# Character Database as the standard library holds it.
TURNS_THE_LINE = {"LRE", "RLE", "LRO", "RLO", "PDF", "LRI", "RLI", "FSI", "PDI"}


def changed(value: object, change: Callable[[str], str]) -> object:
    """The value with every text in it changed."""
    match value:
        case str():
            return change(value)
        case tuple():
            parts = [changed(part, change) for part in value]
            make = getattr(type(value), "_make", tuple)  # a named tuple stays one
            return make(parts)
        case _:
            return value


def document(words: str) -> Document:
    """The full run, its procedure and its check, with these words behind every text."""

    def change(value: str) -> str:
        return value + words

    entries = [(number, sample.with_words(event, change)) for number, event in sample.full_run()]
    procedure = changed(sample.procedure(), change)
    assert isinstance(procedure, Procedure)
    return run_record(entries, Verification(False, change("head"), len(entries), (change("flaw"),)), procedure)


def acting(characters: str) -> set[str]:
    """The characters that would act instead of showing."""
    return {
        character
        for character in characters
        if unicodedata.category(character) in ("Cc", "Cs", "Zl", "Zp")
        or unicodedata.bidirectional(character) in TURNS_THE_LINE
    } - {"\n"}


@pytest.mark.parametrize("attack", ATTACKS)
def test_a_page_keeps_its_shape(attack: str) -> None:
    page, harmless = Page(html.render(document(ATTACKS[attack]))), Page(html.render(document("x")))
    assert {tag for tag, _ in page.tags} <= TAGS
    assert {name for _, attributes in page.tags for name in attributes} <= ATTRIBUTES

    # a label carries text of the document, so it alone may differ
    def shape(of: Page) -> list[object]:
        return [
            (tag, {k: v for k, v in attributes.items() if k not in ("aria-label", "content", *FORMS)})
            for tag, attributes in of.tags
        ]

    assert shape(page) == shape(harmless)
    forms = {v or "" for _, attributes in page.tags for k, v in attributes.items() if k in FORMS}
    assert all(re.fullmatch(r"[0-9.a-zA-Z -]*", form) for form in forms)
    assert acting("".join(page.texts)) == set()


@pytest.mark.parametrize("attack", ATTACKS)
def test_a_text_keeps_its_width_and_holds_no_control(attack: str) -> None:
    shown = text.render(document(ATTACKS[attack])).decode()
    assert acting(shown) == set()
    assert "\nOutcome  finished" not in shown


@pytest.mark.parametrize("attack", ["script", "console markup", "template", "entity"])
def test_harmless_looking_text_is_shown_as_it_stands(attack: str) -> None:
    assert "unwind" + ATTACKS[attack] in "".join(Page(html.render(document(ATTACKS[attack]))).texts)


@pytest.mark.parametrize("attack", ATTACKS)
def test_json_keeps_the_text_and_is_ascii(attack: str) -> None:
    rendered = FORMATS["json"].render(document(ATTACKS[attack]))
    assert rendered.isascii()
    assert acting(rendered.decode()) == set()
    assert json.loads(rendered)["run"]["id"].endswith(ATTACKS[attack])
