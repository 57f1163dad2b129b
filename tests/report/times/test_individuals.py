"""The individuals chart against published data with published answers, its factors against integrals and tables."""

import pytest
from scipy import integrate, stats

from runner.report.times.individuals import D2, D3, D4, E2, individuals

ENGINE = [
    24.05, 23.99, 23.95, 23.93, 23.97, 24.02, 24.06, 24.10, 23.98, 24.03, 23.91, 24.06, 24.06, 23.96, 23.98,
    24.06, 24.01, 24.00, 23.93, 23.92, 24.09, 24.11, 24.05, 23.98, 23.98, 24.06, 24.02, 24.06, 23.97, 23.96,
]  # fmt: skip
"""SAS/QC User's Guide, the IRCHART procedure, example 9.4 (support.sas.com, document qcug 63964)."""

SECOND = [
    78.4, 80.1, 84.4, 79.1, 80.4, 83.5, 73.8, 83.5, 75.0, 76.8, 70.5, 80.3, 82.4, 79.4, 86.4, 90.5, 77.7, 82.5, 79.9,
    83.2,
]  # fmt: skip
"""SAS/QC User's Guide, document 66114: the data and the first moving ranges are printed; the limits are derived."""

FLOW = [49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1]
"""NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.2 (from memory)."""


def test_published_data_give_the_published_limits() -> None:
    chart = individuals(ENGINE)
    assert chart is not None
    assert round(chart.mean, 4) == 24.0083
    assert (round(chart.lower, 4), round(chart.upper, 4)) == (23.8571, 24.1596)
    assert round(chart.mean_moving, 6) == 0.056897
    assert chart.range_upper == pytest.approx(0.18585, abs=5e-6)
    assert round(chart.sigma, 6) == 0.050423
    assert chart.outside == ()


def test_the_second_published_data_begin_with_the_printed_moving_ranges() -> None:
    chart = individuals(SECOND)
    assert chart is not None
    assert [round(moved, 6) for moved in chart.moving[:4]] == [1.7, 4.3, 5.3, 1.3]
    assert round(chart.mean, 6) == 80.39
    assert round(chart.mean_moving, 6) == 5.326316
    assert (round(chart.lower, 3), round(chart.upper, 3), round(chart.range_upper, 3)) == (66.229, 94.551, 17.399)


def test_the_handbook_example_gives_its_limits() -> None:
    """The handbook works with d2 rounded to 1.128; ours has all digits, so that the fourth figure may differ."""
    chart = individuals(FLOW)
    assert chart is not None
    assert chart.mean == pytest.approx(50.81)
    assert round(chart.mean_moving, 4) == 1.8778
    assert chart.lower == pytest.approx(45.8159, abs=2e-3)
    assert chart.upper == pytest.approx(55.8041, abs=2e-3)
    rounded = (chart.mean - 3 * chart.mean_moving / 1.128, chart.mean + 3 * chart.mean_moving / 1.128)
    assert [round(limit, 4) for limit in rounded] == [45.8159, 55.8041]


def test_the_factors_are_those_of_the_tables() -> None:
    """The row n = 2 of the table of the vignette "Shewhart Constants" of the R package SixSigma; 2.66 and 3.267 as
    every table of control chart factors prints them."""
    assert (round(D2, 4), round(D3, 4), round(D4, 4), round(E2, 3)) == (1.1284, 0.8525, 3.2665, 2.659)
    assert (round(E2, 2), round(D4, 3)) == (2.66, 3.267)


def test_the_factors_are_the_integrals_that_they_stand_for() -> None:
    """d2 and d3 are mean and standard deviation of the range of two standard normal numbers, whose difference is normal
    with variance 2. Judge: numerical integrals by scipy."""
    density = stats.norm(scale=2**0.5).pdf
    mean = 2 * integrate.quad(lambda x: x * density(x), 0, 40)[0]
    square = 2 * integrate.quad(lambda x: x * x * density(x), 0, 40)[0]
    assert pytest.approx(mean, rel=1e-9) == D2
    assert pytest.approx((square - mean**2) ** 0.5, rel=1e-9) == D3


def test_what_lies_outside_is_named_by_its_place() -> None:
    chart = individuals([10, 11, 10, 11, 10, 11, 10, 11, 10, 30])
    assert chart is not None
    assert chart.outside == (9,)
    assert chart.jumps == (9,)


def test_fewer_than_two_have_no_chart() -> None:
    assert individuals([]) is None
    assert individuals([5.0]) is None
