"""What hangs on a hook against the weakest part that carries it, and how a load hangs in a beam.

Masses in kilograms, angles in radians **from the horizontal**. The weakest rating decides; a design factor is never a
reserve to use up, and nothing here limits a load: it tells the people who lift what the plates on their tackle say.
"""

from math import tan

from runner.trade.sling import refuse_angle, refuse_load
from runner.trade.tension import STANDARD_GRAVITY


def hook_reserve(load: float, *ratings: float) -> float:
    """The weakest of the `ratings` less all that hangs on the hook, in kg; negative when overloaded, never clipped.

    `load` is the sum of roll, core, shaft, beam and tackle. Every part of the chain is held against all of it, hoist
    and beam alike, slings by their `sling_capacity`. Source: the beam and its tackle count as load (LEEA text); never
    above the marked load, 29 CFR 1910.184(c), from memory. Range: none below zero, at least one rating.
    """
    refuse_load(load)
    if not ratings:
        raise ValueError("without a rating there is nothing to hold a load against")
    if min(ratings) < 0.0:
        raise ValueError("a rating cannot be negative")
    return min(ratings) - load


def beam_end_load(load: float, to_this_end: float, to_other_end: float) -> float:
    """What hangs on one end of a beam, W b / (a + b), in kg, by the distances (m) of the load to this end and the other.

    Source: lever rule. The beam's own mass is shared evenly and comes on top. Range: none below zero, ends apart.
    """
    refuse_load(load)
    if min(to_this_end, to_other_end) < 0.0 or to_this_end + to_other_end <= 0.0:
        raise ValueError("the load must hang between the two ends")
    return load * (to_other_end / (to_this_end + to_other_end))


def spreader_compression(load: float, angle: float) -> float:
    """Push along a spreader under two top legs at `angle` from the horizontal, W g / (2 tan alpha), in N.

    Source: statics of the top legs. Range: load >= 0, 30 to 90 degrees as for any sling.
    """
    refuse_load(load)
    refuse_angle(angle)
    return load * STANDARD_GRAVITY / (2.0 * tan(angle))
