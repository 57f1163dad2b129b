"""The scale of a drawing: from numbers to places between 0 and 1, with round numbers to label it.

A limit is drawn where it lies in or near what the value does; one so far off that the value would be squashed is said in
words instead.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from math import ceil, floor, log10

from runner.formula.quantity import shown_number

LEAST_SHARE = 0.4
"""The value takes at least this much of the scale; a limit that would take more away stays outside."""
TINY = 1e-250
"""What differs by no more is the same number."""
MARGIN = 0.04
"""Room over and under, as a share of the scale."""


@dataclass(frozen=True, slots=True)
class Scale:
    """A range of numbers."""

    low: float
    high: float

    def at(self, value: float) -> float:
        """0 at the low end, 1 at the high end."""
        return (value - self.low) / (self.high - self.low)

    def holds(self, value: float) -> bool:
        """Whether a number lies on the scale."""
        return self.low <= value <= self.high

    def ticks(self, wanted: int) -> tuple[float, ...]:
        """Round numbers on the scale, at most so many; at least one."""
        span = self.high - self.low
        power = 10.0 ** floor(log10(span / max(1, wanted)))
        for factor in (1, 2, 5, 10, 20, 50, 100):
            step = factor * power
            first, last = ceil(self.low / step - 1e-9), floor(self.high / step + 1e-9)
            if last - first + 1 <= wanted:
                return tuple(number * step for number in range(first, last + 1)) or ((self.low + self.high) / 2,)
        return ((self.low + self.high) / 2,)


def scale_of(values: Iterable[float | None], limits: Iterable[float | None], from_zero: bool = False) -> Scale:
    """The scale for values and those of their limits that lie near them. `from_zero`: zero is on it, as bars need."""
    known = [value for value in values if value is not None]
    low, high = (min(known), max(known)) if known else (0.0, 1.0)
    if from_zero:
        low, high = min(low, 0.0), max(high, 0.0)
    span = high - low
    if span <= max(1e-9 * max(abs(low), abs(high)), TINY):
        room = abs(high) / 10 or 1.0
        span, low, high = 2 * room, low - room, high + room
    for limit in sorted((limit for limit in limits if limit is not None), key=lambda limit: off(limit, low, high)):
        least, most = min(low, limit), max(high, limit)
        if span >= LEAST_SHARE * (most - least):
            low, high = least, most
    room = MARGIN * (high - low)
    if from_zero:
        return Scale(low - room if low < 0 else low, high + room if high > 0 else high)
    return Scale(low - room, high + room)


def off(value: float, low: float, high: float) -> float:
    """How far a number lies outside of a range."""
    return max(low - value, value - high, 0.0)


def label(number: float) -> str:
    """A number at an axis; float noise is not shown."""
    return shown_number(float(f"{number:.9g}"))
