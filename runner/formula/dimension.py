"""Dimensions: what may be added to what. An angle is a dimension of its own, so rpm and 1/s are told apart.

Rpm and rad/s are one dimension in two units, 2 pi apart by number: a speed of rotation times a diameter is no surface
speed until the author takes the angle out, by 1 [turn] with a circumference or by 1 [rad] with a radius. A dimension may also be a point on a scale (a temperature in degC, an absolute pressure): two points differ by a plain
quantity, a point and a plain quantity make a point, and nothing else may be done with points. What a gauge shows is a
difference to the air around it, and so a plain pressure.
"""

from typing import Literal, NamedTuple, TypeAlias

from runner.say.text import mark, say

Point: TypeAlias = Literal["", "temperature", "absolute"]


class Dimension(NamedTuple):
    """Exponents of the bases (m, kg, s, K, rad), and the scale that it is a point on ("" for none)."""

    length: float = 0
    mass: float = 0
    time: float = 0
    temperature: float = 0
    angle: float = 0
    point: Point = ""


NUMBER = Dimension()
LENGTH = Dimension(length=1)
AREA = Dimension(length=2)
VOLUME = Dimension(length=3)
MASS = Dimension(mass=1)
TIME = Dimension(time=1)
TEMPERATURE_DIFFERENCE = Dimension(temperature=1)
TEMPERATURE = Dimension(temperature=1, point="temperature")
ANGLE = Dimension(angle=1)
RATE = Dimension(time=-1)
ROTATION = Dimension(time=-1, angle=1)
SPEED = Dimension(length=1, time=-1)
ACCELERATION = Dimension(length=1, time=-2)
FORCE = Dimension(length=1, mass=1, time=-2)
FORCE_PER_WIDTH = Dimension(mass=1, time=-2)
PRESSURE = Dimension(length=-1, mass=1, time=-2)
ABSOLUTE_PRESSURE = PRESSURE._replace(point="absolute")
ENERGY = Dimension(length=2, mass=1, time=-2)
POWER = Dimension(length=2, mass=1, time=-3)
GRAMMAGE = Dimension(length=-2, mass=1)
DENSITY = Dimension(length=-3, mass=1)
INERTIA = Dimension(length=2, mass=1)
SECOND_MOMENT = Dimension(length=4)

WORDS: dict[Dimension, str] = {
    NUMBER: mark("a plain number"),
    LENGTH: mark("a length (m)"),
    AREA: mark("an area (m^2)"),
    VOLUME: mark("a volume (m^3)"),
    MASS: mark("a mass (kg)"),
    TIME: mark("a time (s)"),
    TEMPERATURE_DIFFERENCE: mark("a temperature difference (K)"),
    TEMPERATURE: mark("a temperature (degC)"),
    ANGLE: mark("an angle (rad)"),
    RATE: mark("a rate (1/s)"),
    ROTATION: mark("a speed of rotation (rad/s)"),
    SPEED: mark("a speed (m/s)"),
    ACCELERATION: mark("an acceleration (m/s^2)"),
    FORCE: mark("a force (N)"),
    FORCE_PER_WIDTH: mark("a force per width (N/m)"),
    PRESSURE: mark("a pressure (Pa)"),
    ABSOLUTE_PRESSURE: mark("an absolute pressure (Pa_abs)"),
    ENERGY: mark("a torque or energy (N*m)"),
    POWER: mark("a power (W)"),
    GRAMMAGE: mark("a mass per area (kg/m^2)"),
    DENSITY: mark("a density (kg/m^3)"),
    INERTIA: mark("a moment of inertia (kg*m^2)"),
    SECOND_MOMENT: mark("a second moment of area (m^4)"),
}
"""What authors call the dimensions they meet, with a unit of each; the first words of many messages."""


def multiply(left: Dimension, right: Dimension) -> Dimension:
    """Dimension of a product of two plain quantities."""
    return combine(left, right, 1)


def divide(left: Dimension, right: Dimension) -> Dimension:
    """Dimension of a quotient of two plain quantities."""
    return combine(left, right, -1)


def power(base: Dimension, exponent: float) -> Dimension:
    """Dimension of a plain quantity to a power; a square root may leave halves, which later may cancel."""
    return combine(NUMBER, base, exponent)


def combine(left: Dimension, right: Dimension, times: float) -> Dimension:
    """left * right^times, of plain quantities."""
    return Dimension(
        whole(left.length + times * right.length),
        whole(left.mass + times * right.mass),
        whole(left.time + times * right.time),
        whole(left.temperature + times * right.temperature),
        whole(left.angle + times * right.angle),
    )


def whole(exponent: float) -> float:
    """An exponent as an int where it is one, so that equal dimensions also print alike."""
    return int(exponent) if exponent == int(exponent) else exponent


def difference_of(point: Dimension) -> Dimension:
    """The plain quantity by which two points on a scale differ."""
    return point._replace(point="")


def describe(dimension: Dimension, unit: str = "") -> str:
    """A dimension in an author's words with a unit of it: "a force (N)"; else the bases: "a quantity in kg/m^4".

    `unit` is the unit that the author wrote, which then stands in the place of ours: "a length (mm)".
    """
    named = WORDS.get(dimension)
    if named is None:
        return say("a quantity in {unit}", unit=unit or bases(dimension))
    named = say(named)
    if dimension == NUMBER:
        return named if unit in ("", "1") else f"{named} ({unit})"
    return f"{named.partition(' (')[0]} ({unit})" if unit else named


def unit_of(dimension: Dimension) -> str:
    """A unit of a dimension, as `describe` names it: "kg" for a mass."""
    _, opened, rest = describe(dimension).partition("(")
    return rest.rstrip(")") if opened else bases(dimension)


def bases(dimension: Dimension) -> str:
    """A dimension as a unit of the bases: "kg*m/s^3"."""
    over: list[str] = []
    under: list[str] = []
    length, mass, time, temperature, angle, _ = dimension
    for base, exponent in (("kg", mass), ("m", length), ("K", temperature), ("rad", angle), ("s", time)):
        if exponent:
            size = abs(exponent)
            (over if exponent > 0 else under).append(base if size == 1 else f"{base}^{size:g}")
    return "/".join(["*".join(over) or "1", *under])
