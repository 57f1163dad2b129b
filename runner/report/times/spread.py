"""How numbers are spread: quartiles and percentiles, each with its kind said, since there are nine in use.

Quartiles of measured times are of type 7 (R. J. Hyndman and Y. Fan, Sample Quantiles in Statistical Packages, The
American Statistician 50, 1996, 361-365). A percentile that must be a run that really was is a nearest rank.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import floor

KIND = "Quartiles and medians are Hyndman and Fan's type 7; nine in ten is the nearest rank."
"""What every output that shows such figures says of them."""


@dataclass(frozen=True, slots=True)
class Spread:
    """Count and places of a list of numbers, in the unit of the numbers."""

    count: int
    least: float
    lower: float
    """Lower quartile."""
    median: float
    upper: float
    """Upper quartile."""
    most: float


def spread_of(values: Sequence[float]) -> Spread | None:
    """Where the numbers lie; None where there are none."""
    if not values:
        return None
    ranked = sorted(values)
    lower, median, upper = (quantile(ranked, quarter, 4) for quarter in (1, 2, 3))
    return Spread(len(ranked), ranked[0], lower, median, upper, ranked[-1])


def quantile(ranked: Sequence[float], parts: int, of: int) -> float:
    """The quantile parts/of by type 7 of sorted numbers, at least one: linear between those at both sides of
    1 + (n - 1) parts/of, counted from 1. Whole numbers come in, so that no rounding moves the place."""
    whole, rest = divmod((len(ranked) - 1) * parts, of)
    low = ranked[whole]
    if not rest:
        return low
    return low + (ranked[whole + 1] - low) * rest / of


def nearest_rank(ranked: Sequence[float], percent: int) -> float:
    """The number at place ceil(percent n / 100) of sorted numbers, counted from 1; the first for 0 percent.

    Worked out in whole numbers: in floating point the place is one too far for some (n 25, 28 percent).
    """
    return ranked[max(1, -(-percent * len(ranked) // 100)) - 1]


def shares(counts: Sequence[int]) -> tuple[float, ...]:
    """For counts in falling order, the share of all that each and those before it make up, 0 to 1."""
    total, running, found = sum(counts), 0, []
    for count in counts:
        running += count
        found.append(running / total)
    return tuple(found)


def whole_percent(share: float) -> int:
    """A share in whole percent, halves up."""
    return floor(share * 100 + 0.5)
