"""A roll of web on a core, seen from the side: length, diameter, turns, thickness.

Everything follows from one picture: the web seen from the side fills the ring between core and outside.
Diameters are outside diameters (of the roll, of the core), `caliper` is the thickness of the web with the air wound in.
Metres throughout. A function whose range is left raises `ValueError` with words fit to be shown.
"""

from math import pi, sqrt

ROUNDING = 1e-12
"""Share by which rounding alone may make a length larger than what is on the roll."""


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


def diameter_after(outer: float, taken: float, core: float, caliper: float) -> float:
    """Outer diameter once `taken` metres have run off, sqrt(D^2 - 4 t l / pi), in m.

    From `roll_length`; the core stands only in the range: taken from 0 to what is on the roll, else as `roll_length`.
    """
    if taken < 0.0:
        raise ValueError("the length taken off a roll cannot be negative")
    if taken > roll_length(outer, core, caliper) * (1.0 + ROUNDING):
        raise ValueError("there is less web on the roll than is taken off")
    return sqrt(max(outer * outer - 4.0 * caliper * taken / pi, core * core))


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


def length_left(full_length: float, full_outer: float, outer: float, core: float) -> float:
    """Length still on a roll by its diameter now, L (x^2 - d^2) / (D^2 - d^2), in m, from its length and diameter when full.

    The thickness cancels out of two `roll_length`s, so none has to be known.
    Range: full_length >= 0, 0 <= core <= outer <= full_outer, core < full_outer.
    """
    if full_length < 0.0:
        raise ValueError("the length on a roll cannot be negative")
    refuse_ring(outer, core)
    if outer > full_outer:
        raise ValueError("the roll is larger than it was when it was full")
    if full_outer <= core:
        raise ValueError("a full roll is larger than its core")
    share = (outer - core) / (full_outer - core) * ((outer + core) / (full_outer + core))
    return full_length * share


def width_tolerance(width: float) -> float:
    """By how much the width of a reel for printing may be off either way, half a percent but 2 mm to 3 mm, in m.

    Source: DIN 19306-1 as printed by the printers' association (wiki.hpv-ev.org/lf02/05). Range: width > 0.
    """
    if width <= 0.0:
        raise ValueError("the width of a reel must be above zero")
    return min(max(width / 200.0, 0.002), 0.003)


def refuse_ring(outer: float, core: float) -> None:
    """Raise `ValueError` unless 0 <= core <= outer."""
    if core < 0.0:
        raise ValueError("a core cannot have a negative diameter")
    if outer < core:
        raise ValueError("the roll is smaller than its core")


def refuse_tube(outer: float, inner: float) -> None:
    """Raise `ValueError` unless 0 <= inner <= outer."""
    if inner < 0.0:
        raise ValueError("a tube cannot have a negative diameter")
    if outer < inner:
        raise ValueError("a tube cannot be wider inside than outside")


def refuse_caliper(caliper: float) -> None:
    """Raise `ValueError` unless the web has a thickness."""
    if caliper <= 0.0:
        raise ValueError("the thickness of the web must be above zero")
