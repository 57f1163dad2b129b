"""Paragraphs, headings, the one large thing, and columns of names and values."""

from runner.screen.blocks import Big, Facts, Heading, Ink, Say
from runner.screen.widgets.lines import Line, fit, hung, width_of, wrap

LABEL = 9
"""Cells of the label in front of a paragraph."""


def say_lines(say: Say, width: int) -> list[Line]:
    """A paragraph, its label at the left."""
    if not say.label:
        return [((" ", Ink.PLAIN), (part, say.ink)) for part in wrap(say.text, width - 2)]
    label = fit(say.label, max(LABEL, width_of(say.label)))
    first: Line = ((" ", Ink.PLAIN), (label, Ink.LABEL), (" ", Ink.PLAIN))
    return hung(first, say.text, say.ink, width_of(label) + 2, width - 1)


def heading_lines(heading: Heading, width: int) -> list[Line]:
    """The name of a part of the page."""
    return [((" ", Ink.PLAIN), (fit(heading.text, width - 2).rstrip(), Ink.LABEL))]


def big_lines(big: Big, width: int) -> list[Line]:
    """A label, and a text that stands alone between empty lines."""
    lines: list[Line] = [((" ", Ink.PLAIN), (fit(big.label, width - 2).rstrip(), Ink.LABEL)), ()]
    lines += [(("   ", Ink.PLAIN), (f" {part} ", Ink.CHOSEN)) for part in wrap(big.text, width - 8)]
    return lines


def facts_lines(facts: Facts, width: int) -> list[Line]:
    """Names at the left, values beside them, a remark behind."""
    longest = max((width_of(fact.label) for fact in facts.rows), default=0)
    column = min(longest, max(12, width // 2))
    lines: list[Line] = []
    for fact in facts.rows:
        value = f"{fact.value}, {fact.note}" if fact.note else fact.value
        first: Line = ((" ", Ink.PLAIN), (fit(fact.label, column), Ink.LABEL), ("  ", Ink.PLAIN))
        lines += hung(first, value, fact.ink, column + 3, width - 1)
    return lines
