"""A dial gauge of a dry run as lines, in the middle of its column. What draws it is loaded when one first comes up."""

from runner.screen.blocks import Dial, Ink
from runner.screen.widgets.lines import Line


def dial_lines(block: Dial, width: int) -> list[Line]:
    """The drawing, or nothing where the column is too narrow for it."""
    from runner.training.dial import COLUMNS, dial

    if width < COLUMNS + 2:
        return []
    lead = " " * ((width - COLUMNS) // 2)
    drawn = list(dial(*block))
    while drawn and not drawn[0]:  # every row counts on a small terminal
        drawn.pop(0)
    return [((lead + line, Ink.PLAIN),) for line in drawn]
