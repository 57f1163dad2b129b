"""Tension: published brake, cylinder and wrap examples, the bar's statics, and what a wrong g would do."""

from math import cos, exp, hypot, pi, radians, sin

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


@given(st.floats(0, 2 * pi), st.floats(0, 5000))
def test_the_pull_on_a_bar_is_the_vector_sum_of_both_spans(wrap: float, force: float) -> None:
    """J. J. Shelton, Roller Deflection: an idler's load is the vector sum of the pulls."""
    x, y = force * (1 - cos(wrap)), force * sin(wrap)
    assert tension.bar_force(force, wrap) == pytest.approx(hypot(x, y), rel=1e-9, abs=1e-6)


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


def test_a_bar_that_is_too_heavy_gives_a_negative_mass_and_never_zero() -> None:
    assert tension.added_mass(100.0, 20.0) == pytest.approx(100 / 9.80665 - 20)
    assert tension.added_mass(100.0, 20.0) < 0


def test_rounding_the_mass_back_to_tension_gives_the_published_change() -> None:
    """Derived: 37.0 kg hung for 36.7098 kg is +1.186 N/m on 1.2 m, 36.0 kg is -2.900 N/m."""
    assert tension.tension_from_mass(37.0, pi) / 1.2 - 150 == pytest.approx(1.186, abs=5e-4)
    assert tension.tension_from_mass(36.0, pi) / 1.2 - 150 == pytest.approx(-2.900, abs=5e-4)


@given(st.floats(0.1, 6.2), st.floats(1, 500), st.floats(-200, 200))
def test_mass_and_tension_undo_each_other(wrap: float, mass: float, other: float) -> None:
    total = tension.tension_from_mass(mass, wrap, other)
    assert tension.added_mass(tension.bar_force(total, wrap), 0.0, other) == pytest.approx(mass, rel=1e-9, abs=1e-9)


@pytest.mark.parametrize(
    ("friction", "turns", "ratio", "within"),
    [(0.3, 0.5, 2.6, 0.05), (0.3, 1.0, 6.6, 0.05), (0.3, 2.0, 43.376, 0.0005), (0.6, 5.0, 153552935, 1)],
)
def test_capstan_ratios_are_the_published_ones(friction: float, turns: float, ratio: float, within: float) -> None:
    """openknowledgegraph.com "friction with belt drives" (first two); encyclopedia table of turns (last); third derived."""
    assert tension.capstan_ratio(friction, turns * 2 * pi) == pytest.approx(ratio, abs=within)


def test_two_and_a_half_turns_hold_2000_n_with_39_n() -> None:
    """openknowledgegraph.com: mu 0.25, 2.5 turns, 2000 N held by about 39 to 40 N; derived 39.41 N."""
    assert 2000 / tension.capstan_ratio(0.25, 2.5 * 2 * pi) == pytest.approx(39.41, abs=0.005)


def test_a_mass_over_a_bar_pulls_by_the_published_force() -> None:
    """pickedshares.com, engineering mechanics 1, exercise 27: 100 kg, mu 0.2, 3 pi / 2, g 9.81 give 382.26 N."""
    ratio = tension.capstan_ratio(0.2, 3 * pi / 2)
    assert 100 * 9.81 / ratio == pytest.approx(382.26, abs=0.005)
    assert 100 * tension.STANDARD_GRAVITY / ratio == pytest.approx(382.13, abs=0.005)


def test_brake_torque_speed_and_heat_are_the_published_ones() -> None:
    """magne-power.com/content/12: 12 lbf on 30 in is 15 lbf ft (20.337 N m); 200 ft/min make 53 to 54 W, exact 54.23."""
    assert tension.brake_torque(12 * LBF, 30 * INCH) == pytest.approx(20.337, abs=5e-4)
    assert tension.slip_power(12 * LBF, 200 * 0.3048 / 60) == pytest.approx(54.23, abs=0.005)


def test_a_brake_that_is_sized_for_one_torque_has_less_tension_on_a_full_roll() -> None:
    """sjogren.com brake sizing: 10 lbf in are 5 lbf at a core of 4 in and 3.3 lbf at a full roll of 6 in."""
    torque = tension.brake_torque(4 * LBF, 5 * INCH)
    assert torque / (4 * INCH / 2) / LBF == pytest.approx(5.0)
    assert torque / (6 * INCH / 2) / LBF == pytest.approx(3.3, abs=0.05)


def test_stopping_a_roll_takes_the_published_torque() -> None:
    """northnet.org/clutch/sizingbrake.html: 1000 lb ft^2, 360 rpm, 60 s take 19.5 lbf ft."""
    torque = tension.stopping_torque(1000 * 0.0421401101, 360 * 2 * pi / 60, 60)
    assert torque / (LBF * 0.3048) == pytest.approx(19.529, abs=5e-4)
    assert tension.stopping_torque(75.517, 6.6667, 10) == pytest.approx(50.344, abs=2e-3)  # derived


@pytest.mark.parametrize(("ratio", "expected"), [(1, 100), (1.5, 91.667), (2, 87.5), (3, 83.333), (5, 80), (10, 77.5)])
def test_the_hyperbolic_taper_is_as_published(ratio: float, expected: float) -> None:
    """Profiles after Lee, Kang, Kim, Shin, J. Mech. Sci. Technol. 23 (2009) 3036; numbers derived."""
    assert tension.taper_hyperbolic(100, 0.25, ratio) == pytest.approx(expected, abs=5e-4)


@pytest.mark.parametrize(
    ("ratio", "expected"), [(1, 100), (1.5, 98.611), (2, 97.222), (3, 94.444), (5, 88.889), (10, 75)]
)
def test_the_linear_taper_falls_evenly(ratio: float, expected: float) -> None:
    """Form from memory; numbers derived."""
    assert tension.taper_linear(100, 0.25, ratio, 10) == pytest.approx(expected, abs=5e-4)


@given(st.floats(1, 20))
def test_a_hyperbolic_taper_of_one_is_constant_torque(ratio: float) -> None:
    assert tension.taper_hyperbolic(100, 1.0, ratio) * ratio == pytest.approx(100)


@given(st.floats(0, 1), st.floats(0, 20))
def test_wraps_one_after_the_other_multiply(friction: float, wrap: float) -> None:
    half = tension.capstan_ratio(friction, wrap / 2)
    assert tension.capstan_ratio(friction, wrap) == pytest.approx(half * half)
    assert tension.capstan_ratio(friction, wrap) == pytest.approx(exp(friction * wrap))


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: tension.bar_force(1.0, -0.1), "between 0 and 360"),
        (lambda: tension.tension_from_mass(1.0, 0.0), "between 0 and 360"),
        (lambda: tension.capstan_ratio(-0.1, 1.0), "cannot be negative"),
        (lambda: tension.cylinder_force(1e5, 0.02, 0.03), "as wide as the rod"),
        (lambda: tension.brake_torque(1.0, -1.0), "cannot be negative"),
        (lambda: tension.stopping_torque(1.0, 1.0, 0.0), "above zero"),
        (lambda: tension.taper_hyperbolic(1.0, 1.5, 2.0), "between 0 and 1"),
        (lambda: tension.taper_hyperbolic(1.0, 0.5, 0.5), "smaller than the radius"),
        (lambda: tension.taper_linear(1.0, 0.5, 3.0, 2.0), "larger than the core"),
    ],
)
def test_outside_its_range_each_function_says_why(call, words: str) -> None:  # type: ignore[no-untyped-def]
    with pytest.raises(ValueError, match=words):
        call()
