"""Whether a web path can surely be run all over a box: no span through a roller, no span across another.

Only proofs count here: what is not shown to have room may have none. All distances are taken from their least values, so
the answer is never too kind; wide boxes have to be cut before it says yes.
"""

from collections.abc import Sequence
from math import hypot, pi
from typing import NamedTuple

from runner.formula.interval import Interval, cosine, sine

SLACK = 1e-12
"""Share of the size of the path that rounding may take from a distance."""


class Disc(NamedTuple):
    """The side view of a roller whose centre and radius lie within intervals."""

    name: str
    x: Interval
    y: Interval
    radius: Interval


class Stretch(NamedTuple):
    """A free span: the places of the rollers at its ends, which way they turn, its heading (rad) and length (m)."""

    start: int
    end: int
    start_turn: int
    end_turn: int
    heading: Interval
    length: Interval


class Point(NamedTuple):
    """A point in a box."""

    x: Interval
    y: Interval


class Placed(NamedTuple):
    """A span with its ends, and its direction as cosine and sine."""

    start: Point
    end: Point
    across: Interval
    upwards: Interval
    length: Interval


def without_room(discs: Sequence[Disc], stretches: Sequence[Stretch], wraps: Sequence[Interval]) -> str:
    """What may be in the web's way somewhere in the box, in words; empty where it surely can run."""
    size = max(max(abs(d.x.low), abs(d.x.high), abs(d.y.low), abs(d.y.high)) + d.radius.high for d in discs)
    slack = SLACK * size
    spans = [placed(discs, stretch) for stretch in stretches]
    for number, span in enumerate(spans):
        for place, disc in enumerate(discs):
            if place not in (number, number + 1) and not clear_of(span, disc, slack):
                return f"the web may run through {disc.name}"
    for later in range(1, len(spans)):
        for earlier in range(later):
            neighbours = earlier == later - 1
            if neighbours and wraps[later].high <= pi:
                continue
            if not apart(spans[earlier], spans[later], slack):
                name = discs[later].name
                return f"the web may not touch {name}" if neighbours else f"the web may cross itself behind {name}"
    return ""


def placed(discs: Sequence[Disc], stretch: Stretch) -> Placed:
    """A span in its box."""
    across, upwards = cosine(stretch.heading), sine(stretch.heading)
    ends = []
    for disc, turn in ((discs[stretch.start], stretch.start_turn), (discs[stretch.end], stretch.end_turn)):
        reach = disc.radius if turn > 0 else Interval(-disc.radius.high, -disc.radius.low)
        ends.append(Point(plus(disc.x, times(reach, upwards)), minus(disc.y, times(reach, across))))
    return Placed(ends[0], ends[1], across, upwards, stretch.length)


def clear_of(span: Placed, disc: Disc, slack: float) -> bool:
    """Whether a span surely passes a roller by."""
    reach = disc.radius.high + slack
    if away(span, disc.x.low - reach, disc.x.high + reach, disc.y.low - reach, disc.y.high + reach):
        return True
    ahead, aside = seen_from(span, Point(disc.x, disc.y))
    beyond = max(0.0, -ahead.high, ahead.low - span.length.high)
    beside = max(0.0, aside.low, -aside.high)
    return hypot(beyond, beside) > reach


def away(span: Placed, left: float, right: float, bottom: float, top: float) -> bool:
    """Whether the corner box of a span surely misses an upright rectangle."""
    a, b = span.start, span.end
    return (
        max(a.x.high, b.x.high) < left
        or min(a.x.low, b.x.low) > right
        or max(a.y.high, b.y.high) < bottom
        or min(a.y.low, b.y.low) > top
    )


def apart(first: Placed, second: Placed, slack: float) -> bool:
    """Whether two spans surely do not cross: one of them lies on one side of the other, or past its end."""
    a, b = second.start, second.end
    left, right = min(a.x.low, b.x.low) - slack, max(a.x.high, b.x.high) + slack
    bottom, top = min(a.y.low, b.y.low) - slack, max(a.y.high, b.y.high) + slack
    return away(first, left, right, bottom, top) or beside(first, second, slack) or beside(second, first, slack)


def beside(base: Placed, other: Placed, slack: float) -> bool:
    """Whether both ends of a span lie on the same side of another, or both before it, or both beyond it."""
    ends = [seen_from(base, other.start), seen_from(base, other.end)]
    return (
        all(aside.low > slack for _, aside in ends)
        or all(aside.high < -slack for _, aside in ends)
        or all(ahead.high < -slack for ahead, _ in ends)
        or all(ahead.low > base.length.high + slack for ahead, _ in ends)
    )


def seen_from(span: Placed, point: Point) -> tuple[Interval, Interval]:
    """How far a point lies ahead of a span's beginning, and to its left."""
    x, y = minus(point.x, span.start.x), minus(point.y, span.start.y)
    return (
        plus(times(x, span.across), times(y, span.upwards)),
        minus(times(y, span.across), times(x, span.upwards)),
    )


def plus(a: Interval, b: Interval) -> Interval:
    """a + b, but for rounding, which `SLACK` covers."""
    return Interval(a.low + b.low, a.high + b.high)


def minus(a: Interval, b: Interval) -> Interval:
    """a - b, but for rounding."""
    return Interval(a.low - b.high, a.high - b.low)


def times(a: Interval, b: Interval) -> Interval:
    """a * b, but for rounding."""
    corners = (a.low * b.low, a.low * b.high, a.high * b.low, a.high * b.high)
    return Interval(min(corners), max(corners))
