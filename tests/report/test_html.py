"""The HTML page: nothing in it runs or loads, and people can read it by eye, by ear and on paper."""

import itertools
import re
from base64 import b64encode
from hashlib import sha256
from html.parser import HTMLParser

import pytest

from runner.report.document import Document
from runner.report.formats.html import css_text, hash_of, render
from tests.report.documents import DOCUMENTS, full

TAGS = {
    "html", "head", "meta", "title", "style", "body", "main", "footer", "h1", "h2", "h3", "p", "strong", "span", "br",
    "dl", "div", "dt", "dd", "ul", "li", "table", "caption", "thead", "tbody", "tr", "th", "td",
    "figure", "figcaption", "svg", "g", "desc", "path", "rect", "text",
}  # fmt: skip
ATTRIBUTES = {
    "lang", "charset", "http-equiv", "content", "name", "class", "scope", "role", "aria-label", "aria-hidden", "tabindex",
    # of drawings: presentation attributes, since a style attribute would need another policy
    "xmlns", "viewbox", "width", "height", "x", "y", "d", "fill", "fill-opacity", "stroke", "stroke-opacity",
    "stroke-width", "stroke-dasharray", "transform", "text-anchor", "font-size", "font-weight", "font-family",
}  # fmt: skip


class Page(HTMLParser):
    """The tags of a page with their attributes, and its texts, as the standard library's parser sees them."""

    def __init__(self, page: bytes) -> None:
        super().__init__(convert_charrefs=True)
        self.tags: list[tuple[str, dict[str, str | None]]] = []
        self.texts: list[str] = []
        self.style = ""
        self.inside = ""
        self.feed(page.decode())
        self.close()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, dict(attrs)))
        self.inside = tag

    def handle_endtag(self, _: str) -> None:
        self.inside = ""

    def handle_data(self, data: str) -> None:
        if self.inside == "style":
            self.style += data
        else:
            self.texts.append(data)

    def all(self, tag: str) -> list[dict[str, str | None]]:
        return [attributes for name, attributes in self.tags if name == tag]


def policy_of(page: Page) -> str:
    return next(a["content"] or "" for a in page.all("meta") if a.get("http-equiv") == "Content-Security-Policy")


@pytest.mark.parametrize("name", DOCUMENTS)
def test_a_page_has_only_expected_tags_and_attributes(name: str) -> None:
    page = Page(render(DOCUMENTS[name]()))
    assert {tag for tag, _ in page.tags} <= TAGS
    assert {attribute for _, attributes in page.tags for attribute in attributes} <= ATTRIBUTES


@pytest.mark.parametrize("name", DOCUMENTS)
def test_the_policy_allows_the_one_style_and_nothing_else(name: str) -> None:
    # W3C, Content Security Policy Level 3, 2.3.1 (hash-source): base64 of SHA-256 over the element's text.
    page = Page(render(DOCUMENTS[name]()))
    wanted = b64encode(sha256(page.style.encode()).digest()).decode()
    assert len(page.all("style")) == 1
    assert policy_of(page).split("; ") == [
        "default-src 'none'", f"style-src 'sha256-{wanted}'", "img-src data:", "base-uri 'none'", "form-action 'none'",
    ]  # fmt: skip


def test_the_hash_is_that_of_the_published_example() -> None:
    # W3C, Content Security Policy Level 3, 8.2 (hash usage for script elements); value from memory of that page.
    assert hash_of("alert('Hello, world.');") == "qznLcsROx4GACP2dm0UCKCzCG+HiZ1guq6ZZDob/Tng="


def test_the_style_asks_for_nothing_from_outside() -> None:
    assert not re.search(r"url\(|@import|expression", Page(render(full())).style, re.IGNORECASE)


def test_no_character_ends_a_css_string() -> None:
    assert css_text('"</style>\\') == r'"\000022\00003c\00002f\000073\000074\000079\00006c\000065\00003e\00005c"'


def test_every_table_has_a_caption_and_scoped_heads() -> None:
    # W3C, Web Content Accessibility Guidelines 2.2, technique H39 (caption) and H63 (scope).
    page = Page(render(full()))
    tables = len(page.all("table"))
    assert tables > 20
    assert len(page.all("caption")) == tables
    assert {head.get("scope") for head in page.all("th")} == {"row", "col"}


def test_headings_go_down_one_level_at_a_time() -> None:
    levels = [int(tag[1]) for tag, _ in Page(render(full())).tags if re.fullmatch("h[1-6]", tag)]
    assert levels.count(1) == 1
    assert levels[0] == 1
    assert all(later - earlier <= 1 for earlier, later in itertools.pairwise(levels))


def test_a_marked_row_says_so_in_a_word_and_a_symbol() -> None:
    # W3C, Web Content Accessibility Guidelines 2.2, 1.4.1: colour is not the only means.
    page = Page(render(full()))
    marked = [a for a in page.all("tr") if a.get("class") == "marked"]
    assert len(marked) > 5
    assert page.texts.count("▲ see") == len(marked)


def test_pages_are_a4_and_tables_repeat_their_heads() -> None:
    style = Page(render(full())).style
    assert "size: A4" in style
    assert "table-header-group" in style
    assert "break-inside: avoid" in style


def luminance(colour: str) -> float:
    """Relative luminance of `#rrggbb`: W3C, Web Content Accessibility Guidelines 2.2, definition of the same name."""
    parts = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    linear = [part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(one: str, other: str) -> float:
    """Contrast ratio, same source."""
    darker, lighter = sorted((luminance(one), luminance(other)))
    return (lighter + 0.05) / (darker + 0.05)


ON = [
    ("ink", "paper"), ("soft", "paper"), ("ink", "band"), ("ink", "alarm-band"), ("alarm", "alarm-band"),
    ("ink", "caution-band"), ("caution", "caution-band"), ("mark", "mark-band"),
]  # fmt: skip


def test_the_contrast_formula_gives_the_published_ends() -> None:
    # W3C, Web Content Accessibility Guidelines 2.2: ratios run from 1 to 21; #767676 on white is the well-known
    # lightest grey that passes 4.5:1 (from memory).
    assert contrast("#000000", "#ffffff") == pytest.approx(21)
    assert contrast("#767676", "#ffffff") == pytest.approx(4.54, abs=0.01)


@pytest.mark.parametrize("palette", [0, 1, 2], ids=["light", "dark", "print"])
@pytest.mark.parametrize(("front", "back"), ON)
def test_texts_stand_out(palette: int, front: str, back: str) -> None:
    # W3C, Web Content Accessibility Guidelines 2.2, 1.4.3: at least 4.5:1.
    roots = re.findall(r":root \{([^}]*)\}", Page(render(full())).style)
    assert len(roots) == 3
    colours = dict(re.findall(r"--([a-z-]+): (#[0-9a-f]{6})", roots[palette]))
    assert contrast(colours[front], colours[back]) >= 4.5


def test_words_at_the_edge_of_a_printed_page_are_the_documents_own() -> None:
    document = Document("t", (), mark="DRY RUN", running='Run 1"; } body { display: none')
    style = Page(render(document)).style
    assert css_text("DRY RUN") in style
    assert "display: none" not in style
