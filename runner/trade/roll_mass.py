"""What a roll weighs, found two ways that know nothing of each other, and by how much they disagree.

Mass by grammage needs a length, mass by density needs the ring seen from the side; where both are known, their
disagreement tells a wrong thickness, grammage or diameter. Core, shaft and wrapping come on top. Kilograms, metres.
"""

from math import pi

from runner.trade.roll import refuse_ring, refuse_tube


def mass_from_grammage(grammage: float, width: float, length: float) -> float:
    """Mass of the web, m = G w L, in kg, from grammage (kg/m^2), width and length (m). Range: none below zero.

    ISO 536 defines grammage. Core, shaft and wrapping come on top.
    """
    if min(grammage, width, length) < 0.0:
        raise ValueError("grammage, width and length cannot be negative")
    return grammage * width * length


def mass_from_density(density: float, width: float, outer: float, core: float) -> float:
    """Mass of the web, m = rho w pi (D^2 - d^2) / 4, in kg, from the density of the wound web (kg/m^3).

    Agrees with `mass_from_grammage` when G = rho t; ISO 534 defines density. Range: density, width, core >= 0,
    outer >= core.
    """
    if min(density, width) < 0.0:
        raise ValueError("density and width cannot be negative")
    refuse_ring(outer, core)
    return density * width * pi * (outer - core) * (outer + core) / 4.0


def tube_mass(outer: float, inner: float, length: float, density: float) -> float:
    """Mass of a core or another tube, rho L pi (D^2 - d^2) / 4, in kg; `inner` 0 gives a solid bar.

    Range: density, length, inner >= 0, outer >= inner.
    """
    refuse_tube(outer, inner)
    return mass_from_density(density, length, outer, inner)


def disagreement(a: float, b: float) -> float:
    """By how much two values of one quantity disagree, 1 - smaller / larger, a share of the larger from 0 to 1.

    Our own measure: it does not matter which is named first. Range: both >= 0; two zeros agree.
    """
    if min(a, b) < 0.0:
        raise ValueError("values that are compared by their share cannot be negative")
    return 1.0 - min(a, b) / max(a, b) if max(a, b) > 0.0 else 0.0
