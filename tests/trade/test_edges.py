"""What lies on the edge of a range still has a value: an empty roll, a solid bar, nothing on the hook, one leaf."""

from math import pi

import pytest

from runner.trade import brake, friction, lifting, roll, roll_mass, sling, stiffness, tension


@pytest.mark.parametrize(
    ("call", "value"),
    [
        (lambda: roll.outer_diameter(100.0, 0.0, pi * 1e-4), 0.2),
        (lambda: roll.roll_length(0.2, 0.0, 1e-4), pi * 100),
        (lambda: roll.length_left(0.0, 1.0, 0.5, 0.1), 0.0),
        (lambda: roll_mass.tube_mass(0.1, 0.0, 1.0, 1000), pi * 2.5),
        (lambda: roll_mass.tube_mass(0.1, 0.1, 1.0, 1000), 0.0),
        (lambda: roll_mass.mass_from_density(0.0, 1.0, 0.2, 0.1), 0.0),
        (lambda: tension.cylinder_force(1e5, 0.03, 0.03), 0.0),
        (lambda: friction.chuck_torque(0.0, 1, 0.2, 0.076), 0.0),
        (lambda: friction.chuck_torque(1000.0, 1, 0.2, 0.076), 7.6),
        (lambda: brake.brake_torque(100.0, 0.0), 0.0),
        (lambda: brake.roll_inertia(0.0, 0.2, 0.1), 0.0),
        (lambda: brake.stopping_length(1.0, 0.0), 0.0),
        (lambda: brake.stopping_torque(0.0, 1.0, 1.0), 0.0),
        (lambda: sling.sling_capacity(0.0, 2, 1.0), 0.0),
        (lambda: sling.leg_load(0.0, 2, pi / 2), 0.0),
        (lambda: lifting.hook_reserve(0.0, 0.0), 0.0),
        (lambda: lifting.beam_end_load(100.0, 0.0, 2.0), 100.0),
        (lambda: lifting.beam_end_load(100.0, 2.0, 0.0), 0.0),
        (lambda: stiffness.tube_second_moment(0.1, 0.1), 0.0),
        (lambda: stiffness.cantilever_sag(100.0, 0.0, 1e9, 1e-6), 0.0),
    ],
)
def test_the_edge_of_a_range_belongs_to_it(call, value: float) -> None:  # type: ignore[no-untyped-def]
    assert call() == pytest.approx(value)


def test_two_slack_sides_do_not_slip_on_each_other() -> None:
    assert not friction.slips(0.0, 0.0, 0.2, 1.0)
    assert friction.slips(0.0, 1.0, 0.2, 1.0)
