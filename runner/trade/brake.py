"""The brake of an unwind: the torque that makes tension, and what stopping a full roll takes in torque, time, web, heat.

Forces are newtons for the whole width, speeds metres or radians a second. A stop is taken as even: the speed falls by
the same amount every second. What a brake may do is on its plate; nothing here limits it.
"""

from runner.trade.roll import refuse_ring


def brake_torque(total_tension: float, diameter: float) -> float:
    """Torque that holds `total_tension` at the outside of a roll, M = F D / 2, in N m. Range: diameter >= 0.

    Source: brake sizing pages (magne-power.com/content/12; northnet.org/clutch/sizingbrake.html).
    """
    if diameter < 0.0:
        raise ValueError("a diameter cannot be negative")
    return total_tension * diameter / 2.0


def turning_speed(speed: float, diameter: float) -> float:
    """Speed of rotation of a roll or roller that runs with the web, omega = 2 v / D, in rad/s.

    Source: n = v / (pi D), brake sizing pages as above. Range: diameter > 0.
    """
    if diameter <= 0.0:
        raise ValueError("what turns with the web must have a diameter above zero")
    return 2.0 * speed / diameter


def roll_inertia(mass: float, outer: float, core: float) -> float:
    """Moment of inertia of a roll about its axis, J = m (R^2 + r^2) / 2 with radii, in kg m^2.

    Source: the textbook hollow cylinder. Range: mass >= 0, core >= 0, outer >= core.
    """
    if mass < 0.0:
        raise ValueError("a mass cannot be negative")
    refuse_ring(outer, core)
    return mass * (outer * outer + core * core) / 8.0


def turning_energy(inertia: float, angular_speed: float) -> float:
    """Energy in what turns, E = J omega^2 / 2, in J: the heat that a brake takes up in a stop. Range: inertia >= 0."""
    refuse_inertia(inertia)
    return inertia * abs(angular_speed) * abs(angular_speed) / 2.0


def stopping_torque(inertia: float, angular_speed: float, time: float) -> float:
    """Torque that stops a roll in `time`, M = J omega / t, in N m, on top of what holds the tension.

    Source: brake sizing pages as above. Range: inertia >= 0, time > 0.
    """
    refuse_inertia(inertia)
    if time <= 0.0:
        raise ValueError("the time to stop must be above zero")
    return inertia * angular_speed / time


def stopping_time(inertia: float, angular_speed: float, torque: float) -> float:
    """Time in which `torque` stops a roll, t = J omega / M, in s. Range: inertia >= 0, torque > 0.

    The torque is what the brake has left once it holds the tension.
    """
    refuse_inertia(inertia)
    if torque <= 0.0:
        raise ValueError("the torque that is left for stopping must be above zero")
    return inertia * angular_speed / torque


def stopping_length(speed: float, time: float) -> float:
    """Web that runs out during an even stop, v t / 2, in m. Range: time >= 0."""
    if time < 0.0:
        raise ValueError("the time to stop cannot be negative")
    return speed * time / 2.0


def refuse_inertia(inertia: float) -> None:
    """Raise `ValueError` for a negative moment of inertia."""
    if inertia < 0.0:
        raise ValueError("a moment of inertia cannot be negative")
