"""Quartiles and percentiles against published examples, and against exact fractions where libraries are wrong."""

from fractions import Fraction
from math import ceil

import numpy
import pytest
from hypothesis import given
from hypothesis import strategies as some

from runner.report.times.spread import nearest_rank, quantile, shares, spread_of, whole_percent

FIVE = [15, 20, 35, 40, 50]
TEN = [3, 6, 7, 8, 8, 10, 13, 15, 16, 20]
ELEVEN = sorted([*TEN, 9])


@pytest.mark.parametrize(
    ("numbers", "percents", "expected"),
    [
        (FIVE, [5, 30, 40, 50, 100], [15, 20, 20, 35, 50]),
        (TEN, [25, 50, 75, 100], [7, 8, 15, 20]),
        (ELEVEN, [25, 50, 75, 100], [7, 9, 15, 20]),
    ],
)
def test_nearest_ranks_are_those_of_the_worked_examples(
    numbers: list[float], percents: list[int], expected: list[float]
) -> None:
    """Worked examples of the encyclopedia article "Percentile", section The nearest-rank method."""
    assert [nearest_rank(numbers, percent) for percent in percents] == expected


def test_no_pair_of_count_and_percent_moves_the_nearest_rank() -> None:
    """In floating point, ceil(p/100 n) is one too far for 13 pairs up to 100 (derived); exact fractions are the judge."""
    moved = []
    for count in range(1, 101):
        ranked = list(range(1, count + 1))
        for percent in range(1, 101):
            place = ceil(Fraction(percent * count, 100))
            assert nearest_rank(ranked, percent) == place, (count, percent)
            if ceil(percent / 100 * count) != place:
                moved.append((count, percent))
    assert len(moved) == 13
    assert {(25, 28), (50, 14), (50, 28), (50, 56), (100, 7), (100, 14), (100, 28), (100, 55)} <= set(moved)


def test_the_quantile_is_of_type_7() -> None:
    """Hyndman and Fan (1996): the 40th percentile of these five is 20, 27.5, 20, 20, 27.5, 26, 29, 27, 27.125 by types
    1 to 9 (derived; 29 and 26 are printed in public worked examples). Type 7 is numpy's `linear`."""
    assert quantile(FIVE, 40, 100) == 29
    assert quantile(FIVE, 40, 100) == numpy.percentile(FIVE, 40, method="linear")


@given(some.lists(some.floats(0, 1e6), min_size=1, max_size=60), some.integers(0, 4))
def test_quartiles_agree_with_numpy(numbers: list[float], quarter: int) -> None:
    ours = quantile(sorted(numbers), quarter, 4)
    assert ours == pytest.approx(numpy.quantile(numbers, quarter / 4, method="linear"), rel=1e-12, abs=1e-9)


def test_a_spread_of_nothing_is_not_known_and_of_one_is_that_one() -> None:
    assert spread_of([]) is None
    one = spread_of([7.0])
    assert one is not None
    assert (one.count, one.least, one.lower, one.median, one.upper, one.most) == (1, 7, 7, 7, 7, 7)


def test_shares_add_up_to_the_whole() -> None:
    assert shares([5, 3, 2]) == (0.5, 0.8, 1.0)
    assert shares([]) == ()
    assert [whole_percent(part) for part in (0.125, 0.5, 1.0)] == [13, 50, 100]
