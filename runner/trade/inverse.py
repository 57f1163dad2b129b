"""Worked back: the number for which a formula gives a wanted result, found by trying.

An operator sets a tension and hangs whole pieces; which tension the pieces give is the same formula asked the other way.
Nothing is guessed: where no number, or more than one, is found to give the result, that is the answer.
"""

from collections.abc import Callable
from typing import NamedTuple

STEPS = 12
"""Steps tried on each side of the number that was meant; a formula of the trade that rises and falls again does so wider."""

REACHES = (1.0, 8.0)
"""How far to look, as a multiple of that number: first no further than zero and its double."""

CLOSE = 1e-7
"""How near the result must be met, as a share of it: a formula that jumps over the result does not give it."""

ENOUGH = 1e-13
"""A result off by no more than this share ends the search: floats say no more."""

TURNS = 200

Formula = Callable[[float], float | None]
"""The result for a number; None where there is none."""


class Unsolved(NamedTuple):
    """Why there is no answer: `none` (no number gives the result) or `several` (more than one does)."""

    why: str


def solve_for(formula: Formula, wanted: float, near: float) -> float | Unsolved:
    """The one number about `near` for which `formula` gives `wanted`, or that there is none or more than one."""
    size = abs(near) or 1.0

    def off(number: float) -> float | None:
        result = formula(number)
        return None if result is None else result - wanted

    for reach in REACHES:
        points = [near + size * reach * step / STEPS for step in range(-STEPS, STEPS + 1)]
        found = crossings([(point, off(point)) for point in points])
        if len(found) > 1:
            return Unsolved("several")
        if found:
            (low, off_low), (high, off_high) = found[0]
            number = narrowed(off, low, high, off_low, off_high, ENOUGH * abs(wanted))
            left = None if number is None else off(number)
            if number is None or left is None or abs(left) > CLOSE * max(abs(wanted), CLOSE):
                return Unsolved("none")
            return number
    return Unsolved("none")


Point = tuple[float, float]
"""A number and how far off the result is for it."""


def crossings(points: list[tuple[float, float | None]]) -> list[tuple[Point, Point]]:
    """The pairs of neighbours between which the result is crossed; a point that meets it is a pair with itself."""
    found: list[tuple[Point, Point]] = []
    before: Point | None = None
    for number, off in points:
        if off is None:
            before = None
            continue
        here = (number, off)
        if off == 0:
            found.append((here, here))
        elif before is not None and before[1] * off < 0:
            found.append((before, here))
        before = here
    return found


def narrowed(
    off: Callable[[float], float | None], low: float, high: float, off_low: float, off_high: float, enough: float
) -> float | None:
    """The end of a bracket that meets the result best, once it is off by no more than `enough` or the bracket is as narrow
    as floats allow; None at a gap.

    The straight line between the ends says where to try; after each two of those the middle, so that it always ends.
    """
    for turn in range(TURNS):
        middle = (low + high) / 2
        if min(abs(off_low), abs(off_high)) <= enough or not low < middle < high:
            break
        straight = high - off_high * (high - low) / (off_high - off_low)
        tried = straight if turn % 3 < 2 and low < straight < high else middle
        here = off(tried)
        if here is None:
            return None
        if here * off_low > 0:
            low, off_low = tried, here
        else:
            high, off_high = tried, here
    return low if abs(off_low) <= abs(off_high) else high
