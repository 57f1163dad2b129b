"""Shares of time and output against published worked examples."""

import pytest

from runner.report.times.effectiveness import effectiveness, setup_ratio, share


def test_the_worksheet_example_gives_its_printed_shares() -> None:
    """The OEE worksheet in public copies (vdocuments.us/download/oee-worksheet): shift 480 min, breaks 60, down 47,
    19 271 pieces, 423 rejects, ideal 60 a minute; printed 88.81, 86.11, 97.80 and 74.79 %."""
    found = effectiveness((480 - 60) * 60.0, 47 * 60.0, 60 / 60, 19271, 19271 - 423)
    assert found is not None
    assert round(found.availability * 100, 2) == 88.81
    assert round(found.performance * 100, 2) == 86.11
    assert round(found.quality * 100, 2) == pytest.approx(97.80, abs=0.011)  # 97.805; the sheet cuts, ours rounds
    assert round(found.overall * 100, 2) == 74.79


def test_the_product_is_good_output_at_the_ideal_rate_over_planned_time() -> None:
    """The identity behind the product, on the same example: 18 848 / (60 x 420)."""
    found = effectiveness(420 * 60.0, 47 * 60.0, 1.0, 19271, 18848)
    assert found is not None
    assert found.overall == pytest.approx(18848 / (60 * 420), rel=1e-12)


def test_the_calculator_example_gives_its_printed_shares() -> None:
    """waycalculator.com: planned 480 min, run 420, ideal 1 a minute, 400 made, 380 good: 87.5, 95.2, 95.0, 79.1 %
    (the exact product is 79.1667, which the page cuts)."""
    found = effectiveness(480 * 60.0, 60 * 60.0, 1 / 60, 400, 380)
    assert found is not None
    assert [round(part * 100, 1) for part in (found.availability, found.performance, found.quality)] == [87.5, 95.2, 95]
    assert found.overall * 100 == pytest.approx(79.1667, abs=5e-5)


def test_time_elements_give_availability_and_set_up_ratio() -> None:
    """Elements of ISO 22400-2 (definitions from memory): APT 312, AUST 48, PBT 420 give 74.286 and 13.333 % (derived)."""
    available = share(312, 420)
    setup = setup_ratio(48, 312)
    assert available is not None
    assert setup is not None
    assert (round(available * 100, 3), round(setup * 100, 3)) == (74.286, 13.333)


def test_a_share_of_nothing_is_not_known() -> None:
    assert share(1, 0) is None
    assert effectiveness(0, 0, 1, 1, 1) is None
    assert effectiveness(10, 10, 1, 1, 1) is None
    assert effectiveness(10, 0, 1, 0, 0) is None
    assert setup_ratio(0, 0) is None
