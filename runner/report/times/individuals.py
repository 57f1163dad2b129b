"""Individuals chart: single numbers in their order, with the limits that their own moving range gives.

Moving ranges are of two neighbours. Limits stand three standard deviations from the mean (W. A. Shewhart's chart as in
ISO 7870-2, from memory), with the standard deviation estimated as the mean moving range over d2; 3/d2 is printed as 2.66 and D4 as
3.267. They tell what is usual from what is not; they are no target, and a number outside asks for a look, not for blame.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import pi, sqrt
from statistics import fmean

D2 = 2 / sqrt(pi)
"""Mean range of two numbers of a normal distribution of standard deviation 1; printed 1.128."""
D3 = sqrt(2 - 4 / pi)
"""Standard deviation of that range; printed 0.8525."""
E2 = 3 / D2
"""Printed 2.66."""
D4 = 1 + 3 * D3 / D2
"""Printed 3.267. The lower limit of the range, D3 of the tables, is 0 for two numbers."""

ENOUGH = 20
"""Limits from fewer numbers move much with each further one (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Individuals:
    """The chart's figures, in the unit of the numbers."""

    values: tuple[float, ...]
    mean: float
    moving: tuple[float, ...]
    """Moving ranges, one fewer than values."""
    mean_moving: float
    sigma: float
    """Standard deviation as the moving ranges give it."""
    lower: float
    upper: float
    range_upper: float
    """Upper limit of a moving range."""

    @property
    def outside(self) -> tuple[int, ...]:
        """Places, from 0, of the numbers outside of the limits."""
        return tuple(at for at, value in enumerate(self.values) if not self.lower <= value <= self.upper)

    @property
    def jumps(self) -> tuple[int, ...]:
        """Places, from 1, of the numbers that lie farther from the one before than is usual."""
        return tuple(at for at, moved in enumerate(self.moving, start=1) if moved > self.range_upper)


def individuals(values: Sequence[float]) -> Individuals | None:
    """The chart of numbers in their order; None for fewer than two, which have no moving range."""
    if len(values) < 2:
        return None
    mean = fmean(values)
    moving = tuple(abs(after - before) for before, after in pairwise(values))
    mean_moving = fmean(moving)
    room = E2 * mean_moving
    return Individuals(
        tuple(values), mean, moving, mean_moving, mean_moving / D2, mean - room, mean + room, D4 * mean_moving
    )
