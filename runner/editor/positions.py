"""Places of the project, offsets of a text, and positions as editors count them: three ways to say where something stands.

A place counts lines and characters from 1, as findings do; an offset counts characters from 0; a position counts lines and
code units from 0. Lines end as the Language Server Protocol 3.17 says: with \\n, \\r\\n or \\r. Code units are those of UTF-16
unless editor and server agreed on others.
"""

import re
from bisect import bisect_right
from dataclasses import dataclass
from functools import lru_cache
from typing import NamedTuple

LINE_END = re.compile(r"\r\n|\n|\r")
ASTRAL = re.compile("[\U00010000-\U0010ffff]")


class Position(NamedTuple):
    """A line and a code unit in it, from 0."""

    line: int
    unit: int


@dataclass(frozen=True, slots=True)
class Span:
    """From an offset to the one behind the last character."""

    start: int
    end: int


@lru_cache(maxsize=8)
def line_spans(text: str) -> tuple[tuple[int, ...], tuple[int, ...]]:
    """The offsets where lines begin, and where they end without their line ends."""
    ends = [(found.start(), found.end()) for found in LINE_END.finditer(text)]
    return (0, *(end for _, end in ends)), (*(start for start, _ in ends), len(text))


def position_of(text: str, offset: int, encoding: str = "utf-16") -> Position:
    """The position of an offset; an offset outside the text counts as its nearer end."""
    starts, ends = line_spans(text)
    offset = max(0, min(offset, len(text)))
    line = bisect_right(starts, offset) - 1
    return Position(line, units(text[starts[line] : min(offset, ends[line])], encoding))


def offset_of(text: str, position: Position, encoding: str = "utf-16") -> int:
    """The offset of a position. Behind the end of a line it is that end; inside a character it is its beginning."""
    starts, ends = line_spans(text)
    if position.line < 0:
        return 0
    if position.line >= len(starts):
        return len(text)
    start, end = starts[position.line], ends[position.line]
    line, left = text[start:end], max(0, position.unit)
    if encoding == "utf-32" or (line.isascii()):
        return start + min(left, len(line))
    for number, character in enumerate(line):
        left -= units(character, encoding)
        if left < 0:
            return start + number
    return end


def units(text: str, encoding: str = "utf-16") -> int:
    """How many code units a text takes."""
    if encoding == "utf-32" or text.isascii():
        return len(text)
    if encoding == "utf-8":
        return len(text.encode("utf-8", "surrogatepass"))
    return len(text) + len(ASTRAL.findall(text))


def offset_at(text: str, line: int, column: int) -> int:
    """The offset of a place of a finding. A mark at the beginning of a file counts as no column, as for the compiler."""
    starts = place_lines(text)
    number = min(max(line, 1), len(starts)) - 1
    lead = 1 if number == 0 and text.startswith("\ufeff") else 0
    end = text.find("\n", starts[number])
    return min(starts[number] + lead + max(column, 1) - 1, len(text) if end < 0 else end)


def line_of(text: str, offset: int) -> int:
    """The line of an offset, from 1, as findings count."""
    return bisect_right(place_lines(text), max(0, offset))


@lru_cache(maxsize=8)
def place_lines(text: str) -> tuple[int, ...]:
    """The offsets where the lines of findings begin: behind each line feed."""
    starts = [0]
    while (end := text.find("\n", starts[-1])) >= 0:
        starts.append(end + 1)
    return tuple(starts)
