"""A roll of web on a core: length, diameter, turns, mass, and how long it lasts.

Everything follows from one picture: the web seen from the side fills the ring between core and outside.
Diameters are outside diameters (of the roll, of the core), `caliper` is the thickness of the web with the air wound in.
Metres, kilograms, seconds. A function whose range is left raises `ValueError` with words fit to be shown.
"""

from math import pi, sqrt


def roll_length(outer: float, core: float, caliper: float) -> float:
    """Length of web on a roll, L = pi (D^2 - d^2) / (4 t), in m.

    Source: printers' association teaching text (wiki.hpv-ev.org/lf02/05). Range: core >= 0, outer >= core, caliper > 0.
    Written as (D - d)(D + d), which keeps every digit when the roll is nearly empty.
    """
    refuse_ring(outer, core)
    refuse_caliper(caliper)
    return pi * (outer - core) * (outer + core) / (4.0 * caliper)


def outer_diameter(length: float, core: float, caliper: float) -> float:
    """Outer diameter of a roll that holds `length`, D = sqrt(d^2 + 4 t L / pi), in m.

    The inverse of `roll_length`. Range: length >= 0, core >= 0, caliper > 0.
    """
    if length < 0.0:
        raise ValueError("the length on a roll cannot be negative")
    if core < 0.0:
        raise ValueError("a core cannot have a negative diameter")
    refuse_caliper(caliper)
    return sqrt(core * core + 4.0 * caliper * length / pi)


def turns(outer: float, core: float, caliper: float) -> float:
    """Turns of web on a roll, n = (D - d) / (2 t).

    Source: Argonne "Ask a Scientist" math99015; n times the mean circumference pi (D + d) / 2 equals `roll_length`.
    Range as for `roll_length`.
    """
    refuse_ring(outer, core)
    refuse_caliper(caliper)
    return (outer - core) / (2.0 * caliper)


def caliper_from_length(length: float, outer: float, core: float) -> float:
    """Thickness of the web from a roll of known length, t = pi (D^2 - d^2) / (4 L), in m.

    The best field value, since it includes the air between the turns (mathforum.org/library/drmath/view/67031.html).
    Range: length > 0, core >= 0, outer >= core.
    """
    if length <= 0.0:
        raise ValueError("the length on the roll must be above zero")
    refuse_ring(outer, core)
    return pi * (outer - core) * (outer + core) / (4.0 * length)


def mass_from_grammage(grammage: float, width: float, length: float) -> float:
    """Mass of the web, m = G w L, in kg, from grammage (kg/m^2), width and length (m). Range: none below zero.

    ISO 536 defines grammage. Core, shaft and wrapping come on top.
    """
    if min(grammage, width, length) < 0.0:
        raise ValueError("grammage, width and length cannot be negative")
    return grammage * width * length


def mass_from_density(density: float, width: float, outer: float, core: float) -> float:
    """Mass of the web, m = rho w pi (D^2 - d^2) / 4, in kg, from the density of the wound web (kg/m^3).

    Agrees with `mass_from_grammage` when G = rho t. Range: density, width, core >= 0, outer >= core.
    """
    if min(density, width) < 0.0:
        raise ValueError("density and width cannot be negative")
    refuse_ring(outer, core)
    return density * width * pi * (outer - core) * (outer + core) / 4.0


def tube_mass(outer: float, inner: float, length: float, density: float) -> float:
    """Mass of a core or another tube, rho L pi (D^2 - d^2) / 4, in kg; `inner` 0 gives a solid bar."""
    return mass_from_density(density, length, outer, inner)


def run_time(length: float, speed: float) -> float:
    """Time in which `length` (m) runs at `speed` (m/s), in s. Range: length >= 0, speed > 0."""
    if length < 0.0:
        raise ValueError("a length to run cannot be negative")
    if speed <= 0.0:
        raise ValueError("the speed must be above zero")
    return length / speed


def roll_inertia(mass: float, outer: float, core: float) -> float:
    """Moment of inertia of a roll about its axis, J = m (R^2 + r^2) / 2 with radii, in kg m^2.

    Source: the textbook hollow cylinder. Range: mass >= 0, core >= 0, outer >= core.
    """
    if mass < 0.0:
        raise ValueError("a mass cannot be negative")
    refuse_ring(outer, core)
    return mass * (outer * outer + core * core) / 8.0


def refuse_ring(outer: float, core: float) -> None:
    """Raise `ValueError` unless 0 <= core <= outer."""
    if core < 0.0:
        raise ValueError("a core cannot have a negative diameter")
    if outer < core:
        raise ValueError("the roll is smaller than its core")


def refuse_caliper(caliper: float) -> None:
    """Raise `ValueError` unless the web has a thickness."""
    if caliper <= 0.0:
        raise ValueError("the thickness of the web must be above zero")
