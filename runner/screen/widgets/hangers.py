"""Pieces as they hang at the ends of a shaft or bar, seen from the side: one column an end, the web's side on top.

Each piece is a bar whose length says its mass against the heaviest one there; where there are many, one bar stands for
all of a kind and says how many. Count and total stand under each end, and ends that differ are told in words. Pure text,
no colour; `plain` keeps to ASCII.
"""

from decimal import Decimal, InvalidOperation
from typing import NamedTuple

from runner.say.text import say, say_n
from runner.screen.widgets.lines import fit

Ends = tuple[tuple[tuple[str, int], ...], ...]
"""For each end, (piece as the rack writes it, how many), the heaviest first."""

MOST = 6
"""Pieces of an end that are drawn one by one."""
LONGEST = 26
"""Cells of the heaviest piece's bar."""
LEAST = 20
"""Cells of a column below which nothing is drawn: the ends are told in words then."""


class Signs(NamedTuple):
    """What bars are made of."""

    left: str
    fill: str
    right: str
    rod: str


FULL, PLAIN = Signs("▐", "█", "▌", "│"), Signs("[", "=", "]", "|")


def hanger_lines(ends: Ends, unit: str, width: int, *, plain: bool = False) -> tuple[str, ...]:
    """The drawing, lines of at most so many cells; empty without ends."""
    if not ends:
        return ()
    column = width // len(ends)
    if column < LEAST:
        return tuple(line for at, end in enumerate(ends, start=1) for line in _told(at, end, unit, width))
    signs = PLAIN if plain else FULL
    heaviest = max((_mass(piece) for end in ends for piece, count in end if count), default=Decimal(0))
    room = min(LONGEST, column - 6)
    drawn = [_bars(end, heaviest, room, signs) for end in ends]
    under = [_under(end, unit) for end in ends]
    titles = [say("end {number}", number=at) for at in range(1, len(ends) + 1)]
    lines = [_row(titles, column), _row([say("(web side)")] * len(ends), column), _row([signs.rod] * len(ends), column)]
    lines += _side_by_side(drawn, column, signs.rod)
    lines += _side_by_side(under, column, "")
    return tuple(line.rstrip() for line in (*lines, *_unlike(ends, unit)))


def brief_lines(ends: Ends, unit: str, width: int, *, plain: bool = False) -> tuple[str, ...]:
    """The same in few lines: each end's sum, then one bar a kind with how many there are."""
    column = width // max(1, len(ends))
    if not ends or column < LEAST:
        return hanger_lines(ends, unit, width, plain=plain)
    signs = PLAIN if plain else FULL
    heaviest = max((_mass(piece) for end in ends for piece, count in end if count), default=Decimal(0))
    room = min(LONGEST, column - 4)
    heads = [
        say("end {number}: {total}", number=at, total=_sum_words(end, unit)) for at, end in enumerate(ends, start=1)
    ]
    bars = [_bars(end, heaviest, room, signs, brief=True) for end in ends]
    return tuple(
        line.rstrip() for line in (_row(heads, column), *_side_by_side(bars, column, ""), *_unlike(ends, unit)[1:])
    )


def _row(texts: list[str], column: int) -> str:
    return "".join(fit(_centred(text, column), column) for text in texts)


def _centred(text: str, column: int) -> str:
    """In the middle of a column, by whole pairs of cells so that bars of even and odd length share one rod."""
    return " " * max(0, (column - len(text)) // 2) + text


def _side_by_side(columns: list[list[str]], column: int, empty: str) -> list[str]:
    height = max(len(lines) for lines in columns)
    padded = [lines + [empty] * (height - len(lines)) for lines in columns]
    return [_row([lines[at] for lines in padded], column) for at in range(height)]


def _bars(
    end: tuple[tuple[str, int], ...], heaviest: Decimal, room: int, signs: Signs, brief: bool = False
) -> list[str]:
    """The bars of one end from the web outwards; one a kind where there are many, or where it is to be brief."""
    kinds = [(piece, count) for piece, count in end if count > 0]
    many = brief or sum(count for _, count in kinds) > MOST
    bars: list[str] = []
    for piece, count in kinds:
        label = f" {count} x {piece} " if many else f" {piece} "
        share = _mass(piece) / heaviest if heaviest else Decimal(1)
        bars += [_bar(label, max(1, round(share * room)), signs)] * (1 if many else count)
    return bars or [say("nothing hangs here")]


def _bar(label: str, length: int, signs: Signs) -> str:
    """A bar of so many cells with its label inside, or behind it where it is too short; both sides keep it in the middle."""
    inner = length - 2
    if inner >= len(label) + 2:
        before = (inner - len(label)) // 2
        after = inner - len(label) - before
        return f"{signs.left}{signs.fill * before}{label}{signs.fill * after}{signs.right}"
    bar = signs.fill if length < 3 else f"{signs.left}{signs.fill * inner}{signs.right}"
    label = label.rstrip()
    return f"{' ' * len(label)}{bar}{label}"


def _under(end: tuple[tuple[str, int], ...], unit: str) -> list[str]:
    """What hangs there, kind by kind, and its sum."""
    kinds = [(piece, count) for piece, count in end if count > 0]
    lines = [f"{count} x {piece} = {_shown(_mass(piece) * count)} {unit}" for piece, count in kinds]
    return [*lines, _sum_words(end, unit)]


def _sum_words(end: tuple[tuple[str, int], ...], unit: str) -> str:
    count = sum(number for _, number in end)
    return say_n("{n} piece, {total} {unit}", "{n} pieces, {total} {unit}", count, total=_shown(_total(end)), unit=unit)


def _told(at: int, end: tuple[tuple[str, int], ...], unit: str, width: int) -> list[str]:
    words = " + ".join(f"{count} x {piece}" for piece, count in end if count) or say("nothing")
    text = say("end {number}: {pieces}; {total}", number=at, pieces=words, total=_sum_words(end, unit))
    return [fit(text, width).rstrip()]


def _unlike(ends: Ends, unit: str) -> list[str]:
    """One line where the ends do not carry the same."""
    if len(set(ends)) < 2:
        return []
    totals = [_total(end) for end in ends]
    more, less = max(range(len(ends)), key=lambda at: totals[at]), min(range(len(ends)), key=lambda at: totals[at])
    if totals[more] == totals[less]:
        return ["", say(" THE ENDS ARE UNLIKE: the same mass from other pieces")]
    apart = f"{_shown(totals[more] - totals[less])} {unit}"
    words = say(" THE ENDS ARE UNLIKE: end {more} carries {apart} more than end {less}", more=more + 1, less=less + 1,
                apart=apart)  # fmt: skip
    return ["", words]


def _total(end: tuple[tuple[str, int], ...]) -> Decimal:
    return sum((_mass(piece) * count for piece, count in end), Decimal(0))


def _mass(piece: str) -> Decimal:
    """A piece by its rack's own text, so that sums are exact; what is no number has none."""
    try:
        mass = Decimal(piece)
    except InvalidOperation:
        return Decimal(0)
    return mass if mass.is_finite() and mass > 0 else Decimal(0)


def _shown(mass: Decimal) -> str:
    text = f"{mass:f}"
    return text.rstrip("0").rstrip(".") if "." in text else text
