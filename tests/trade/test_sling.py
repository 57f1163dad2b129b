"""Slings: printed charts, the federal chain table, factors that statics allows, and no flat sling."""

from math import asin, pi, radians, sin

import pytest
from hypothesis import given
from hypothesis import strategies as st

from runner.trade import sling

PRINTED = {
    90: 1, 85: 1.004, 80: 1.015, 75: 1.035, 70: 1.064, 65: 1.104, 60: 1.155,
    55: 1.221, 50: 1.305, 45: 1.414, 40: 1.555, 35: 1.742, 30: 2,
}  # fmt: skip
"""Leg load factors by angle from the horizontal: ashleysling.com/calculating-sling-angles; Sharrow sling catalogue p. 93."""
STEEP = st.floats(pi / 6, pi / 2)
TABLE_H_1 = [
    (6600, 2, 60, 11400), (6600, 2, 45, 9300), (6600, 2, 30, 6600),
    (6600, 3, 60, 17000), (6600, 3, 45, 14000), (6600, 3, 30, 9900),
    (6600, 4, 60, 17000), (6600, 4, 45, 14000), (6600, 4, 30, 9900),
    (11250, 2, 60, 19500), (11250, 2, 45, 15900), (11250, 2, 30, 11250),
    (11250, 3, 60, 29000), (11250, 3, 45, 24000), (11250, 3, 30, 17000),
    (11250, 4, 60, 29000), (11250, 4, 45, 24000), (11250, 4, 30, 17000),
]  # fmt: skip
"""Alloy chain table H-1 (state copy, Ohio 4123:1-3-08), lb; one column for three and four legs. Cells round to 1 %."""


@pytest.mark.parametrize(("angle", "factor"), PRINTED.items())
def test_leg_loads_are_those_of_the_printed_charts(angle: float, factor: float) -> None:
    """Three of the printed third decimals are misrounded, hence 0.002."""
    assert sling.leg_load(1.0, 1, radians(angle)) == pytest.approx(factor, abs=0.002)


@pytest.mark.parametrize(("length", "height", "factor"), [(120, 96, 1.25), (96, 84, 8 / 7)])
def test_leg_loads_by_height_are_those_of_the_same_page(length: float, height: float, factor: float) -> None:
    """ashleysling.com: legs of 120 in at 96 in make 1500 lb of 1200 lb; of 96 in at 84 in hold 7000 lb by 8000 lb."""
    assert sling.leg_load_by_height(1.0, 1, length, height) == pytest.approx(factor)


@pytest.mark.parametrize(("angle", "each"), [(60, 577), (45, 707)])
def test_a_thousand_pounds_on_two_legs(angle: float, each: float) -> None:
    """kwrs.com/products/212: 577 lb at 60 degrees, 707 lb at 45 degrees."""
    assert sling.leg_load(1000, 2, radians(angle)) == pytest.approx(each, abs=0.5)


@pytest.mark.parametrize(("rating", "legs", "angle", "printed"), TABLE_H_1)
def test_the_federal_chain_table_follows_from_the_rating_of_a_leg(
    rating: float, legs: int, angle: float, printed: float
) -> None:
    assert sling.sling_capacity(rating, legs, radians(angle)) == pytest.approx(printed, rel=0.01)
    assert sling.leg_load(printed, legs, radians(angle)) == pytest.approx(rating, rel=0.01)


@pytest.mark.parametrize(("angle", "printed"), [(75, 966), (60, 866), (45, 707), (30, 500)])
def test_a_sling_of_1000_lb_holds_what_is_printed(angle: float, printed: float) -> None:
    """usnetting.com safety tips, citing ASME B30.9."""
    assert sling.sling_capacity(1000, 1, radians(angle)) == pytest.approx(printed, abs=0.5)


@pytest.mark.parametrize("angle", [29.99, 15, 5])
def test_a_sling_flatter_than_30_degrees_is_refused(angle: float) -> None:
    """The same page prints 258 and 87 lb for 15 and 5 degrees, and that they are not to be used."""
    for call in (sling.leg_load, sling.sling_capacity):
        with pytest.raises(ValueError, match="flatter than 30 degrees"):
            call(1000, 2, radians(angle))
    with pytest.raises(ValueError, match="flatter than 30 degrees"):
        sling.leg_load_by_height(1000, 2, 1.0, sin(radians(angle)))


def test_30_degrees_itself_is_allowed_however_it_was_rounded() -> None:
    assert sling.leg_load(1.0, 1, radians(30)) == pytest.approx(2)
    assert sling.leg_load(1.0, 1, asin(0.5)) == pytest.approx(2)
    assert sling.leg_load_by_height(1.0, 1, 1.2, 0.6) == pytest.approx(2)


@pytest.mark.parametrize(("mode", "legs", "flattest"), [
    ("vertical", 1, 90), ("two legs to 90", 2, 45), ("two legs to 120", 2, 30),
    ("three or four legs to 90", 4, 45), ("three or four legs to 120", 4, 30), ("three or four legs, uneven", 2, 45),
])  # fmt: skip
def test_no_factor_is_more_than_statics_allows_at_its_flattest(mode: str, legs: int, flattest: float) -> None:
    """cpcsmastery.co.uk/reference/sling-angles-swl (1.5: EN 818-4, from memory) against n sin(alpha), 1 % apart at most."""
    exact = sling.sling_capacity(1.0, legs, radians(flattest))
    assert sling.mode_factor(mode) <= exact * (1 + 1e-12)
    assert sling.mode_factor(mode) == pytest.approx(exact, rel=0.011)


@pytest.mark.parametrize(("mode", "factor"), [("choke", 0.8), ("basket", 2.0)])
def test_choke_and_basket_have_the_published_factors(mode: str, factor: float) -> None:
    """cpcsmastery.co.uk/reference/sling-angles-swl."""
    assert sling.mode_factor(mode) == factor


@given(st.floats(1, 2000), st.integers(1, 4), STEEP)
def test_the_legs_that_count_together_carry_the_load_upwards(load: float, legs: int, angle: float) -> None:
    each = sling.leg_load(load, legs, angle)
    assert each * min(legs, 3) * sin(angle) == pytest.approx(load)
    assert each >= load / legs
    assert sling.sling_capacity(each, legs, angle) == pytest.approx(load)
    assert sling.leg_load_by_height(load, legs, 1.0, sin(angle)) == pytest.approx(each)


@given(st.floats(1, 2000), st.integers(1, 3), st.tuples(STEEP, STEEP))
def test_a_flatter_sling_or_fewer_legs_never_carry_less_each(
    load: float, legs: int, angles: tuple[float, float]
) -> None:
    flat, steep = sorted(angles)
    assert sling.leg_load(load, legs, flat) >= sling.leg_load(load, legs, steep)
    assert sling.leg_load(load, legs, flat) >= sling.leg_load(load, legs + 1, flat)


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: sling.leg_load(-1, 2, 1.0), "cannot be negative"),
        (lambda: sling.leg_load(1, 0, 1.0), "whole number"),
        (lambda: sling.leg_load(1, 2.5, 1.0), "whole number"),
        (lambda: sling.leg_load(1, 5, 1.0), "whole number"),
        (lambda: sling.leg_load(1, 2, 0.0), "between 0 and 90"),
        (lambda: sling.leg_load(1, 2, radians(91)), "between 0 and 90"),
        (lambda: sling.leg_load(1, 2, 60.0), "between 0 and 90"),
        (lambda: sling.leg_load_by_height(-1, 2, 1.0, 0.8), "cannot be negative"),
        (lambda: sling.leg_load_by_height(1, 2, 0.0, 0.0), "more than the length"),
        (lambda: sling.leg_load_by_height(1, 2, 1.0, 1.1), "more than the length"),
        (lambda: sling.leg_load_by_height(1, 2, 1.0, -1.0), "flatter than 30"),
        (lambda: sling.sling_capacity(-1, 2, 1.0), "cannot be negative"),
        (lambda: sling.mode_factor("knotted"), "vertical; choke; basket"),
    ],
)
def test_outside_its_range_each_function_says_why(call, words: str) -> None:  # type: ignore[no-untyped-def]
    with pytest.raises(ValueError, match=words):
        call()
