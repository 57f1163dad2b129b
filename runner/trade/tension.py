"""Web tension at bars and brakes: what the web pulls, what has to be hung, what a wrap holds, how tension tapers.

Forces are newtons for the whole width (tension per width times width), masses kilograms, angles radians.
Results keep their sign: a negative mass to hang means that the bar alone is too heavy already, and is never clipped.
"""

from math import exp, pi, sin

STANDARD_GRAVITY = 9.80665
"""Standard acceleration of free fall in m/s^2, exact by definition (3rd CGPM 1901; NIST SP 811)."""


def bar_force(total_tension: float, wrap: float) -> float:
    """Resultant of the web on a bar, R = 2 F sin(theta / 2), in N. Range: wrap 0 to 2 pi.

    Source: statics of two equal pulls; the 180 degree case is R = 2 F.
    """
    if not 0.0 <= wrap <= 2.0 * pi:
        raise ValueError("a wrap lies between 0 and 360 degrees")
    return 2.0 * total_tension * sin(wrap / 2.0)


def added_mass(pull: float, bar_mass: float, other_force: float = 0.0) -> float:
    """Mass to hang on a free vertical bar that the web lifts with `pull`, (R - F_down) / g - m_bar, in kg.

    `other_force` is any other force on the bar, positive downwards (a lifting spring is negative). A negative result
    means that the bar is too heavy for this tension; it is returned as it is.
    """
    return (pull - other_force) / STANDARD_GRAVITY - bar_mass


def tension_from_mass(mass: float, wrap: float, other_force: float = 0.0) -> float:
    """Total tension that a bar of `mass` (with all that hangs on it) makes, (m g + F_down) / (2 sin(theta / 2)), in N.

    The inverse of `added_mass`, used to say what rounding to whole pieces does. Range: 0 < wrap < 2 pi.
    """
    if not 0.0 < wrap < 2.0 * pi:
        raise ValueError("a bar needs a wrap between 0 and 360 degrees to make tension")
    return (mass * STANDARD_GRAVITY + other_force) / (2.0 * sin(wrap / 2.0))


def capstan_ratio(friction: float, wrap: float) -> float:
    """Largest ratio of the pulls before and after a bar without slip, e^(mu beta), wrap in rad.

    Source: Euler and Eytelwein, in any handbook of mechanics. Range: both >= 0; not valid once air gets under the web.
    """
    if friction < 0.0 or wrap < 0.0:
        raise ValueError("friction and wrap cannot be negative")
    return exp(friction * wrap)


def cylinder_force(pressure: float, bore: float, rod: float = 0.0) -> float:
    """Force of an air cylinder, p pi (D^2 - d^2) / 4, in N; pressure as a gauge shows it (Pa), `rod` 0 when pushing."""
    if rod < 0.0 or bore < rod:
        raise ValueError("the bore must be at least as wide as the rod")
    return pressure * pi * (bore - rod) * (bore + rod) / 4.0


def brake_torque(total_tension: float, diameter: float) -> float:
    """Torque that holds `total_tension` at the outside of a roll, M = F D / 2, in N m. Range: diameter >= 0.

    Source: brake sizing pages (magne-power.com/content/12; northnet.org/clutch/sizingbrake.html).
    """
    if diameter < 0.0:
        raise ValueError("a diameter cannot be negative")
    return total_tension * diameter / 2.0


def slip_power(total_tension: float, speed: float) -> float:
    """Heat in an unwind brake, P = F v, in W."""
    return total_tension * speed


def stopping_torque(inertia: float, angular_speed: float, time: float) -> float:
    """Torque that stops a roll in `time`, M = J omega / t, in N m. Range: time > 0."""
    if time <= 0.0:
        raise ValueError("the time to stop must be above zero")
    return inertia * angular_speed / time


def taper_hyperbolic(start_tension: float, taper: float, ratio: float) -> float:
    """Winding tension T0 (1 - tau (1 - 1 / r)) at `ratio` r of the radius to the starting radius; taper tau 0 to 1.

    Source: profiles after Lee, Kang, Kim, Shin, J. Mech. Sci. Technol. 23 (2009) 3036. tau 1 is constant torque.
    Plants define taper differently, so a procedure spells its formula out. Range: ratio >= 1.
    """
    refuse_taper(taper, ratio)
    return start_tension * (1.0 - taper * (1.0 - 1.0 / ratio))


def taper_linear(start_tension: float, taper: float, ratio: float, full_ratio: float) -> float:
    """Winding tension T0 (1 - tau (r - 1) / (r_max - 1)) (form from memory). Range: 1 <= ratio <= full_ratio > 1."""
    refuse_taper(taper, ratio)
    if full_ratio <= 1.0 or ratio > full_ratio:
        raise ValueError("the full roll must be larger than the core and than the roll as it is")
    return start_tension * (1.0 - taper * (ratio - 1.0) / (full_ratio - 1.0))


def refuse_taper(taper: float, ratio: float) -> None:
    """Raise `ValueError` unless the taper is a share 0 to 1 and the ratio of radii at least 1."""
    if not 0.0 <= taper <= 1.0:
        raise ValueError("a taper lies between 0 and 1")
    if ratio < 1.0:
        raise ValueError("a roll cannot be smaller than the radius it starts from")
