"""Winding tension that falls as the roll grows. Plants define taper differently, so a procedure names the one it means.

`ratio` is the radius (or diameter) now over that at which winding started, `taper` the share from 0 to 1 that is taken
off; tensions are in any unit, total or per width, and come out in the same. Constant tension needs no function.

Source of the profiles: after Lee, Kang, Kim, Shin, J. Mech. Sci. Technol. 23 (2009) 3036.
"""


def constant_torque(start_tension: float, ratio: float) -> float:
    """Winding tension under one torque, T0 / r. No taper is set: it is the steepest there is. Range: ratio >= 1."""
    refuse_ratio(ratio)
    return start_tension / ratio


def hyperbolic(start_tension: float, taper: float, ratio: float) -> float:
    """Winding tension T0 (1 - tau (1 - 1 / r)). Range: ratio >= 1, taper 0 to 1.

    tau 0 is constant tension, tau 1 constant torque; a fraction mixes the two.
    """
    refuse_ratio(ratio)
    refuse_taper(taper)
    return start_tension * (1.0 - taper * (1.0 - 1.0 / ratio))


def linear(start_tension: float, taper: float, ratio: float, full_ratio: float) -> float:
    """Winding tension T0 (1 - tau (r - 1) / (r_max - 1)) (form from memory). Range: 1 <= ratio <= full_ratio > 1."""
    refuse_ratio(ratio)
    refuse_taper(taper)
    if full_ratio <= 1.0 or ratio > full_ratio:
        raise ValueError("the full roll must be larger than the core and than the roll as it is")
    return start_tension * (1.0 - taper * (ratio - 1.0) / (full_ratio - 1.0))


def refuse_ratio(ratio: float) -> None:
    """Raise `ValueError` unless the roll is at least as large as where it started."""
    if ratio < 1.0:
        raise ValueError("a roll cannot be smaller than the radius it starts from")


def refuse_taper(taper: float) -> None:
    """Raise `ValueError` unless the taper is a share from 0 to 1."""
    if not 0.0 <= taper <= 1.0:
        raise ValueError("a taper lies between 0 and 1")
