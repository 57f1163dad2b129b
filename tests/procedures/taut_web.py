"""A second opinion on a web path, without any formula for tangents: points are moved until every span is tangent.

A tight web leaves and meets each roller at a right angle to its radius. For each span the two points are found by
scipy's root finder from that condition alone; lengths and directions are measured between the points. Metres; the web
runs to the right.
"""

from collections.abc import Sequence
from itertools import pairwise
from math import atan2, cos, hypot, pi, sin
from typing import NamedTuple

from scipy.optimize import fsolve

Disc = tuple[float, float, float, str]
"""x, y, diameter, over or under."""


class Taut(NamedTuple):
    """Spans and arcs together, and for each roller the pull up or down on it for a tension of 1."""

    length: float
    upward: tuple[float, ...]


def point(disc: Disc, angle: float) -> tuple[float, float]:
    """The point of a roller at an angle from the right, anticlockwise."""
    x, y, diameter, _ = disc
    return x + diameter / 2 * cos(angle), y + diameter / 2 * sin(angle)


def touching(first: Disc, second: Disc) -> tuple[float, float]:
    """The angles at which the web leaves the first roller and meets the second."""

    def off_square(angles: Sequence[float]) -> list[float]:
        (x1, y1), (x2, y2) = point(first, angles[0]), point(second, angles[1])
        return [(x2 - x1) * cos(angle) + (y2 - y1) * sin(angle) for angle in angles]

    heading = atan2(second[1] - first[1], second[0] - first[0])
    start = [heading + (pi / 2 if disc[3] == "over" else -pi / 2) for disc in (first, second)]
    found, _, solved, words = fsolve(off_square, start, xtol=1e-12, full_output=True)
    assert solved == 1, words
    return float(found[0]), float(found[1])


def taut(discs: Sequence[Disc]) -> Taut:
    """The tight web from leaving the first roller to reaching the last."""
    ends = [touching(first, second) for first, second in pairwise(discs)]
    length = 0.0
    upward = []
    for place, (leaves, meets) in enumerate(ends):
        (x1, y1), (x2, y2) = point(discs[place], leaves), point(discs[place + 1], meets)
        span = hypot(x2 - x1, y2 - y1)
        length += span
        upward.append((y2 - y1) / span)
    for place in range(1, len(discs) - 1):
        meets, leaves = ends[place - 1][1], ends[place][0]
        turned = meets - leaves if discs[place][3] == "over" else leaves - meets
        length += discs[place][2] / 2 * (turned % (2 * pi))
    pulls = [abs(after - before) for before, after in pairwise(upward)]
    return Taut(length, (0.0, *pulls, 0.0))
