"""Lifting: printed sling charts, the federal chain table, and the weakest rating."""

from math import pi, radians

import pytest
from hypothesis import given
from hypothesis import strategies as st

from runner.trade import lifting

PRINTED = {
    90: 1, 85: 1.004, 80: 1.015, 75: 1.035, 70: 1.064, 65: 1.104, 60: 1.155,
    55: 1.221, 50: 1.305, 45: 1.414, 40: 1.555, 35: 1.742, 30: 2,
}  # fmt: skip
"""Leg load factors by angle from the horizontal: ashleysling.com/calculating-sling-angles; Sharrow sling catalogue p. 93."""


@pytest.mark.parametrize(("angle", "factor"), PRINTED.items())
def test_leg_loads_are_those_of_the_printed_charts(angle: float, factor: float) -> None:
    """Three of the printed third decimals are misrounded, hence 0.002."""
    assert lifting.leg_load(1.0, 1, radians(angle)) == pytest.approx(factor, abs=0.002)


@pytest.mark.parametrize(("angle", "each"), [(60, 577), (45, 707)])
def test_a_thousand_pounds_on_two_legs(angle: float, each: float) -> None:
    """kwrs.com/products/212: 577 lb at 60 degrees, 707 lb at 45 degrees."""
    assert lifting.leg_load(1000, 2, radians(angle)) == pytest.approx(each, abs=0.5)


@pytest.mark.parametrize(
    ("rating", "legs", "angle", "printed"),
    [
        (6600, 2, 60, 11400), (6600, 2, 45, 9300), (6600, 2, 30, 6600),
        (6600, 3, 60, 17000), (6600, 3, 45, 14000), (6600, 3, 30, 9900),
        (11250, 2, 60, 19500), (11250, 2, 45, 15900), (11250, 2, 30, 11250),
        (11250, 3, 60, 29000), (11250, 3, 45, 24000), (11250, 3, 30, 17000),
    ],
)  # fmt: skip
def test_the_federal_chain_table_loads_each_leg_to_its_rating(
    rating: float, legs: int, angle: float, printed: float
) -> None:
    """Alloy chain table H-1 (state copy, Ohio 4123:1-3-08), lb; four legs are printed as three. Cells round to 1 %."""
    assert lifting.leg_load(printed, legs, radians(angle)) == pytest.approx(rating, rel=0.01)


@pytest.mark.parametrize(("angle", "each"), [(60, 515.57), (45, 631.45), (30, 893.00)])
def test_roll_shaft_and_beam_on_two_legs(angle: float, each: float) -> None:
    """Derived: 780 + 65 + 48 = 893 kg."""
    hook = lifting.hook_load({"roll": 780, "shaft": 65, "beam": 48}, {"crane": 1000, "beam": 950})
    assert hook is not None
    assert hook == lifting.HookLoad(893.0, "beam", 950.0, 57.0)
    assert lifting.leg_load(hook.load, 2, radians(angle)) == pytest.approx(each, abs=0.005)


def test_the_weakest_rating_decides_and_the_margin_may_be_negative() -> None:
    hook = lifting.hook_load({"roll": 700.0, "beam": 60.0}, {"crane": 2000.0, "sling": 750.0, "beam": 1000.0})
    assert hook == (760.0, "sling", 750.0, -10.0)


def test_without_a_rating_nothing_is_said_about_a_load() -> None:
    assert lifting.hook_load({"roll": 700.0}, {}) is None


def test_a_load_off_the_middle_of_a_beam_hangs_on_the_nearer_end() -> None:
    """Derived by the lever rule: 1000 kg, 0.8 m from the left end and 1.2 m from the right give 600 and 400 kg."""
    assert lifting.beam_ends(1000, 0.8, 1.2) == pytest.approx((600, 400))


def test_a_spreader_is_pushed_together() -> None:
    """Derived: N = W g / (2 tan alpha), 1000 kg at 60 degrees give 2830.94 N."""
    assert lifting.spreader_compression(1000, radians(60)) == pytest.approx(2830.94, abs=0.005)


@given(st.floats(1, 2000), st.integers(1, 4), st.floats(0.1, pi / 2))
def test_the_legs_together_carry_the_load_upwards(load: float, legs: int, angle: float) -> None:
    from math import sin

    assert lifting.leg_load(load, legs, angle) * legs * sin(angle) == pytest.approx(load)


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: lifting.leg_load(-1, 2, 1.0), "cannot be negative"),
        (lambda: lifting.leg_load(1, 0, 1.0), "whole number"),
        (lambda: lifting.leg_load(1, 2.5, 1.0), "whole number"),
        (lambda: lifting.leg_load(1, 2, 0.0), "between 0 and 90"),
        (lambda: lifting.leg_load(1, 2, 60.0), "between 0 and 90"),
        (lambda: lifting.beam_ends(1, -0.1, 1.0), "between the two ends"),
        (lambda: lifting.spreader_compression(1, 0.0), "between 0 and 90"),
    ],
)
def test_outside_its_range_each_function_says_why(call, words: str) -> None:  # type: ignore[no-untyped-def]
    with pytest.raises(ValueError, match=words):
        call()
