"""Bars, cylinders and wraps, from `runner.trade`: their formulas, ranges and sources stand beside the arithmetic there.

Forces are those of the whole width: tension per width times width.
"""

from math import pi

from runner.formula import interval
from runner.formula.dimension import ANGLE, ENERGY, FORCE, FORCE_PER_WIDTH, LENGTH, MASS, NUMBER, PRESSURE
from runner.formula.functions.row import Function, Given, Misfit, Parameter, corners, gives, row, unlike
from runner.formula.interval import Interval, Possible, Truths, Unbounded
from runner.formula.kinds import Kind, Quantity, Truth, words
from runner.formula.repairs import clash
from runner.trade import friction, tension

FORCE_OF_WEB = Parameter("force", "number", FORCE)
PULL = Parameter("pull", "number", FORCE)
WRAP = Parameter("wrap", "number", ANGLE)
LOOPS = Parameter("loops", "number", NUMBER, optional=True)
DOWN_FORCE = Parameter("down_force", "number", FORCE, optional=True)
A_MASS = Parameter("mass", "number", MASS)
FRICTION = Parameter("friction", "number", NUMBER)
AIR_PRESSURE = Parameter("pressure", "number", PRESSURE)
BORE = Parameter("bore", "number", LENGTH)
ONE, NO_FORCE = Interval(1.0, 1.0), Interval(0.0, 0.0)


def web_tension(given: Given, place: int) -> Misfit | None:
    """Whether a number is a tension, in total or per width."""
    assert isinstance(given.kind, Quantity)
    if given.kind.dimension in (FORCE, FORCE_PER_WIDTH):
        return None
    message = f"{given.words} is {words(given.kind)}, a force (N) or a force per width (N/m) is needed"
    return Misfit(place, message, clash(given.kind.dimension, FORCE, given.words))


def two_tensions(given: tuple[Given, ...]) -> Kind | Misfit:
    """Kind rule of a question about two tensions, both total or both per width."""
    one, other = given[0].kind, given[1].kind
    assert isinstance(one, Quantity)
    assert isinstance(other, Quantity)
    misfit = web_tension(given[0], 0) or web_tension(given[1], 1)
    if misfit is None and one.dimension != other.dimension:
        misfit = unlike(given[1], other.dimension, one, 1)
    return misfit or Truth()


def wrap_pull_bounds(force: Interval, wrap: Interval, loops: Interval = ONE) -> Possible:
    """2 k F sin(theta / 2) over a box; the sine rises to half a turn and then falls, so no corner rule."""
    if wrap.low < 0.0 or wrap.high > 2.0 * pi:
        return Unbounded("the wrap may lie outside 0 to 360 degrees")
    if loops.low < 1.0:
        return Unbounded("the web may not loop round the bar at all")
    factors = (loops, force, interval.sine(Interval(wrap.low / 2.0, wrap.high / 2.0)))
    return product(Interval(2.0, 2.0), *factors)


def tension_of_mass_bounds(
    mass: Interval, wrap: Interval, down_force: Interval = NO_FORCE, loops: Interval = ONE
) -> Possible:
    """(m g + F) / (2 k sin(theta / 2)) over a box; the sine has its top within, so no corner rule."""
    if wrap.low <= 0.0 or wrap.high >= 2.0 * pi:
        return Unbounded("the wrap may be 0 or 360 degrees, and the bar then makes no tension")
    if mass.low < 0.0 or loops.low < 1.0:
        return Unbounded("the mass may be negative" if mass.low < 0.0 else "the web may not loop round the bar at all")
    weight = product(mass, Interval(tension.STANDARD_GRAVITY, tension.STANDARD_GRAVITY))
    pull = weight if isinstance(weight, Unbounded) else interval.add(weight, down_force)
    per_tension = product(Interval(2.0, 2.0), loops, interval.sine(Interval(wrap.low / 2.0, wrap.high / 2.0)))
    if isinstance(pull, Unbounded) or isinstance(per_tension, Unbounded):
        return pull if isinstance(pull, Unbounded) else per_tension
    found = interval.divide(pull, per_tension)
    return found if isinstance(found, Unbounded) else interval.widened(*found, 2)


def product(*factors: Interval) -> Interval | Unbounded:
    """All factors multiplied, two units in the last place wider than that, since they may be multiplied in another order."""
    result = factors[0]
    for factor in factors[1:]:
        found = interval.multiply(result, factor)
        if isinstance(found, Unbounded):
            return found
        result = found
    return interval.widened(*result, 2)


def web_slips_bounds(one: Interval, other: Interval, friction_of_web: Interval, wrap: Interval) -> Possible:
    """Slips first with the tensions furthest apart and the least ratio, holds longest with them nearest and the largest."""
    if min(one.low, other.low) < 0.0:
        return Unbounded("a tension may be negative")
    ratio = corners(friction.capstan_ratio)(friction_of_web, wrap)
    if not isinstance(ratio, Interval):
        return ratio
    least, most = max(ratio.low, 1.0), ratio.high  # equal tensions never slip
    larger, smaller = max(one.low, other.low), min(one.high, other.high)
    may_hold = larger <= smaller * most
    may_slip = one.high > other.low * least or other.high > one.low * least
    return Truths(may_slip, may_hold)


BARS: tuple[Function, ...] = (
    row(
        "wrap_pull",
        (FORCE_OF_WEB, WRAP, LOOPS),
        kind=gives(FORCE),
        value=tension.bar_force,
        bounds=wrap_pull_bounds,
        doc="Pull of a web of this total tension on a bar that it wraps by this angle, once or in several loops side by side.",
        example="wrap_pull(tension * web_width, 180 [deg])",
    ),
    row(
        "mass_to_hang",
        (PULL, Parameter("bar_mass", "number", MASS), DOWN_FORCE),
        kind=gives(MASS),
        value=tension.added_mass,
        bounds=corners(tension.added_mass),
        doc=(
            "Mass to hang on a bar that the web pulls up, beside the bar's own mass and any other force on it, positive downwards; "
            "negative when the bar alone is too heavy."
        ),
        example="mass_to_hang(wrap_pull(tension * web_width, 180 [deg]), 8 [kg])",
    ),
    row(
        "mass_on_lever",
        (
            PULL,
            Parameter("roller_arm", "number", LENGTH),
            Parameter("weight_arm", "number", LENGTH),
            Parameter("own_moment", "number", ENERGY, optional=True),
        ),
        kind=gives(MASS),
        value=tension.lever_mass,
        bounds=corners(tension.lever_mass),
        doc=(
            "Mass to hang on a lever whose roller the web pulls, from both arms and the moment of the lever's own weight where it helps; "
            "negative when the lever alone is too heavy."
        ),
        example="mass_on_lever(wrap_pull(tension * web_width, 180 [deg]), 200 [mm], 400 [mm])",
    ),
    row(
        "tension_of_mass",
        (A_MASS, WRAP, DOWN_FORCE, LOOPS),
        kind=gives(FORCE),
        value=tension.tension_from_mass,
        bounds=tension_of_mass_bounds,
        doc="Total tension that a bar with all that hangs on it makes in the web: what the chosen pieces really give.",
        example="tension_of_mass(bar_mass, 180 [deg]) / web_width",
    ),
    row(
        "cylinder_push",
        (AIR_PRESSURE, BORE),
        kind=gives(FORCE),
        value=tension.cylinder_force,
        bounds=corners(tension.cylinder_force),
        doc="Force of an air cylinder that pushes, from the pressure on its gauge and its bore, without friction.",
        example="cylinder_push(6 [bar], 63 [mm])",
    ),
    row(
        "cylinder_pull",
        (AIR_PRESSURE, BORE, Parameter("rod", "number", LENGTH)),
        kind=gives(FORCE),
        value=tension.cylinder_force,
        bounds=corners(tension.cylinder_force),
        doc="Force of an air cylinder that pulls: its rod takes room from the pressure.",
        example="cylinder_pull(6 [bar], 63 [mm], 20 [mm])",
    ),
    row(
        "capstan",
        (FRICTION, WRAP),
        kind=gives(NUMBER),
        value=friction.capstan_ratio,
        bounds=corners(friction.capstan_ratio),
        doc="Largest ratio of the tensions on both sides of a bar before the web slips.",
        example="capstan(0.25, 180 [deg])",
    ),
    row(
        "web_slips",
        (Parameter("one", "number"), Parameter("other", "number"), FRICTION, WRAP),
        kind=two_tensions,
        value=friction.slips,
        bounds=web_slips_bounds,
        doc="True where the tensions on both sides of a roller are too unequal for its friction and wrap; no air under the web.",
        example="web_slips(pull_before, pull_after, 0.25, wrap)",
    ),
)
