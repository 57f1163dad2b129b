"""A formula worked back: regression of the tension bar, scipy as the judge, and the answers that are none."""

from math import exp, floor, isclose

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import brentq

from runner.trade.inverse import Unsolved, solve_for

G = 9.80665
"""m/s², exact by definition (NIST SP 811)."""


@pytest.mark.parametrize(("hung", "off", "share"), [(37.0, 1.186, 0.79), (36.0, -2.900, -1.93)])
def test_a_bar_of_half_a_turn_gives_the_tension_of_the_regression(hung: float, off: float, share: float) -> None:
    """m = 2 T w / g, 150 N/m and 1.2 m: 36.7098 kg wanted; 37 kg give +1.186 N/m (+0.79 %), 36 kg -2.900 (-1.93 %); derived."""
    found = solve_for(lambda tension: 2 * tension * 1.2 / G, hung, 150)
    assert isinstance(found, float)
    assert round(found - 150, 3) == off
    assert round(100 * (found - 150) / 150, 2) == share


@settings(max_examples=80, deadline=None)
@given(st.floats(0.1, 900), st.floats(0.3, 1.9), st.floats(-3, 3), st.floats(0.2, 3))
def test_a_rising_formula_is_worked_back_as_brentq_does(near: float, share: float, bent: float, slope: float) -> None:
    def formula(x: float) -> float:
        return slope * x * (1.1 + exp(-abs(bent) * x / 100)) - 8

    wanted = formula(share * near)
    found = solve_for(formula, wanted, near)
    judged = brentq(lambda x: formula(x) - wanted, 0, 9 * near, xtol=1e-12, rtol=1e-13)
    assert isinstance(found, float)
    assert isclose(found, judged, rel_tol=1e-7)


def test_a_result_that_no_number_gives_is_said_to_have_none() -> None:
    assert solve_for(lambda x: x * x + 5, 1, 10) == Unsolved("none")
    assert solve_for(lambda _: 3.0, 4, 10) == Unsolved("none")
    assert solve_for(lambda _: None, 4, 10) == Unsolved("none")


def test_a_result_that_several_numbers_give_is_said_to_have_several() -> None:
    assert solve_for(lambda x: (x - 8) ** 2, 4, 10) == Unsolved("several")
    assert solve_for(lambda x: min(x, 5.0), 5, 10) == Unsolved("several")


def test_a_formula_that_jumps_over_the_result_does_not_give_it() -> None:
    assert solve_for(lambda x: float(floor(x)), 10.5, 10) == Unsolved("none")
    assert solve_for(lambda x: 1 / (x - 11) if x != 11 else None, 0, 10) == Unsolved("none")


def test_a_number_that_is_wanted_beyond_the_double_is_still_found() -> None:
    found = solve_for(lambda x: 2 * x, 100, 10)
    assert isinstance(found, float)
    assert isclose(found, 50)
    from_zero = solve_for(lambda x: 2 * x, 1, 0)
    assert isinstance(from_zero, float)
    assert isclose(from_zero, 0.5)


def test_few_trials_are_enough_for_a_straight_formula() -> None:
    """A pull is worked out from the whole web path, so every trial counts."""
    trials = []

    def formula(x: float) -> float:
        trials.append(x)
        return 0.245 * x - 8

    assert isinstance(solve_for(formula, 29, 150), float)
    assert len(trials) <= 40
