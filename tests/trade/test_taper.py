"""Winding taper: the profiles after Lee, Kang, Kim, Shin, J. Mech. Sci. Technol. 23 (2009) 3036, and what ties them together."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from runner.trade import taper

RATIOS = st.floats(1, 20)
SHARES = st.floats(0, 1)


@pytest.mark.parametrize(("ratio", "expected"), [(1, 100), (1.5, 91.667), (2, 87.5), (3, 83.333), (5, 80), (10, 77.5)])
def test_the_hyperbolic_taper_is_as_published(ratio: float, expected: float) -> None:
    """Numbers derived: T0 100, taper 0.25."""
    assert taper.hyperbolic(100, 0.25, ratio) == pytest.approx(expected, abs=5e-4)


@pytest.mark.parametrize(
    ("ratio", "expected"), [(1, 100), (1.5, 98.611), (2, 97.222), (3, 94.444), (5, 88.889), (10, 75)]
)
def test_the_linear_taper_falls_evenly(ratio: float, expected: float) -> None:
    """Form from memory; numbers derived: T0 100, taper 0.25, full roll at 10."""
    assert taper.linear(100, 0.25, ratio, 10) == pytest.approx(expected, abs=5e-4)


@given(RATIOS)
def test_a_hyperbolic_taper_of_one_is_constant_torque(ratio: float) -> None:
    assert taper.hyperbolic(100, 1.0, ratio) == pytest.approx(taper.constant_torque(100, ratio))
    assert taper.constant_torque(100, ratio) * ratio == pytest.approx(100)


@given(RATIOS)
def test_no_taper_is_constant_tension(ratio: float) -> None:
    assert taper.hyperbolic(100, 0.0, ratio) == 100
    assert taper.linear(100, 0.0, ratio, 21) == 100


@given(SHARES, st.floats(1.01, 20))
def test_every_profile_starts_at_the_starting_tension_and_the_linear_one_ends_at_its_share(
    share: float, full: float
) -> None:
    assert taper.hyperbolic(100, share, 1) == taper.linear(100, share, 1, full) == taper.constant_torque(100, 1) == 100
    assert taper.linear(100, share, full, full) == pytest.approx(100 * (1 - share), abs=1e-9)


@given(SHARES, RATIOS)
def test_the_hyperbolic_profile_mixes_constant_tension_and_constant_torque(share: float, ratio: float) -> None:
    mixed = (1 - share) * 100 + share * taper.constant_torque(100, ratio)
    assert taper.hyperbolic(100, share, ratio) == pytest.approx(mixed)


@given(SHARES, st.tuples(RATIOS, RATIOS))
def test_tension_never_rises_with_the_roll(share: float, ratios: tuple[float, float]) -> None:
    small, large = sorted(ratios)
    assert taper.hyperbolic(100, share, large) <= taper.hyperbolic(100, share, small)
    assert taper.linear(100, share, large, 21) <= taper.linear(100, share, small, 21)
    assert taper.constant_torque(100, large) <= taper.constant_torque(100, small)


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: taper.hyperbolic(1.0, 1.5, 2.0), "between 0 and 1"),
        (lambda: taper.hyperbolic(1.0, 0.5, 0.5), "smaller than the radius"),
        (lambda: taper.constant_torque(1.0, 0.5), "smaller than the radius"),
        (lambda: taper.linear(1.0, 0.5, 3.0, 2.0), "larger than the core"),
        (lambda: taper.linear(1.0, 0.5, 1.0, 1.0), "larger than the core"),
        (lambda: taper.linear(1.0, -0.5, 1.0, 2.0), "between 0 and 1"),
    ],
)
def test_outside_its_range_each_function_says_why(call, words: str) -> None:  # type: ignore[no-untyped-def]
    with pytest.raises(ValueError, match=words):
        call()
