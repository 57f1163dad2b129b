"""What friction holds: published wraps, the belt equation integrated step by step, slip either way, the chuck."""

from math import exp, pi

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from runner.trade import friction
from runner.trade.tension import STANDARD_GRAVITY


@pytest.mark.parametrize(
    ("mu", "turns", "ratio", "within"),
    [(0.3, 0.5, 2.6, 0.05), (0.3, 1.0, 6.6, 0.05), (0.3, 2.0, 43.376, 0.0005), (0.6, 5.0, 153552935, 1)],
)
def test_capstan_ratios_are_the_published_ones(mu: float, turns: float, ratio: float, within: float) -> None:
    """openknowledgegraph.com "friction with belt drives" (first two); encyclopedia table of turns (last); third derived."""
    assert friction.capstan_ratio(mu, turns * 2 * pi) == pytest.approx(ratio, abs=within)


def test_two_and_a_half_turns_hold_2000_n_with_39_n() -> None:
    """openknowledgegraph.com: mu 0.25, 2.5 turns, 2000 N held by about 39 to 40 N; derived 39.41 N."""
    assert 2000 / friction.capstan_ratio(0.25, 2.5 * 2 * pi) == pytest.approx(39.41, abs=0.005)


def test_a_mass_over_a_bar_pulls_by_the_published_force() -> None:
    """pickedshares.com, engineering mechanics 1, exercise 27: 100 kg, mu 0.2, 3 pi / 2, g 9.81 give 382.26 N."""
    ratio = friction.capstan_ratio(0.2, 3 * pi / 2)
    assert 100 * 9.81 / ratio == pytest.approx(382.26, abs=0.005)
    assert 100 * STANDARD_GRAVITY / ratio == pytest.approx(382.13, abs=0.005)


def test_the_belt_equation_integrated_gives_the_same_ratio() -> None:
    """scipy as the judge: along the wrap the pull grows by mu times itself, dT = mu T d(beta)."""
    solved = solve_ivp(lambda _, pull: 0.27 * pull, (0.0, 4.0), [1.0], rtol=1e-11, atol=1e-13)
    assert friction.capstan_ratio(0.27, 4.0) == pytest.approx(solved.y[0][-1], rel=1e-8)


@given(st.floats(0, 1), st.floats(0, 20))
def test_wraps_one_after_the_other_multiply(mu: float, wrap: float) -> None:
    half = friction.capstan_ratio(mu, wrap / 2)
    assert friction.capstan_ratio(mu, wrap) == pytest.approx(half * half)
    assert friction.capstan_ratio(mu, wrap) == pytest.approx(exp(mu * wrap))


@given(st.floats(0.1, 1000), st.floats(0, 1), st.floats(0, 6))
def test_a_web_slips_just_above_its_ratio_whichever_side_pulls_more(pull: float, mu: float, wrap: float) -> None:
    most = pull * friction.capstan_ratio(mu, wrap)
    assert not friction.slips(pull, most, mu, wrap)
    assert not friction.slips(most, pull, mu, wrap)
    assert friction.slips(pull, most * 1.001, mu, wrap)
    assert friction.slips(most * 1.001, pull, mu, wrap)


def test_a_chuck_holds_by_the_friction_of_its_leaves() -> None:
    """Common practice, no source: 6 leaves of 20 x 150 mm under 6 bar press 1800 N each; 0.2 on a bore of 76 mm."""
    by_leaf = [0.2 * (6e5 * 0.020 * 0.150) * 0.038 for _ in range(6)]
    assert friction.chuck_torque(1800, 6, 0.2, 0.076) == pytest.approx(sum(by_leaf))
    assert friction.chuck_torque(1800, 6, 0.2, 0.076) == pytest.approx(82.08)


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: friction.capstan_ratio(-0.1, 1.0), "cannot be negative"),
        (lambda: friction.capstan_ratio(0.1, -1.0), "cannot be negative"),
        (lambda: friction.slips(-1.0, 1.0, 0.1, 1.0), "cannot push"),
        (lambda: friction.chuck_torque(-1.0, 6, 0.2, 0.076), "cannot be negative"),
        (lambda: friction.chuck_torque(1.0, 0, 0.2, 0.076), "whole number"),
        (lambda: friction.chuck_torque(1.0, 2.5, 0.2, 0.076), "whole number"),
    ],
)
def test_outside_its_range_each_function_says_why(call, words: str) -> None:  # type: ignore[no-untyped-def]
    with pytest.raises(ValueError, match=words):
        call()
