"""Rolls and how long they last, from `runner.trade`: their formulas, ranges and sources stand beside the arithmetic there."""

from runner.formula.dimension import DENSITY, GRAMMAGE, LENGTH, MASS, NUMBER
from runner.formula.functions.numbers import all_alike
from runner.formula.functions.row import Function, Parameter, corners, gives, row
from runner.formula.interval import Interval, Possible, Unbounded
from runner.trade import job_length, roll, roll_mass

OUTER = Parameter("outer", "number", LENGTH)
CORE = Parameter("core", "number", LENGTH)
INNER = Parameter("inner", "number", LENGTH)
CALIPER = Parameter("caliper", "number", LENGTH)
ROLL_LENGTH = Parameter("length", "number", LENGTH)
WIDTH = Parameter("width", "number", LENGTH)
A_DENSITY = Parameter("density", "number", DENSITY)


def disagreement_bounds(a: Interval, b: Interval) -> Possible:
    """None where the two may be equal; else from the nearest ends, and to the ends that lie furthest apart."""
    if min(a.low, b.low) < 0.0:
        return Unbounded("a value that is compared may be negative")
    apart = max(a.low, b.low) > min(a.high, b.high)
    least = roll_mass.disagreement(max(a.low, b.low), min(a.high, b.high)) if apart else 0.0
    most = max(roll_mass.disagreement(a.low, b.high), roll_mass.disagreement(a.high, b.low))
    return Interval(least, most)  # each side stands once in the arithmetic, so its floats rise and fall as it does


ROLLS: tuple[Function, ...] = (
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
        "roll_diameter_after",
        (OUTER, Parameter("taken", "number", LENGTH), CORE, CALIPER),
        kind=gives(LENGTH),
        value=roll.diameter_after,
        bounds=corners(roll.diameter_after),
        doc="Outer diameter of a roll once this length has run off it.",
        example="roll_diameter_after(roll_od, 1000 [m], core_od, caliper)",
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
        "roll_length_left",
        (
            Parameter("full_length", "number", LENGTH),
            Parameter("full_outer", "number", LENGTH),
            OUTER,
            CORE,
        ),
        kind=gives(LENGTH),
        value=roll.length_left,
        bounds=corners(roll.length_left),
        doc="Length still on a roll by its outer diameter now, from its length and outer diameter when full; no thickness is asked.",
        example="roll_length_left(ticket_length, roll_od, 600 [mm], core_od)",
    ),
    row(
        "roll_mass_by_grammage",
        (Parameter("grammage", "number", GRAMMAGE), WIDTH, ROLL_LENGTH),
        kind=gives(MASS),
        value=roll_mass.mass_from_grammage,
        bounds=corners(roll_mass.mass_from_grammage),
        doc="Mass of the web on a roll, without core and shaft, from its grammage, width and length.",
        example="roll_mass_by_grammage(grammage, web_width, roll_length)",
    ),
    row(
        "roll_mass_by_density",
        (A_DENSITY, WIDTH, OUTER, CORE),
        kind=gives(MASS),
        value=roll_mass.mass_from_density,
        bounds=corners(roll_mass.mass_from_density),
        doc="Mass of the web on a roll, without core and shaft, from its density, width and diameters.",
        example="roll_mass_by_density(905 [kg/m^3], web_width, roll_od, core_od)",
    ),
    row(
        "tube_mass",
        (OUTER, INNER, ROLL_LENGTH, A_DENSITY),
        kind=gives(MASS),
        value=roll_mass.tube_mass,
        bounds=corners(roll_mass.tube_mass),
        doc="Mass of a core or a shaft, from its diameters, its length and its density.",
        example="tube_mass(106 [mm], 76 [mm], web_width, 700 [kg/m^3])",
    ),
    row(
        "disagreement",
        (Parameter("a", "number"), Parameter("b", "number")),
        kind=all_alike,
        value=roll_mass.disagreement,
        bounds=disagreement_bounds,
        doc="By how much two values for one thing disagree, as a share of the larger: 0 when they are equal.",
        example="disagreement(roll_mass, ticket_mass)",
    ),
    row(
        "length_for_job",
        (
            Parameter("good", "number", LENGTH),
            Parameter("waste", "number", NUMBER),
            Parameter("once", "number", LENGTH),
            Parameter("splices", "number", NUMBER),
            Parameter("each_splice", "number", LENGTH),
        ),
        kind=gives(LENGTH),
        value=job_length.length_needed,
        bounds=corners(job_length.length_needed),
        doc=(
            "Web that a job takes: its good length, the share of all web run that is waste, what is lost once (threading, running up), "
            "and what each splice costs."
        ),
        example="length_for_job(job_length, 3 [%], 180 [m], 2, 12 [m])",
    ),
    row(
        "reel_width_tolerance",
        (WIDTH,),
        kind=gives(LENGTH),
        value=roll.width_tolerance,
        bounds=corners(roll.width_tolerance),
        doc="By how much the width of a reel for printing may be off either way: half a percent, but 2 mm to 3 mm.",
        example="reel_width_tolerance(web_width)",
    ),
)
