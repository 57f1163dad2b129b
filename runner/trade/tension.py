"""Web tension at bars: what the web pulls, what has to be hung, what tension a hung mass makes, what a cylinder gives.

Forces are newtons for the whole width (tension per width times width), masses kilograms, angles radians.
Results keep their sign: a negative mass to hang means that the bar alone is too heavy already, and is never clipped.
"""

from math import pi, sin

STANDARD_GRAVITY = 9.80665
"""Standard acceleration of free fall in m/s^2, exact by definition (3rd CGPM 1901; NIST SP 811)."""


def bar_force(total_tension: float, wrap: float, loops: float = 1.0) -> float:
    """Resultant of the web on a bar, R = 2 k F sin(theta / 2), in N, where the web loops k times round the bar.

    Source: statics of two equal pulls; the 180 degree case is R = 2 F. Range: wrap 0 to 2 pi, loops whole from 1.
    """
    if not 0.0 <= wrap <= 2.0 * pi:
        raise ValueError("a wrap lies between 0 and 360 degrees")
    refuse_loops(loops)
    return 2.0 * loops * total_tension * sin(wrap / 2.0)


def added_mass(pull: float, bar_mass: float, other_force: float = 0.0) -> float:
    """Mass to hang on a free vertical bar that the web lifts with `pull`, (R - F_down) / g - m_bar, in kg.

    `other_force` is any other force on the bar, positive downwards (a lifting spring is negative). A negative result
    means that the bar is too heavy for this tension; it is returned as it is. Source: statics. Range: bar_mass >= 0.
    """
    refuse_mass(bar_mass)
    return (pull - other_force) / STANDARD_GRAVITY - bar_mass


def lever_mass(pull: float, roller_arm: float, weight_arm: float, own_moment: float = 0.0) -> float:
    """Mass to hang on a lever whose roller the web pulls, (R a - M) / (g b), in kg.

    a and b are the arms (m) of roller and weight about the pivot, M (N m) the moment of the lever's own weight, positive
    where it helps the weight. A negative result means that the lever alone is too heavy; it is returned as it is.
    Source: statics of a lever. Range: roller_arm >= 0, weight_arm > 0.
    """
    if roller_arm < 0.0 or weight_arm <= 0.0:
        raise ValueError("the arms of a lever must be above zero")
    return (pull * roller_arm - own_moment) / (STANDARD_GRAVITY * weight_arm)


def tension_from_mass(mass: float, wrap: float, other_force: float = 0.0, loops: float = 1.0) -> float:
    """Total tension that a bar of `mass` (with all that hangs on it) makes, (m g + F_down) / (2 k sin(theta / 2)), in N.

    The inverse of `added_mass`, used to say what rounding to whole pieces does. Range: mass >= 0, 0 < wrap < 2 pi,
    loops whole from 1.
    """
    if not 0.0 < wrap < 2.0 * pi:
        raise ValueError("a bar needs a wrap between 0 and 360 degrees to make tension")
    refuse_mass(mass)
    refuse_loops(loops)
    return (mass * STANDARD_GRAVITY + other_force) / (2.0 * loops * sin(wrap / 2.0))


def cylinder_force(pressure: float, bore: float, rod: float = 0.0) -> float:
    """Force of an air cylinder, p pi (D^2 - d^2) / 4, in N; pressure as a gauge shows it (Pa), `rod` 0 when pushing.

    Source: pressure times area, without the friction of its seals. Range: 0 <= rod <= bore.
    """
    if rod < 0.0 or bore < rod:
        raise ValueError("the bore must be at least as wide as the rod")
    return pressure * pi * (bore - rod) * (bore + rod) / 4.0


def refuse_mass(mass: float) -> None:
    """Raise `ValueError` for a negative mass."""
    if mass < 0.0:
        raise ValueError("the mass of a bar cannot be negative")


def refuse_loops(loops: float) -> None:
    """Raise `ValueError` unless the web loops round the bar a whole number of times."""
    if loops < 1.0 or loops != int(loops):
        raise ValueError("the number of loops round a bar must be a whole number, 1 or more")
