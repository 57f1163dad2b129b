"""Brakes and stops: published sizing examples, and the stop simulated instead of solved."""

from math import pi

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import dblquad

from runner.trade import brake

LBF = 4.4482216152605  # N, NIST SP 811 App. B
INCH = 0.0254


def test_torque_speed_and_heat_are_the_published_ones() -> None:
    """magne-power.com/content/12: 12 lbf on 30 in is 15 lbf ft (20.337 N m), 1.5 on 3 in; 200 ft/min turn it at 25 and 255 rpm.

    53 to 54 W of heat are printed, 54.23 W are exact: torque times speed of rotation, on the full roll as on the core.
    """
    speed = 200 * 0.3048 / 60
    for diameter, torque, rpm in ((30 * INCH, 20.337, 25.46), (3 * INCH, 2.0337, 254.6)):
        held, turning = brake.brake_torque(12 * LBF, diameter), brake.turning_speed(speed, diameter)
        assert held == pytest.approx(torque, abs=5e-4)
        assert turning * 60 / (2 * pi) == pytest.approx(rpm, abs=0.05)
        assert held * turning == pytest.approx(54.23, abs=0.005)


def test_a_brake_that_is_sized_for_one_torque_has_less_tension_on_a_full_roll() -> None:
    """sjogren.com brake sizing: 10 lbf in are 5 lbf at a core of 4 in and 3.3 lbf at a full roll of 6 in."""
    torque = brake.brake_torque(4 * LBF, 5 * INCH)
    assert torque / (4 * INCH / 2) / LBF == pytest.approx(5.0)
    assert torque / (6 * INCH / 2) / LBF == pytest.approx(3.3, abs=0.05)


@given(st.floats(0, 2000), st.floats(0.05, 0.2), st.floats(0.2, 1.5))
def test_the_brake_covers_the_range_from_the_core_to_the_full_roll(force: float, core: float, outer: float) -> None:
    """One tension from full to core asks for torques in the ratio of the diameters."""
    low, high = brake.brake_torque(force, core), brake.brake_torque(force, outer)
    assert low <= high
    assert high == pytest.approx(low * outer / core)


def test_the_inertia_of_a_roll_is_that_of_a_hollow_cylinder() -> None:
    """Derived: 600.663 kg, R 0.5 m, r 0.038 m. scipy sums r^2 dm over the ring as the judge."""
    assert brake.roll_inertia(600.663, 1.0, 0.076) == pytest.approx(75.517, abs=5e-4)
    density = 600.663 / (pi * (0.5**2 - 0.038**2))
    integral, _ = dblquad(lambda radius, _: density * radius**3, 0, 2 * pi, 0.038, 0.5)
    assert brake.roll_inertia(600.663, 1.0, 0.076) == pytest.approx(integral, rel=1e-9)


def test_a_solid_cylinder_about_another_axis_has_the_textbook_inertia() -> None:
    """Textbook problem, scribd.com/doc/349816539: solid, 20 kg, R 0.1 m, axis 0.05 m off: 0.15 kg m^2 with Steiner's part."""
    assert brake.roll_inertia(20, 0.2, 0.0) + 20 * 0.05**2 == pytest.approx(0.15)


def test_a_thin_ring_has_the_most_inertia_and_a_solid_bar_half_of_it() -> None:
    assert brake.roll_inertia(10, 1.0, 1.0) == pytest.approx(10 * 0.5**2)
    assert brake.roll_inertia(10, 1.0, 0.0) == pytest.approx(10 * 0.5**2 / 2)


def test_stopping_a_roll_takes_the_published_torque() -> None:
    """northnet.org/clutch/sizingbrake.html: 1000 lb ft^2, 360 rpm, 60 s take 19.5 lbf ft; exact 19.529."""
    torque = brake.stopping_torque(1000 * 0.0421401101, 360 * 2 * pi / 60, 60)
    assert torque / (LBF * 0.3048) == pytest.approx(19.529, abs=5e-4)


def test_the_roll_of_600_kg_stops_as_worked_out() -> None:
    """Derived: 200 m/min on 1 m is 6.6667 rad/s, 1678.15 J, 50.344 N m for 10 s, 16.667 m of web."""
    inertia, turning = brake.roll_inertia(600.663, 1.0, 0.076), brake.turning_speed(200 / 60, 1.0)
    assert turning == pytest.approx(6.6667, abs=5e-5)
    assert brake.turning_energy(inertia, turning) == pytest.approx(1678.15, abs=0.01)
    assert brake.stopping_torque(inertia, turning, 10) == pytest.approx(50.344, abs=1e-3)
    assert brake.stopping_length(200 / 60, 10) == pytest.approx(16.667, abs=5e-4)


def test_a_stop_simulated_in_small_steps_takes_that_time_and_web() -> None:
    inertia, radius, torque, step = 75.517, 0.5, 50.344, 1e-3
    turning, time, web = 6.66667, 0.0, 0.0
    while turning > 0:
        web += turning * radius * step
        turning -= torque / inertia * step
        time += step
    assert time == pytest.approx(brake.stopping_time(inertia, 6.66667, torque), abs=2 * step)
    assert web == pytest.approx(brake.stopping_length(6.66667 * radius, time), abs=0.01)


@given(st.floats(0.1, 200), st.floats(0.1, 50), st.floats(0.1, 60))
def test_torque_time_and_energy_of_a_stop_belong_together(inertia: float, turning: float, time: float) -> None:
    torque = brake.stopping_torque(inertia, turning, time)
    assert brake.stopping_time(inertia, turning, torque) == pytest.approx(time)
    angle = turning * time / 2
    assert torque * angle == pytest.approx(brake.turning_energy(inertia, turning)), "the work is the energy"
    assert brake.turning_energy(inertia, -turning) == brake.turning_energy(inertia, turning)


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: brake.brake_torque(1.0, -1.0), "cannot be negative"),
        (lambda: brake.turning_speed(1.0, 0.0), "diameter above zero"),
        (lambda: brake.roll_inertia(-1.0, 0.2, 0.1), "cannot be negative"),
        (lambda: brake.roll_inertia(1.0, 0.1, 0.2), "smaller than its core"),
        (lambda: brake.turning_energy(-1.0, 1.0), "cannot be negative"),
        (lambda: brake.stopping_torque(1.0, 1.0, 0.0), "above zero"),
        (lambda: brake.stopping_torque(-1.0, 1.0, 1.0), "cannot be negative"),
        (lambda: brake.stopping_time(1.0, 1.0, 0.0), "above zero"),
        (lambda: brake.stopping_length(1.0, -1.0), "cannot be negative"),
    ],
)
def test_outside_its_range_each_function_says_why(call, words: str) -> None:  # type: ignore[no-untyped-def]
    with pytest.raises(ValueError, match=words):
        call()
