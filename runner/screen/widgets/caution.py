"""A caution: symbol and signal word, what can hurt, what it does, how to avoid it, in this order (ANSI Z535.6, from
memory). Position and words carry it; the colour of the signal word only repeats it.
"""

from runner.say.text import say
from runner.screen.blocks import CautionBlock, Ink
from runner.screen.marks import SIGNALS
from runner.screen.widgets.lines import Line, hung, width_of

LEAST = 7
"""Letters that the longest signal word has in English; another language may need more."""


def caution_lines(caution: CautionBlock, width: int) -> list[Line]:
    """Three parts, each beginning its own line."""
    symbol, ink = SIGNALS.get(caution.signal, SIGNALS["danger"])
    size = max(LEAST, *(width_of(say(word)) for word in SIGNALS))
    badge = f" {symbol} {say(caution.signal).upper():<{size}} "
    indent = width_of(badge) + 2
    first: Line = ((" ", Ink.PLAIN), (badge, ink), (" ", Ink.PLAIN))
    if caution.brief:
        return hung(first, f"{caution.hazard} {caution.avoid}".strip(), Ink.STRONG, indent, width - 1)
    lines = hung(first, caution.hazard, Ink.STRONG, indent, width - 1)
    under: Line = ((" " * indent, Ink.PLAIN),)
    if caution.harm:
        lines += hung(under, caution.harm, Ink.PLAIN, indent, width - 1)
    if caution.avoid:
        lines += hung(under, caution.avoid, Ink.STRONG, indent, width - 1)
    return lines
