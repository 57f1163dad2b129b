"""On which side of a roller the web passes: from over and under to the way the roller turns.

The travel at a roller is that from the centre before to the centre after. Where the web turns back, over is the way over
a bend that points up; where it turns back to the side, the side counts as the web comes in.
"""

from collections.abc import Sequence
from math import hypot

from runner.trade.web_path.roller import ROUNDING

SIDEWAYS = 0.34
"""A bend whose middle points less than this share (about 20 degrees) up or down is a turn to the side."""


def sense(centres: Sequence[tuple[float, float]], place: int, side: str) -> int | None:
    """Which way a roller turns: +1 anticlockwise, -1 clockwise, None where over or under cannot say.

    Over the top while the web travels to the right is clockwise.
    """
    over = side == "over"
    before = None if place == 0 else direction(centres[place - 1], centres[place])
    after = None if place == len(centres) - 1 else direction(centres[place], centres[place + 1])
    if before is None or after is None:
        only = before or after
        across = only[0] if only is not None else 0.0
        return passing(over, across if abs(across) > ROUNDING else centres[-1][0] - centres[0][0])
    if before[0] * after[0] >= 0.0:
        return passing(over, before[0] + after[0]) or turned_back(over, before, after)
    return turned_back(over, before, after)


def passing(over: bool, travel: float) -> int | None:
    """The turn of a roller passed over or under by a web travelling to the right (travel > 0) or left; None at 0."""
    if abs(travel) <= ROUNDING:
        return None
    return -1 if over == (travel > 0.0) else 1


def turned_back(over: bool, before: tuple[float, float], after: tuple[float, float]) -> int | None:
    """The turn of a roller at which the web reverses, from the directions towards and away from its centre."""
    outward = (before[0] - after[0], before[1] - after[1])
    if abs(outward[1]) < SIDEWAYS * hypot(*outward) or hypot(*outward) <= ROUNDING:
        return passing(over, before[0])
    natural = 1 if before[0] * after[1] - before[1] * after[0] > 0.0 else -1
    return natural if over == (outward[1] > 0.0) else -natural


def direction(start: tuple[float, float], end: tuple[float, float]) -> tuple[float, float]:
    """Unit vector from one centre to another; the centres are apart, since rollers do not overlap."""
    distance = hypot(end[0] - start[0], end[1] - start[1])
    return (end[0] - start[0]) / distance, (end[1] - start[1]) / distance
