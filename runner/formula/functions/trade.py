"""The trade's own functions, from `runner.trade`: rolls, slings, wraps. Their sources stand beside the arithmetic there."""

from math import pi

from runner.formula import interval
from runner.formula.dimension import ANGLE, DENSITY, FORCE, LENGTH, MASS, NUMBER
from runner.formula.functions.row import Function, Parameter, corners, gives, row
from runner.formula.interval import Interval, Possible, Unbounded
from runner.trade import lifting, roll, tension

OUTER = Parameter("outer", "number", LENGTH)
CORE = Parameter("core", "number", LENGTH)
CALIPER = Parameter("caliper", "number", LENGTH)
ROLL_LENGTH = Parameter("length", "number", LENGTH)


def wrap_pull_bounds(force: Interval, wrap: Interval) -> Possible:
    """2 F sin(theta / 2) over a box; the sine rises to half a turn and then falls, so no corner rule."""
    if wrap.low < 0.0 or wrap.high > 2.0 * pi:
        return Unbounded("the wrap may lie outside 0 to 360 degrees")
    double = interval.multiply(Interval(2.0, 2.0), force)
    if isinstance(double, Unbounded):
        return double
    pull = interval.multiply(double, interval.sine(Interval(wrap.low / 2.0, wrap.high / 2.0)))
    return pull if isinstance(pull, Unbounded) else interval.widened(*pull, 2)


TRADE: tuple[Function, ...] = (
    row(
        "roll_length",
        (OUTER, CORE, CALIPER),
        kind=gives(LENGTH),
        value=roll.roll_length,
        bounds=corners(roll.roll_length),
        doc="Length of web on a roll, from outer and core diameter and the web's thickness.",
        example="roll_length(roll_od, core_od, caliper)",
    ),
    row(
        "roll_diameter",
        (ROLL_LENGTH, CORE, CALIPER),
        kind=gives(LENGTH),
        value=roll.outer_diameter,
        bounds=corners(roll.outer_diameter),
        doc="Outer diameter of a roll with this length of web on it.",
        example="roll_diameter(length_left, core_od, caliper)",
    ),
    row(
        "roll_turns",
        (OUTER, CORE, CALIPER),
        kind=gives(NUMBER),
        value=roll.turns,
        bounds=corners(roll.turns),
        doc="Turns of web on a roll.",
        example="roll_turns(roll_od, core_od, caliper)",
    ),
    row(
        "roll_caliper",
        (ROLL_LENGTH, OUTER, CORE),
        kind=gives(LENGTH),
        value=roll.caliper_from_length,
        bounds=corners(roll.caliper_from_length),
        doc="Thickness of the web, found backwards from a roll of known length: the best value there is.",
        example="roll_caliper(ticket_length, roll_od, core_od)",
    ),
    row(
        "tube_mass",
        (OUTER, Parameter("inner", "number", LENGTH), ROLL_LENGTH, Parameter("density", "number", DENSITY)),
        kind=gives(MASS),
        value=roll.tube_mass,
        bounds=corners(roll.tube_mass),
        doc="Mass of a core or a shaft, from its diameters, its length and its density.",
        example="tube_mass(106 [mm], 76 [mm], web_width, 700 [kg/m^3])",
    ),
    row(
        "leg_load",
        (Parameter("load", "number", MASS), Parameter("legs", "number", NUMBER), Parameter("angle", "number", ANGLE)),
        kind=gives(MASS),
        value=lifting.leg_load,
        bounds=corners(lifting.leg_load),
        doc="Load in each leg of a sling, its angle from the horizontal.",
        example="leg_load(roll_mass, 2, 60 [deg])",
    ),
    row(
        "wrap_pull",
        (Parameter("force", "number", FORCE), Parameter("wrap", "number", ANGLE)),
        kind=gives(FORCE),
        value=tension.bar_force,
        bounds=wrap_pull_bounds,
        doc="Pull of a web of this total tension on a bar that it wraps by this angle.",
        example="wrap_pull(tension * web_width, 180 [deg])",
    ),
    row(
        "capstan",
        (Parameter("friction", "number", NUMBER), Parameter("wrap", "number", ANGLE)),
        kind=gives(NUMBER),
        value=tension.capstan_ratio,
        bounds=corners(tension.capstan_ratio),
        doc="Largest ratio of the tensions on both sides of a bar before the web slips.",
        example="capstan(0.25, 180 [deg])",
    ),
)
