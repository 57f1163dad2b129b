"""A form as one HTML file for printing on A4 or Letter: no script, no request, one style whose hash stands in the policy.

The paper's size is left to the printer. All texts pass `clean` and then the template's autoescape; drawings have escaped
their own texts. What every printed page carries goes into the style as escaped code points only.
"""

from typing import NamedTuple

from runner.procedure.clean import clean
from runner.report.document import Block
from runner.report.formats.html import KINDS, POLICY, css_text, environment, hash_of
from runner.report.sheet.form import NewPage, Sheet, SheetBlock, StepForm

TEMPLATE = "sheet.html.jinja"
STYLE = "sheet.css"

SIGNS = {"danger": "⚠ DANGER", "warning": "⚠ WARNING", "caution": "⚠ CAUTION", "notice": "NOTICE"}
"""Signal words of ANSI Z535.6; the sign stands before those about people."""


class Shown(NamedTuple):
    """A block and the name of its kind."""

    kind: str
    block: SheetBlock


def render(sheet: Sheet) -> bytes:
    """UTF-8."""
    from markupsafe import Markup

    style = style_of(sheet)
    page = environment().get_template(TEMPLATE).render(
        sheet=sheet,
        blocks=[Shown(kind_of(block), block) for block in sheet.blocks],
        policy=POLICY.format(hash=hash_of(style)),
        style=Markup(style),  # a file of ours and escaped code points
        signs=SIGNS,
    )  # fmt: skip
    return page.encode()


def kind_of(block: SheetBlock) -> str:
    """The name by which the template knows a block."""
    match block:
        case StepForm():
            return "step"
        case NewPage():
            return "page"
        case _:
            found: Block = block
            return KINDS[type(found)]


def style_of(sheet: Sheet) -> str:
    """The style sheet, with what every printed page carries at its edges."""
    loader = environment().loader
    assert loader is not None
    source, _, _ = loader.get_source(environment(), STYLE)
    top, bottom = css_text(clean(sheet.mark or sheet.title)), css_text(clean(sheet.running))
    return f"\n{source}@page {{ @top-center {{ content: {top} }} @bottom-left {{ content: {bottom} }} }}\n"
