"""The act of a step: its number and the instruction, then how it stands and who does it."""

from runner.screen.blocks import Act, Ink
from runner.screen.widgets.lines import Line, fit, hung, width_of


def act_lines(act: Act, width: int) -> list[Line]:
    """The instruction is the strongest text of the page."""
    number = fit(act.number, max(8, width_of(act.number)))
    first: Line = ((" ", Ink.PLAIN), (number, Ink.CHOSEN), ("  ", Ink.PLAIN))
    indent = width_of(number) + 3
    lines = hung(first, act.text, Ink.STRONG, indent, width - 1)
    status = f"{act.mark} {act.word}"
    lead: Line = ((" " * indent, Ink.PLAIN), (status, Ink.STRONG), ("   ", Ink.PLAIN))
    lines += hung(lead, act.who, Ink.LABEL, indent + width_of(status) + 3, width - 1)
    return lines
