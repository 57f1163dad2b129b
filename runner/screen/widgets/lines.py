"""Lines of inked text and how text is broken into them. Widths are terminal cells, so that wide letters fit.

Every line that is drawn passes `filled`, and there through `clean`: no control character gets further.
"""

import re
from collections.abc import Callable
from functools import lru_cache

from rich.cells import cell_len, set_cell_size

from runner.formula.units import Unit, parse_unit
from runner.procedure.clean import clean
from runner.say.text import say
from runner.screen.blocks import Ink

Span = tuple[str, Ink]
Line = tuple[Span, ...]

NARROW = re.compile("[ -~\u00a0-\u00ac\u00ae-\u02ff\u2013-\u201e\u2400-\u2426\u2500-\u257f]*")
"""Texts of characters that take one cell each, so that the table of widths is not loaded for a rule or an umlaut."""

NUMBER = re.compile(r"[(+-]?[0-9]+(?:[.,][0-9]+)?")

UNIT_LONGEST = 12
"""Letters of the longest unit that is looked for behind a number."""
LONGEST = 4000
"""Cells of one paragraph that are shown; a text that goes on is cut with a mark."""


def width_of(text: str) -> int:
    """How many cells a text takes."""
    return len(text) if text.isascii() or NARROW.fullmatch(text) else cell_len(text)


def fit(text: str, width: int) -> str:
    """The text in exactly so many cells: filled up with spaces, or cut with `..` at the end."""
    width = max(0, width)
    text = clean(text)
    if width_of(text) <= width:
        return text + " " * (width - width_of(text))
    return set_cell_size(set_cell_size(text, max(0, width - 2)) + "..", width)


def parts_of(text: str, wide: Callable[[str], bool]) -> list[str]:
    """What a line may be broken between. A number stays with its unit, and how many with of what (`1 x 2.5 kg`): parted
    by the end of a line they are read wrong. Only what is too `wide` for a line is broken there too."""
    parts: list[str] = []
    before = ""
    for word in text.split():
        if parts and _belongs(before, word, parts[-1]) and not wide(f"{parts[-1]} {word}"):
            parts[-1] += f" {word}"
        else:
            parts.append(word)
        before = word
    return parts


def _belongs(before: str, word: str, part: str) -> bool:
    if NUMBER.fullmatch(before):
        return word.casefold() == "x" or _is_unit(word.rstrip(".,;:)"))
    return before.casefold() == "x" and part != before and NUMBER.fullmatch(word) is not None


@lru_cache(maxsize=512)
def _is_unit(word: str) -> bool:
    return len(word) <= UNIT_LONGEST and isinstance(parse_unit(word), Unit)


def wrap(text: str, width: int) -> list[str]:
    """The text broken at spaces into lines of at most so many cells, never between a number and its unit; a longer word
    is cut."""
    width = max(4, width)
    text = clean(text)
    if width_of(text) > LONGEST:
        text = set_cell_size(text, LONGEST) + f" ({say('cut')})"
    lines: list[str] = []
    line = ""
    for word in parts_of(text, lambda part: width_of(part) > width):
        candidate = f"{line} {word}" if line else word
        if width_of(candidate) <= width:
            line = candidate
            continue
        if line:
            lines.append(line)
        while width_of(word) > width:
            head = set_cell_size(word, width).rstrip()
            taken = len(head) if word.startswith(head) and head else 1
            lines.append(word[:taken])
            word = word[taken:]
        line = word
    if line or not lines:
        lines.append(line)
    return lines


def hung(first: Line, text: str, ink: Ink, indent: int, width: int) -> list[Line]:
    """A paragraph behind a first span, its further lines indented under its own beginning."""
    parts = wrap(text, width - indent)
    lines: list[Line] = [(*first, (parts[0], ink))]
    lines += [((" " * indent, Ink.PLAIN), (part, ink)) for part in parts[1:]]
    return lines


def text_of(line: Line) -> str:
    """A line without its inks."""
    return "".join(text for text, _ in line)


def filled(line: Line, width: int, ink: Ink = Ink.PLAIN) -> Line:
    """The line in exactly so many cells: cut where it is longer, filled up where shorter."""
    out: list[Span] = []
    left = width
    for text, own in line:
        text = clean(text)
        size = width_of(text)
        if size > left:
            text = set_cell_size(text, left)
            size = left
        if size:
            out.append((text, own))
        left -= size
    if left > 0:
        out.append((" " * left, ink))
    return tuple(out)
