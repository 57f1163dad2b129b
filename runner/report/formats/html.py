"""A document as one HTML file: no script, no request, one style whose hash stands in the Content Security Policy.

All texts pass `clean` and then the template's autoescape; nothing of a document ever becomes an attribute, an address
or markup. A drawing comes as SVG that has escaped its own texts. The words that every printed page carries go into the style as escaped code points only.
"""

import hashlib
from base64 import b64encode
from functools import cache
from typing import TYPE_CHECKING, NamedTuple

from runner.procedure.clean import clean
from runner.report.document import Block, Cell, Document, Facts, Heading, Listing, Note, Pictures, Table, lines_of
from runner.report.formats.format import Format

if TYPE_CHECKING:  # loaded where a page is made: it is slow, and the other formats do without
    from jinja2 import Environment

TEMPLATE = "document.html.jinja"
STYLE = "style.css"

POLICY = "default-src 'none'; style-src 'sha256-{hash}'; img-src data:; base-uri 'none'; form-action 'none'"
"""Content Security Policy Level 3: nothing loads or runs but the one style with this hash."""

KINDS: dict[type[Block], str] = {
    Heading: "heading",
    Facts: "facts",
    Table: "table",
    Note: "note",
    Listing: "listing",
    Pictures: "pictures",
}
"""The names by which the template knows the blocks."""


class Shown(NamedTuple):
    """A block and the name of its kind."""

    kind: str
    block: Block


@cache
def environment() -> "Environment":
    """The template's surroundings: everything is escaped, nothing may be missing."""
    from jinja2 import Environment, PackageLoader, StrictUndefined
    from markupsafe import Markup

    env = Environment(
        loader=PackageLoader("runner.report", "page"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=True,
    )
    env.filters["clean"] = clean
    env.filters["cleaned_lines"] = cleaned_lines
    env.filters["drawn"] = Markup  # for drawings alone: ours, their texts escaped where they are drawn
    return env


def render(document: Document) -> bytes:
    """UTF-8."""
    from markupsafe import Markup

    style = style_of(document)
    page = environment().get_template(TEMPLATE).render(
        document=document,
        blocks=[Shown(KINDS[type(block)], block) for block in document.blocks],
        policy=POLICY.format(hash=hash_of(style)),
        style=Markup(style),  # a file of ours and escaped code points
    )  # fmt: skip
    return page.encode()


def cleaned_lines(cell: Cell) -> list[str]:
    """The lines of a cell, fit to be shown."""
    return [clean(line) for line in lines_of(cell)]


def style_of(document: Document) -> str:
    """The style sheet, with what every printed page carries at its edges."""
    loader = environment().loader
    assert loader is not None
    sheet, _, _ = loader.get_source(environment(), STYLE)
    top, bottom = css_text(clean(document.mark)), css_text(clean(document.running))
    edges = f"@page {{ @top-center {{ content: {top} }} @bottom-left {{ content: {bottom} }} }}"
    return f"\n{sheet}{edges}\n"


def css_text(text: str) -> str:
    """A CSS string (CSS Syntax Level 3) in which every character stands as its code point, so that none can end it."""
    return '"' + "".join(f"\\{ord(character):06x}" for character in text) + '"'


def hash_of(style: str) -> str:
    """Base64 of SHA-256 over the style's text as it stands between its tags."""
    return b64encode(hashlib.sha256(style.encode()).digest()).decode("ascii")


FORMAT = Format("html", ".html", render, "one file for browsers and for printing on A4")
