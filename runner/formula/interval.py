"""Intervals: what a value may be when its inputs may be anything allowed. Never too narrow.

Every operation rounds outwards, so that the true result and every float the evaluator can come to lie inside. Where some
allowed input has no result at all (a division by zero, a root of less than nothing), the answer is `Unbounded`.
"""

from math import cos, exp, floor, inf, isfinite, log, nextafter, pi, sin, sqrt, tan
from typing import NamedTuple, TypeAlias


class Interval(NamedTuple):
    """All values from `low` to `high`, both included and finite."""

    low: float
    high: float


class Texts(NamedTuple):
    """The texts that a value may be; None when it may be any."""

    may: frozenset[str] | None


class Truths(NamedTuple):
    """Whether a condition may be true, and whether it may be false."""

    true: bool
    false: bool


class Unbounded(NamedTuple):
    """Some allowed values have no result: why, and the columns of the part of the formula concerned."""

    message: str
    start: int = 0
    end: int = 0


Possible: TypeAlias = Interval | Texts | Truths | Unbounded
"""What a part of a formula may come to."""

TOO_LARGE = Unbounded("the result may become too large")


def widened(low: float, high: float, ulps: int = 1) -> Interval | Unbounded:
    """An interval with both ends moved outwards by some units in the last place."""
    for _ in range(ulps):
        low, high = nextafter(low, -inf), nextafter(high, inf)
    return Interval(low, high) if isfinite(low) and isfinite(high) else TOO_LARGE


def loosened(low: float, high: float, share: float = 1e-14) -> Interval | Unbounded:
    """An interval with both ends moved outwards by a share of the larger, for results of many operations."""
    room = share * max(abs(low), abs(high))
    return widened(low - room, high + room)


def loosened_each(low: float, high: float, share: float = 1e-14) -> Interval | Unbounded:
    """An interval with each end moved outwards by a share of itself, for products and roots: 0 stays 0."""
    low, high = low - share * abs(low), high + share * abs(high)
    return Interval(low, high) if isfinite(low) and isfinite(high) else TOO_LARGE


def point(value: float) -> Interval | Unbounded:
    """One value alone."""
    return Interval(value, value) if isfinite(value) else TOO_LARGE


def hull(parts: list[Interval]) -> Interval:
    """The smallest interval with all the parts in it; there is at least one."""
    return Interval(min(part.low for part in parts), max(part.high for part in parts))


def ends(low: float, low_exact: bool, high: float, high_exact: bool) -> Interval | Unbounded:
    """An interval whose ends are moved outwards only where they were rounded, so that 0 stays 0 and 1.3 stays 1.3."""
    low = low if low_exact else nextafter(low, -inf)
    high = high if high_exact else nextafter(high, inf)
    return Interval(low, high) if isfinite(low) and isfinite(high) else TOO_LARGE


def exact_sum(a: float, b: float) -> bool:
    """Whether a + b is not rounded."""
    total = a + b
    return total - a == b and total - b == a


def exact_product(a: float, b: float) -> bool:
    """Whether a * b is surely not rounded: one of them is 0, 1 or -1."""
    return a in (0.0, 1.0, -1.0) or b in (0.0, 1.0, -1.0)


def add(a: Interval, b: Interval) -> Interval | Unbounded:
    """a + b"""
    return ends(a.low + b.low, exact_sum(a.low, b.low), a.high + b.high, exact_sum(a.high, b.high))


def subtract(a: Interval, b: Interval) -> Interval | Unbounded:
    """a - b"""
    return add(a, negate(b))


def negate(a: Interval) -> Interval:
    """-a"""
    return Interval(-a.high, -a.low)


def multiply(a: Interval, b: Interval) -> Interval | Unbounded:
    """a * b"""
    return corner_ends([(x * y, exact_product(x, y)) for x in a for y in b])


def corner_ends(corners: list[tuple[float, bool]]) -> Interval | Unbounded:
    """The interval of results at the corners of a box, each with whether it is exact."""
    low, high = min(corners), max(corners, key=lambda corner: (corner[0], not corner[1]))
    return ends(*low, *high)


def divide(a: Interval, b: Interval) -> Interval | Unbounded:
    """a / b; unbounded where b may be zero."""
    if b.low <= 0.0 <= b.high:
        return Unbounded("this may divide by zero")
    return corner_ends([(x / y, x == 0.0 or y in (1.0, -1.0)) for x in a for y in b])


def power(a: Interval, exponent: int) -> Interval | Unbounded:
    """a ^ exponent, for a whole exponent; one below zero divides."""
    if exponent < 0:
        if a.low <= 0.0 <= a.high:
            return Unbounded("this may divide by zero")
        below = power(a, -exponent)
        if isinstance(below, Unbounded) or below.low <= 0.0 <= below.high:
            return TOO_LARGE
        quotient = divide(Interval(1.0, 1.0), below)
        return quotient if isinstance(quotient, Unbounded) else widened(*quotient, 2)
    try:
        at_ends = (a.low**exponent, a.high**exponent)
    except OverflowError:
        return TOO_LARGE
    wide = widened(min(at_ends), max(at_ends), 2)
    if isinstance(wide, Unbounded) or exponent == 1:
        return a if exponent == 1 else wide
    if exponent % 2 == 0:
        return Interval(0.0 if exponent and a.low <= 0.0 <= a.high else max(wide.low, 0.0), wide.high)
    return Interval(
        max(wide.low, 0.0) if a.low >= 0.0 else wide.low, min(wide.high, 0.0) if a.high <= 0.0 else wide.high
    )


def absolute(a: Interval) -> Interval:
    """|a|"""
    if a.low <= 0.0 <= a.high:
        return Interval(0.0, max(-a.low, a.high))
    return Interval(min(abs(a.low), abs(a.high)), max(abs(a.low), abs(a.high)))


def square_root(a: Interval) -> Interval | Unbounded:
    """The square root; unbounded where a may be below zero."""
    if a.low < 0.0:
        return Unbounded("this may take the square root of a number below zero")
    wide = widened(sqrt(a.low), sqrt(a.high))
    return wide if isinstance(wide, Unbounded) else Interval(max(wide.low, 0.0), wide.high)


def exponential(a: Interval) -> Interval | Unbounded:
    """e ^ a"""
    try:
        return widened(exp(a.low), exp(a.high), 2)
    except OverflowError:
        return TOO_LARGE


def logarithm(a: Interval) -> Interval | Unbounded:
    """The natural logarithm; unbounded where a may be zero or less."""
    if a.low <= 0.0:
        return Unbounded("this may take the logarithm of zero or less")
    return widened(log(a.low), log(a.high), 2)


def sine(a: Interval) -> Interval:
    """The sine of an angle in rad."""
    return wave(a, sin(a.low), sin(a.high), pi / 2.0)


def cosine(a: Interval) -> Interval:
    """The cosine of an angle in rad."""
    return wave(a, cos(a.low), cos(a.high), 0.0)


def wave(a: Interval, at_low: float, at_high: float, top: float) -> Interval:
    """A sine-like wave with its tops at `top` and every full turn from there, its bottoms half a turn later."""
    low, high = min(at_low, at_high), max(at_low, at_high)
    if meets(a, top, 2.0 * pi):
        high = 1.0
    if meets(a, top + pi, 2.0 * pi):
        low = -1.0
    wide = widened(low, high, 2)
    assert not isinstance(wide, Unbounded)  # a wave stays within -1 and 1
    return Interval(max(wide.low, -1.0), min(wide.high, 1.0))


def meets(a: Interval, place: float, period: float) -> bool:
    """Whether an interval may hold `place` or a point any number of periods from it; in doubt it does."""
    slack = 1e-12 * max(1.0, abs(a.low), abs(a.high))
    return floor((a.high + slack - place) / period) > floor((a.low - slack - place) / period)


def tangent(a: Interval) -> Interval | Unbounded:
    """The tangent of an angle in rad; unbounded where it may be a right angle."""
    if meets(a, pi / 2.0, pi):
        return Unbounded("this may take the tangent of a right angle")
    return loosened(tan(a.low), tan(a.high))
