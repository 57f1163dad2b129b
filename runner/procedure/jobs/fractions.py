"""Ways through a box of values that are the same on every run: corners, then edges, then points spread evenly."""

from collections.abc import Callable, Iterator

SPREAD = 40
"""Points tried between corners and edges; enough for a condition that splits off an eighth of the box, in most cases."""

GOLDEN = 0.6180339887498949
"""Fractional part of the golden ratio: its multiples fill the unit interval evenly."""

Fraction = Callable[[int], float]
"""How far along its range the n-th value of a sample lies, 0 to 1."""


def fractions(width: int) -> Iterator[Fraction]:
    """Ways through a box of so many values: high corner, low corner, middle, every edge's ends, points between."""
    yield lambda _: 1.0
    yield lambda _: 0.0
    yield lambda _: 0.5
    for varied in range(width):
        for end in (0.0, 1.0):
            yield lambda n, varied=varied, end=end: end if n == varied else 0.5  # type: ignore[misc]  # bound early
    for point in range(1, SPREAD + 1):
        yield lambda n, point=point: (point * GOLDEN * (n + 1) + n * 0.5) % 1.0  # type: ignore[misc]  # bound early
