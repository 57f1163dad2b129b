"""What hangs on a hook and on each leg of a sling, and how much the weakest part has left.

Masses in kilograms, angles in radians **from the horizontal**. The weakest rating decides; a design factor is never a
reserve to use up, and nothing here limits a load: it tells the people who lift what the plates on their tackle say.
"""

from collections.abc import Mapping
from math import pi, sin, tan
from typing import NamedTuple

from runner.trade.tension import STANDARD_GRAVITY


class HookLoad(NamedTuple):
    """The sum on the hook against the weakest rating: `margin` = rating - load, negative when overloaded."""

    load: float
    weakest: str
    rating: float
    margin: float


def leg_load(load: float, legs: float, angle: float) -> float:
    """Load in each leg of a sling, W / (n sin alpha), in kg, alpha from the horizontal.

    Source: sling charts (ashleysling.com/calculating-sling-angles), exact form. Range: load >= 0, legs a whole number
    from 1, 0 < angle <= pi / 2. With four legs count three, since two may carry nearly all (federal chain table H-1).
    """
    if load < 0.0:
        raise ValueError("a load cannot be negative")
    if legs < 1.0 or legs != int(legs):
        raise ValueError("the number of legs must be a whole number, 1 or more")
    if not 0.0 < angle <= pi / 2.0:
        raise ValueError("the angle of a sling leg lies between 0 and 90 degrees from the horizontal")
    return load / (legs * sin(angle))


def hook_load(parts: Mapping[str, float], ratings: Mapping[str, float]) -> HookLoad | None:
    """Sum of the `parts` on the hook (roll, shaft, beam, tackle) against the lowest of the `ratings`, all kg by name.

    None when nothing is rated: without a plate there is nothing to compare with.
    Source: the beam and its tackle count as load (LEEA text); never above the marked load, 29 CFR 1910.184(c), from memory.
    """
    if not ratings:
        return None
    load = sum(parts.values())
    weakest = min(ratings, key=lambda name: ratings[name])
    return HookLoad(load, weakest, ratings[weakest], ratings[weakest] - load)


def beam_ends(load: float, left: float, right: float) -> tuple[float, float]:
    """Share of a load at the left and right end of a beam, from its distances (m) to both ends; lever rule."""
    if left < 0.0 or right < 0.0 or left + right <= 0.0:
        raise ValueError("the load must hang between the two ends")
    return load * right / (left + right), load * left / (left + right)


def spreader_compression(load: float, angle: float) -> float:
    """Push along a spreader under two top legs at `angle` from the horizontal, W g / (2 tan alpha), in N."""
    if not 0.0 < angle <= pi / 2.0:
        raise ValueError("the angle of a sling leg lies between 0 and 90 degrees from the horizontal")
    return load * STANDARD_GRAVITY / (2.0 * tan(angle))
