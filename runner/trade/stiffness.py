"""How far a core, a shaft or a roller bends under a roll: straight beams of one tube, small bends, shear left out.

Forces in newtons, lengths in metres, modulus in pascals, second moments in m^4. The sag of a shaft is no limit of its
own: what it may carry is on its plate.
"""

from math import pi

from runner.trade.roll import refuse_tube


def tube_second_moment(outer: float, inner: float) -> float:
    """Second moment of area of a tube about its middle, I = pi (D^4 - d^4) / 64, in m^4; `inner` 0 gives a solid bar.

    Source: any handbook of mechanics. Range: 0 <= inner <= outer.
    """
    refuse_tube(outer, inner)
    return pi * (outer - inner) * (outer + inner) * (outer * outer + inner * inner) / 64.0


def sag(force: float, loaded: float, span: float, modulus: float, second_moment: float) -> float:
    """Sag at the middle of a shaft on two ends, W (8 L^3 - 4 L c^2 + c^3) / (384 E I), in m.

    W is the whole load, spread evenly over the middle c = `loaded` of the span L: c = L is a uniform load
    (5 W L^3 / 384 E I), c = 0 a load at one point (W L^3 / 48 E I). Source: beam tables of the AISC Manual of Steel
    Construction (2005). Range: 0 <= loaded <= span, modulus and second moment > 0.
    """
    if loaded < 0.0 or loaded > span:
        raise ValueError("the loaded length lies within the span of the shaft")
    refuse_stiffness(modulus, second_moment)
    return force * (span * (8.0 * span * span - 4.0 * loaded * loaded) + loaded**3) / (384.0 * modulus * second_moment)


def cantilever_sag(force: float, length: float, modulus: float, second_moment: float) -> float:
    """Sag at the free end of a shaft that is held at one end, W L^3 / (8 E I), in m, W spread evenly over its length.

    Source: Machinery's Handbook, cantilever under a uniform load. Range: length >= 0, modulus and second moment > 0.
    """
    if length < 0.0:
        raise ValueError("the length of a shaft cannot be negative")
    refuse_stiffness(modulus, second_moment)
    return force * length**3 / (8.0 * modulus * second_moment)


def refuse_stiffness(modulus: float, second_moment: float) -> None:
    """Raise `ValueError` unless there is something that resists bending."""
    if modulus <= 0.0 or second_moment <= 0.0:
        raise ValueError("a shaft needs a modulus and a second moment of area above zero")
