"""The two constants that every formula knows by name."""

from math import pi
from typing import NamedTuple

from runner.formula.dimension import ACCELERATION, NUMBER, Dimension
from runner.trade.tension import STANDARD_GRAVITY


class Constant(NamedTuple):
    """A name with a value of its own: SI value, dimension, how an operator sees it, and a line for the reference."""

    name: str
    value: float
    dimension: Dimension
    shown: str
    doc: str


CONSTANTS: dict[str, Constant] = {
    "pi": Constant("pi", pi, NUMBER, "π", "Circumference of a circle by its diameter, 3.14159..."),
    "g_n": Constant(
        "g_n", STANDARD_GRAVITY, ACCELERATION, "9.80665 m/s²", "Standard gravity: a mass * g_n is its weight."
    ),
}
"""Same names as `expr.CONSTANT_NAMES`."""
