"""Slings, hooks and beams, from `runner.trade`: their formulas, ranges and sources stand beside the arithmetic there.

Loads and ratings are masses, as plates print them; angles count from the horizontal.
"""

from runner.formula.dimension import ANGLE, FORCE, LENGTH, MASS, NUMBER
from runner.formula.fault import nearest_name
from runner.formula.functions.row import Function, Given, Misfit, Parameter, corners, gives, row
from runner.formula.interval import Interval, Possible, Texts, Unbounded
from runner.formula.kinds import Kind, Quantity, TextKind, words
from runner.trade import lifting, sling

LOAD = Parameter("load", "number", MASS)
LEGS = Parameter("legs", "number", NUMBER)
LEG_ANGLE = Parameter("angle", "number", ANGLE)


def mode_kind(given: tuple[Given, ...]) -> Kind | Misfit:
    """Kind rule of a way to use a sling: a text that can only be one of the known ways."""
    kind, known = given[0].kind, tuple(sling.MODE_FACTORS)
    listed = "write one of " + ", ".join(f"'{mode}'" for mode in known)
    if not isinstance(kind, TextKind):
        return Misfit(0, f"{given[0].words} is {words(kind)}, a way to use a sling is needed", listed)
    if not kind.choices:
        return Misfit(0, f"{given[0].words} may be any text, a way to use a sling is needed", listed)
    for mode in kind.choices:
        if mode not in known:
            near = nearest_name(mode, known)
            return Misfit(0, f"'{mode}' is no known way to use a sling", f"did you mean '{near}'?" if near else listed)
    return Quantity(NUMBER)


def mode_bounds(mode: Texts) -> Possible:
    """The factors of all ways that it may be."""
    factors = [sling.MODE_FACTORS[one] for one in mode.may or () if one in sling.MODE_FACTORS]
    if mode.may is None or not factors or len(factors) < len(mode.may):
        return Unbounded("the way the sling is used may be none that is known")
    return Interval(min(factors), max(factors))


def reserve_bounds(load: Interval, *ratings: Interval) -> Possible:
    """Least with all of the load and the least of each rating; not by corners, which double with every rating."""
    try:
        least = lifting.hook_reserve(load.high, *(rating.low for rating in ratings))
        most = lifting.hook_reserve(load.low, *(rating.high for rating in ratings))
    except ValueError as error:
        return Unbounded(str(error))
    return Interval(least, most)  # one subtraction, whose floats rise and fall as it does


LIFTS: tuple[Function, ...] = (
    row(
        "leg_load",
        (LOAD, LEGS, LEG_ANGLE),
        kind=gives(MASS),
        value=sling.leg_load,
        bounds=corners(sling.leg_load),
        doc="Load in each leg of a sling, its angle from the horizontal, 30 degrees or more; four legs count as three.",
        example="leg_load(roll_mass, 2, 60 [deg])",
    ),
    row(
        "leg_load_by_height",
        (LOAD, LEGS, Parameter("length", "number", LENGTH), Parameter("height", "number", LENGTH)),
        kind=gives(MASS),
        value=sling.leg_load_by_height,
        bounds=corners(sling.leg_load_by_height),
        doc="Load in each leg of a sling, from the length of a leg and the height of its upper end above the lower, with no angle.",
        example="leg_load_by_height(roll_mass, 2, 1200 [mm], 960 [mm])",
    ),
    row(
        "sling_capacity",
        (Parameter("leg_rating", "number", MASS), LEGS, LEG_ANGLE),
        kind=gives(MASS),
        value=sling.sling_capacity,
        bounds=corners(sling.sling_capacity),
        doc="Load that a sling may carry at this angle, from the rating of one of its legs; four legs count as three.",
        example="sling_capacity(sling_rating, 2, 60 [deg])",
    ),
    row(
        "sling_mode",
        (Parameter("mode", "value"),),
        kind=mode_kind,
        value=sling.mode_factor,
        bounds=mode_bounds,
        doc=(
            "Factor on the rating of one leg for a way to use a sling, the number being the angle between legs: "
            + ", ".join(f"'{mode}' {factor:g}" for mode, factor in sling.MODE_FACTORS.items())
            + "."
        ),
        example="sling_rating * sling_mode('choke')",
    ),
    row(
        "reserve_on_hook",
        (LOAD, Parameter("rating", "number", MASS, many=True)),
        kind=gives(MASS),
        value=lifting.hook_reserve,
        bounds=reserve_bounds,
        doc="The weakest of the ratings less all that hangs on the hook (roll, core, shaft, beam, slings); negative when overloaded.",
        example="reserve_on_hook(roll_mass + 57 [kg], crane_rating, beam_rating, sling_capacity(sling_rating, 2, 60 [deg]))",
    ),
    row(
        "load_on_beam_end",
        (LOAD, Parameter("to_this_end", "number", LENGTH), Parameter("to_other_end", "number", LENGTH)),
        kind=gives(MASS),
        value=lifting.beam_end_load,
        bounds=corners(lifting.beam_end_load),
        doc="What a load off the middle of a beam puts on one end, from its distances to this end and to the other.",
        example="load_on_beam_end(roll_mass, 0.8 [m], 1.2 [m])",
    ),
    row(
        "spreader_push",
        (LOAD, LEG_ANGLE),
        kind=gives(FORCE),
        value=lifting.spreader_compression,
        bounds=corners(lifting.spreader_compression),
        doc="Force that pushes a spreader together under two top legs at this angle from the horizontal.",
        example="spreader_push(roll_mass, 60 [deg])",
    ),
)
