"""Where a character of a scalar stands in the file.

A scalar reaches the compiler unquoted, unfolded and with a fragment's parameters put in. For a finding, and only
then, its text is walked again beside the file, one character after the other, and every one gets its place.
"""

from bisect import bisect_right
from collections.abc import Mapping
from functools import lru_cache

from runner.procedure.origin import Origin

ESCAPE_LENGTHS = {"x": 4, "u": 6, "U": 10}
"""How many characters an escape of a double-quoted scalar takes; all others take two."""

Spot = tuple[int, int]


def spot_of(origin: Origin, start: Spot, scalar: str, offset: int) -> Spot:
    """(line, column) from 0 of character `offset` of the scalar that begins at `start`."""
    text = origin.text
    index = index_of(text, start)
    spots = walk(origin, scalar, index, max(0, offset))
    return spot_at(text, spots[min(max(0, offset), len(spots) - 1)] if spots else index)


def index_of(text: str, spot: Spot) -> int:
    """The index in the text of a line and column."""
    starts = line_starts(text)
    return min(starts[min(spot[0], len(starts) - 1)] + spot[1], len(text))


def spot_at(text: str, index: int) -> Spot:
    """The line and column of an index in the text."""
    starts = line_starts(text)
    line = bisect_right(starts, min(index, len(text))) - 1
    return line, min(index, len(text)) - starts[line]


@lru_cache(maxsize=4)
def line_starts(text: str) -> tuple[int, ...]:
    """The index of the first character of each line."""
    starts = [0]
    while (end := text.find("\n", starts[-1])) >= 0:
        starts.append(end + 1)
    return tuple(starts)


def walk(origin: Origin, scalar: str, index: int, last: int) -> list[int]:
    """Indices in the text of the scalar's characters up to number `last`, and of one place after its end."""
    text, given = origin.text, origin.given
    opening = text[index : index + 1]
    quote = opening if opening in ("'", '"') else ""
    if quote:
        index += 1
    elif opening in ("|", ">"):
        index = text.find("\n", index) + 1 or len(text)
    spots: list[int] = []
    while len(spots) < len(scalar) and len(spots) <= last:
        character = scalar[len(spots)]
        if character in " \n\t" and not (quote == '"' and text[index : index + 1] == "\\"):
            spots.append(index)
            if text[index : index + 1] in (" ", "\t"):
                index += 1
            continue
        index = skip_white(text, index, quote)
        put_in = parameter_at(text, index, given)
        if put_in:
            spots.extend([index] * len(given[put_in]))
            index += len(put_in) + 2
            continue
        spots.append(index)
        index += length_at(text, index, quote)
    spots.append(index)
    return spots


def skip_white(text: str, index: int, quote: str) -> int:
    """Past blanks, line ends and escaped line ends."""
    while index < len(text):
        if text[index] in " \t\r\n":
            index += 1
        elif quote == '"' and text.startswith(("\\\n", "\\\r\n"), index):
            index = text.find("\n", index) + 1
        else:
            break
    return index


def parameter_at(text: str, index: int, given: Mapping[str, str]) -> str:
    """The parameter whose `<name>` stands at the index, or nothing."""
    if not given or text[index : index + 1] != "<":
        return ""
    name = text[index + 1 : max(index + 1, text.find(">", index))]
    return name if name in given else ""


def length_at(text: str, index: int, quote: str) -> int:
    """How many characters of the text write one character of the scalar."""
    if quote == '"' and text[index : index + 1] == "\\":
        return ESCAPE_LENGTHS.get(text[index + 1 : index + 2], 2)
    if quote == "'" and text.startswith("''", index):
        return 2
    return 1
