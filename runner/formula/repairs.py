"""What to do where one dimension stands and another is needed: the one factor of the trade that parts them, if there is one.

A repair is only told where it is well known; a guess that makes a formula pass would be worse than none.
"""

from typing import NamedTuple

from runner.formula.dimension import (
    ACCELERATION,
    ANGLE,
    AREA,
    DENSITY,
    ENERGY,
    FORCE,
    FORCE_PER_WIDTH,
    GRAMMAGE,
    LENGTH,
    MASS,
    NUMBER,
    PRESSURE,
    RATE,
    SPEED,
    TIME,
    VOLUME,
    Dimension,
    divide,
    multiply,
    unit_of,
)
from runner.formula.units import REAMS

LONGEST = 60
"""Characters of a part of a formula that is written out in a hint."""


class Repair(NamedTuple):
    """One factor between two dimensions: `low` times `factor` is `high`.

    `up` makes `high` of `low`, `down` the other way; {} stands for the words of the formula, and a way that nobody needs is "".
    """

    low: Dimension
    factor: Dimension
    why: str
    up: str
    down: str

    @property
    def high(self) -> Dimension:
        """The dimension of the product."""
        return multiply(self.low, self.factor)


MASS_PER_LENGTH = Dimension(length=-1, mass=1)
MASS_TIMES_LENGTH = Dimension(length=1, mass=1)
SURFACE_TURNS = Dimension(length=-1, angle=1)

WEIGHT = "a mass pulls with its weight"
SURFACE = "a surface speed is a circumference a turn, or a radius a radian"
OF_REAMS = ", ".join(f"{ream.formula} ({ream.papers})" for ream in REAMS)
REAM = f"pounds say no grammage without their ream: divide them by its area, one of {OF_REAMS}"

REPAIRS: tuple[Repair, ...] = (
    Repair(MASS, ACCELERATION, WEIGHT, "write {} * g_n", "write {} / g_n for the mass"),
    Repair(MASS_PER_LENGTH, ACCELERATION, WEIGHT, "write {} * g_n", "write {} / g_n for the mass per length"),
    Repair(GRAMMAGE, ACCELERATION, WEIGHT, "write {} * g_n", "write {} / g_n for the mass per area"),
    Repair(MASS_TIMES_LENGTH, ACCELERATION, WEIGHT, "write {} * g_n", "write {} / g_n"),
    Repair(
        FORCE_PER_WIDTH,
        LENGTH,
        "a tension per width pulls over the whole width of the web",
        "multiply {} by the width",
        "divide {} by the width",
    ),
    Repair(
        GRAMMAGE, AREA, "a web weighs its area", "multiply {} by width and length", f"divide {{}} by an area; {REAM}"
    ),
    Repair(MASS, AREA, "a mass times an area is none", "", f"one factor of {{}} must be a mass per area; {REAM}"),
    Repair(
        MASS_PER_LENGTH,
        LENGTH,
        "a mass per length lies over a length",
        "multiply {} by the length",
        "divide {} by the length",
    ),
    Repair(
        DENSITY,
        LENGTH,
        "a grammage is density times thickness",
        "multiply {} by the thickness",
        "divide {} by the thickness",
    ),
    Repair(
        LENGTH,
        DENSITY,
        "a grammage is thickness times density",
        "multiply {} by the density",
        "divide {} by the density",
    ),
    Repair(DENSITY, VOLUME, "a mass is density times volume", "multiply {} by the volume", "divide {} by the volume"),
    Repair(VOLUME, DENSITY, "a mass is volume times density", "multiply {} by the density", "divide {} by the density"),
    Repair(
        PRESSURE,
        AREA,
        "a pressure pushes over an area",
        "multiply {} by the area that it acts on",
        "divide {} by the area that it acts on",
    ),
    Repair(
        PRESSURE,
        LENGTH,
        "a stress pulls over the thickness of the web",
        "multiply {} by the thickness",
        "divide {} by the thickness",
    ),
    Repair(FORCE, LENGTH, "a torque is a force at a radius", "multiply {} by the radius", "divide {} by the radius"),
    Repair(FORCE, SPEED, "a power is a force times a speed", "multiply {} by the speed", "divide {} by the speed"),
    Repair(SPEED, TIME, "a length is speed times time", "multiply {} by the time", "divide {} by the time"),
    Repair(TIME, SPEED, "a length is time times speed", "multiply {} by the speed", "divide {} by the speed"),
    Repair(
        SPEED,
        SURFACE_TURNS,
        SURFACE,
        "write {} / (pi * diameter) * 1 [turn]",
        "write {} * pi * diameter / 1 [turn]",
    ),
    Repair(
        SPEED,
        ANGLE,
        SURFACE,
        "multiply {} by 1 [turn] after a circumference, by 1 [rad] after a radius",
        "divide {} by 1 [turn] where it has pi * diameter, by 1 [rad] where it has a radius",
    ),
    Repair(
        RATE,
        ANGLE,
        "a speed of rotation is an angle over a time",
        "multiply {} by 1 [turn] where it counts turns, else by 1 [rad]",
        "divide {} by 1 [turn] to count turns, by 1 [rad] for radians",
    ),
    Repair(
        ENERGY,
        RATE,
        "a power is torque times speed of rotation",
        "multiply {} by the speed of rotation over 1 [rad]",
        "divide {} by the speed of rotation over 1 [rad]",
    ),
)
"""THE table of repairs. The first that fits is told, so the commoner reading of two stands first."""


def repair(found: Dimension, wanted: Dimension) -> tuple[Repair, bool] | None:
    """The row that leads from one dimension to another, and whether it goes up."""
    for row in REPAIRS:
        if (found, wanted) == (row.low, row.high) and row.up:
            return row, True
        if (found, wanted) == (row.high, row.low) and row.down:
            return row, False
    return None


def clash(found: Dimension, wanted: Dimension, this: str = "") -> str:
    """What to do where `found` stands and `wanted` is needed, or "" where nothing better than the two names can be said.

    `this` is the part of the formula that stands there.
    """
    quotient = divide(found._replace(point=""), wanted._replace(point=""))
    if found.point != wanted.point:
        return point_clash(found, wanted) if quotient == NUMBER else ""
    if found == NUMBER and wanted == ANGLE:
        return "an angle has a unit, as in 30 [deg] or 0.5 [rad]"
    if found == NUMBER:
        return f"a number has its unit in brackets, as in 2 [{unit_of(wanted)}]"
    known = repair(found, wanted)
    if known is not None:
        row, up = known
        return f"{row.why}: {(row.up if up else row.down).format(as_factor(this))}"
    if quotient == ANGLE:
        return "divide by 1 [rad], or by 1 [turn] to count turns, to take the angle out"
    if quotient == divide(NUMBER, ANGLE):
        return "multiply by 1 [rad], or by 1 [turn] where it counts turns"
    if wanted == NUMBER and not found.point:
        return f"a plain number is left when it is divided by its like, as in {as_factor(this)} / 1 [{unit_of(found)}]"
    return ""


def clash_of_two(left: Dimension, right: Dimension, left_words: str, right_words: str) -> str:
    """What to do where two sides must be alike and either may be the wrong one."""
    known = repair(left, right)
    if known is None:
        return clash(right, left, right_words)
    row, up = known
    low, high = (left_words, right_words) if up else (right_words, left_words)
    ways = (row.up.format(as_factor(low)), row.down.format(as_factor(high)).removeprefix("write "))
    return f"{row.why}: {', or '.join(way for way in ways if way)}"


def as_factor(words: str) -> str:
    """A part of a formula so that `* g_n` may follow it; dots where it is long or not known."""
    if not words or len(words) > LONGEST:
        return "(...)"
    loose = (" + ", " - ", " < ", " > ", " <= ", " >= ", " == ", " != ", " and ", " or ")
    return f"({words})" if words.startswith(("-", "not ")) or any(sign in words for sign in loose) else words


def point_clash(found: Dimension, wanted: Dimension) -> str:
    """What to do where a point on a scale and a plain quantity, or points on two scales, are mixed."""
    if "absolute" in (found.point, wanted.point):
        return "a gauge shows the difference to the air: absolute = gauge + 1.01325 [bar_abs] at sea level"
    return "degC and degF are points on a scale; a difference is in K, delta_degC or delta_degF"
