"""Tension at bars: the statics against a vector sum and moments, published cylinder examples, and what a wrong g would do."""

from math import cos, hypot, pi, radians, sin

import pytest
from hypothesis import given
from hypothesis import strategies as st

from runner.trade import tension

LBF = 4.4482216152605  # N, NIST SP 811 App. B
INCH = 0.0254


@pytest.mark.parametrize(("wrap", "factor"), [(180, 2.0), (150, 1.9319), (120, 1.7321), (90, 1.4142)])
def test_a_wrap_multiplies_the_tension(wrap: float, factor: float) -> None:
    """Derived from R = 2 F sin(theta / 2), statics of two equal pulls."""
    assert tension.bar_force(1.0, radians(wrap)) == pytest.approx(factor, abs=5e-5)


@given(st.floats(0, 2 * pi), st.floats(0, 5000), st.integers(1, 5))
def test_the_pull_on_a_bar_is_the_vector_sum_of_its_spans(wrap: float, force: float, loops: int) -> None:
    """J. J. Shelton, Roller Deflection: an idler's load is the vector sum of the pulls."""
    x, y = force * (1 - cos(wrap)), force * sin(wrap)
    assert tension.bar_force(force, wrap, loops) == pytest.approx(loops * hypot(x, y), rel=1e-9, abs=1e-6)


def test_a_lever_with_two_cylinders_holds_the_published_tension() -> None:
    """industrialmonitordirect.com, web tension dancer calculation: bore 50 mm, 6 psi, arms 120 and 365 mm, wrap 180 deg."""
    one = tension.cylinder_force(6 * LBF / INCH**2, 0.050)
    assert one == pytest.approx(81.23, abs=0.005)
    at_roller = 2 * one * 0.120 / 0.365
    assert at_roller == pytest.approx(53.41, abs=0.005)
    assert at_roller / tension.bar_force(1.0, pi) == pytest.approx(26.71, abs=0.006)


def test_a_rod_takes_its_area_from_a_cylinder() -> None:
    """Derived: 6 bar, 63 mm push 1870.35 N; pulling with a rod of 20 mm 1681.85 N."""
    assert tension.cylinder_force(6e5, 0.063) == pytest.approx(1870.35, abs=0.005)
    assert tension.cylinder_force(6e5, 0.063, 0.020) == pytest.approx(1681.85, abs=0.005)


def test_the_mass_to_hang_is_what_the_web_lifts_less_the_bar() -> None:
    """Derived: 150 N/m on 1.2 m and 180 deg lift 36.7098 kg, 28.7098 kg beside a bar of 8 kg; 500 N/m on 1.3 m 132.563 kg."""
    pull = tension.bar_force(150 * 1.2, pi)
    assert tension.added_mass(pull, 0.0) == pytest.approx(36.7098, abs=5e-5)
    assert tension.added_mass(pull, 8.0) == pytest.approx(28.7098, abs=5e-5)
    assert tension.added_mass(tension.bar_force(500 * 1.3, pi), 0.0) == pytest.approx(132.563, abs=5e-4)


def test_half_the_arm_takes_half_the_mass() -> None:
    """Derived: a / b = 0.5 of 36.7098 kg is 18.3549 kg; a lever of 3 kg at the roller's arm helps by half of its mass."""
    pull = tension.bar_force(150 * 1.2, pi)
    assert tension.lever_mass(pull, 0.2, 0.4) == pytest.approx(18.3549, abs=5e-5)
    own = 3 * tension.STANDARD_GRAVITY * 0.2
    assert tension.lever_mass(pull, 0.2, 0.4, own) == pytest.approx(18.3549 - 1.5, abs=5e-5)


@given(st.floats(0, 5000), st.floats(0, 2), st.floats(0.05, 2), st.floats(-100, 100))
def test_a_lever_with_its_mass_hung_is_in_balance(pull: float, roller: float, weight: float, own: float) -> None:
    """The moments about the pivot sum to nothing."""
    mass = tension.lever_mass(pull, roller, weight, own)
    assert mass * tension.STANDARD_GRAVITY * weight + own - pull * roller == pytest.approx(0, abs=1e-8)


def test_a_bar_that_is_too_heavy_gives_a_negative_mass_and_never_zero() -> None:
    assert tension.added_mass(100.0, 20.0) == pytest.approx(100 / 9.80665 - 20)
    assert tension.added_mass(100.0, 20.0) < 0
    assert tension.lever_mass(100.0, 0.2, 0.4, 60.0) < 0


def test_another_g_changes_the_mass_by_less_than_any_piece() -> None:
    """Derived: 9.81 for 9.80665 m/s^2 is 0.034 %."""
    mass = tension.added_mass(360.0, 0.0)
    assert (1 - 360 / 9.81 / mass) * 100 == pytest.approx(0.034, abs=5e-4)


def test_rounding_the_mass_back_to_tension_gives_the_published_change() -> None:
    """Derived: 37.0 kg hung for 36.7098 kg is +1.186 N/m on 1.2 m, 36.0 kg is -2.900 N/m."""
    assert tension.tension_from_mass(37.0, pi) / 1.2 - 150 == pytest.approx(1.186, abs=5e-4)
    assert tension.tension_from_mass(36.0, pi) / 1.2 - 150 == pytest.approx(-2.900, abs=5e-4)


@given(st.floats(0.1, 6.2), st.floats(1, 500), st.floats(-200, 200), st.integers(1, 4))
def test_mass_and_tension_undo_each_other(wrap: float, mass: float, other: float, loops: int) -> None:
    total = tension.tension_from_mass(mass, wrap, other, loops)
    back = tension.added_mass(tension.bar_force(total, wrap, loops), 0.0, other)
    assert back == pytest.approx(mass, rel=1e-9, abs=1e-9)


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: tension.bar_force(1.0, -0.1), "between 0 and 360"),
        (lambda: tension.bar_force(1.0, 1.0, 0.0), "whole number"),
        (lambda: tension.bar_force(1.0, 1.0, 2.5), "whole number"),
        (lambda: tension.added_mass(1.0, -1.0), "cannot be negative"),
        (lambda: tension.lever_mass(1.0, -0.1, 1.0), "above zero"),
        (lambda: tension.lever_mass(1.0, 1.0, 0.0), "above zero"),
        (lambda: tension.tension_from_mass(1.0, 0.0), "between 0 and 360"),
        (lambda: tension.tension_from_mass(1.0, 2 * pi), "between 0 and 360"),
        (lambda: tension.tension_from_mass(-1.0, 1.0), "cannot be negative"),
        (lambda: tension.tension_from_mass(1.0, 1.0, 0.0, 0.0), "whole number"),
        (lambda: tension.cylinder_force(1e5, 0.02, 0.03), "as wide as the rod"),
    ],
)
def test_outside_its_range_each_function_says_why(call, words: str) -> None:  # type: ignore[no-untyped-def]
    with pytest.raises(ValueError, match=words):
        call()
