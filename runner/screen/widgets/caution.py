"""A caution: symbol and signal word, what can hurt, what it does, how to avoid it, in this order (ANSI Z535.6, from
memory). Position and words carry it; the colour of the signal word only repeats it.
"""

from runner.screen.blocks import CautionBlock, Ink
from runner.screen.marks import SIGNALS
from runner.screen.widgets.lines import Line, hung

INDENT = 15


def caution_lines(caution: CautionBlock, width: int) -> list[Line]:
    """Three parts, each beginning its own line."""
    symbol, ink = SIGNALS.get(caution.signal, SIGNALS["danger"])
    badge = f" {symbol} {caution.signal.upper():<7} "
    first: Line = ((" ", Ink.PLAIN), (badge, ink), (" ", Ink.PLAIN))
    if caution.brief:
        return hung(first, f"{caution.hazard} {caution.avoid}".strip(), Ink.STRONG, INDENT, width - 1)
    lines = hung(first, caution.hazard, Ink.STRONG, INDENT, width - 1)
    under: Line = ((" " * INDENT, Ink.PLAIN),)
    if caution.harm:
        lines += hung(under, caution.harm, Ink.PLAIN, INDENT, width - 1)
    if caution.avoid:
        lines += hung(under, caution.avoid, Ink.STRONG, INDENT, width - 1)
    return lines
