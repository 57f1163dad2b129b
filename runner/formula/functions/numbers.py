"""Plain arithmetic: choosing, rounding, roots, angles, logarithms.

Rounding is to the nearest whole or step with halves away from zero (rule B of ISO 80000-1 annex B, from memory), and a
number that is whole up to a billionth counts as whole, so that no float noise pushes it to the next one.
"""

from collections.abc import Callable
from math import ceil, cos, exp, floor, log, sin, sqrt, tan

from runner.formula import interval
from runner.formula.dimension import ANGLE, NUMBER, Dimension, power
from runner.formula.functions.row import Function, Given, KindRule, Misfit, Parameter, gives, row, unlike
from runner.formula.interval import Interval, Possible, Texts, Truths, Unbounded
from runner.formula.kinds import Kind, Quantity, TextKind, words

ONE = Interval(1.0, 1.0)
NOISE = 1e-9
"""Share of a step by which a number may miss a whole number of steps and still counts as whole."""


def alike(given: tuple[Given, ...], first: int = 0) -> Kind | Misfit:
    """All arguments from `first` on must be of one kind, which is the result's."""
    kind = given[first].kind
    for place, other in enumerate(given[first + 1 :], start=first + 1):
        match kind, other.kind:
            case Quantity(), Quantity() if kind.dimension == other.kind.dimension:
                pass
            case TextKind(), TextKind():
                both = kind.choices and other.kind.choices
                kind = TextKind(tuple(dict.fromkeys(kind.choices + other.kind.choices)) if both else ())
            case Quantity(), Quantity():
                return unlike(other, other.kind.dimension, kind, place)
            case _ if type(kind) is type(other.kind):
                pass
            case _:
                return Misfit(place, f"{other.words} is {words(other.kind)}, {given[first].words} is {words(kind)}")
    return kind


def all_alike(given: tuple[Given, ...]) -> Kind | Misfit:
    """Kind rule of min and max: numbers of one dimension."""
    return alike(given)


def branches_alike(given: tuple[Given, ...]) -> Kind | Misfit:
    """Kind rule of if: both results of one kind."""
    return alike(given, 1)


def plain(rule: Callable[[Dimension], Dimension]) -> KindRule:
    """Kind rule of a function of one plain quantity; points on a scale are refused."""

    def kind(given: tuple[Given, ...]) -> Kind | Misfit:
        found = given[0].kind
        if not isinstance(found, Quantity) or found.dimension.point:
            return Misfit(0, f"{given[0].words} is {words(found)}, a plain quantity is needed")
        made = rule(found.dimension)
        return Quantity(made, found.unit if made == found.dimension else "")

    return kind


def rounding_kind(given: tuple[Given, ...]) -> Kind | Misfit:
    """A plain number, or a quantity with a step of its own dimension."""
    found = given[0].kind
    if not isinstance(found, Quantity) or found.dimension.point:
        return Misfit(0, f"{given[0].words} is {words(found)}, which cannot be rounded")
    if len(given) == 1 and found.dimension != NUMBER:
        return Misfit(0, f"{given[0].words} is {words(found)}; rounding it needs a step", "as in round(x, 0.5 [kg])")
    return alike(given)


def choose(condition: bool, yes: float | str | bool, no: float | str | bool) -> float | str | bool:
    """One of two, by a condition. The evaluator asks only for the one that is chosen."""
    return yes if condition else no


def choose_bounds(condition: Truths, yes: Possible, no: Possible) -> Possible:
    """Both, or the one that the condition leaves."""
    live = [part for part, may in ((yes, condition.true), (no, condition.false)) if may]
    match live:
        case [only]:
            return only
        case [Interval() as a, Interval() as b]:
            return interval.hull([a, b])
        case [Texts() as a, Texts() as b]:
            return Texts(None if a.may is None or b.may is None else a.may | b.may)
        case [Truths() as a, Truths() as b]:
            return Truths(a.true or b.true, a.false or b.false)
    return next((part for part in live if isinstance(part, Unbounded)), interval.TOO_LARGE)


def steps_in(x: float, step: float) -> float:
    """Number of steps in x, a whole or a half where it is one up to noise."""
    if step <= 0.0:
        raise ValueError("a step to round to must be above zero")
    steps = x / step
    halves = float(floor(2.0 * steps + 0.5))
    return halves / 2.0 if abs(2.0 * steps - halves) <= NOISE * max(1.0, abs(steps)) else steps


def round_to(x: float, step: float = 1.0) -> float:
    """To the nearest step, halves away from zero."""
    steps = steps_in(x, step)
    return (floor(steps + 0.5) if steps >= 0.0 else ceil(steps - 0.5)) * step


def round_up(x: float, step: float = 1.0) -> float:
    """Up to a whole number of steps."""
    return ceil(steps_in(x, step)) * step


def round_down(x: float, step: float = 1.0) -> float:
    """Down to a whole number of steps."""
    return floor(steps_in(x, step)) * step


def rounding_bounds(value: Callable[[float, float], float]) -> Callable[..., Possible]:
    """Rounding never falls when x rises, for one step; over several steps it stays within one step of x."""

    def bounds(x: Interval, step: Interval = ONE) -> Possible:
        if step.low <= 0.0:
            return Unbounded("a step to round to may be zero or less")
        try:
            if step.low == step.high:
                return interval.widened(value(x.low, step.low), value(x.high, step.low))
            for end in x:
                value(end, step.low)  # the most steps that there may be; too many to count raises
            return interval.loosened(x.low - step.high, x.high + step.high)
        except OverflowError:
            return interval.TOO_LARGE

    return bounds


def root(x: float) -> float:
    """Square root."""
    if x < 0.0:
        raise ValueError("the square root of a number below zero does not exist")
    return sqrt(x)


def natural_log(x: float) -> float:
    """Natural logarithm."""
    if x <= 0.0:
        raise ValueError("the logarithm of zero or less does not exist")
    return log(x)


def least(*parts: Interval) -> Interval:
    """Bounds of min."""
    return Interval(min(part.low for part in parts), min(part.high for part in parts))


def greatest(*parts: Interval) -> Interval:
    """Bounds of max."""
    return Interval(max(part.low for part in parts), max(part.high for part in parts))


X, STEP = Parameter("x", "number"), Parameter("step", "number", optional=True)
A_NUMBER, AN_ANGLE = Parameter("x", "number", NUMBER), Parameter("angle", "number", ANGLE)

NUMBERS: tuple[Function, ...] = (
    row(
        "if",
        (Parameter("condition", "truth"), Parameter("then", "value"), Parameter("else", "value")),
        kind=branches_alike,
        value=choose,
        bounds=choose_bounds,
        doc="The second when the condition is true, the third when not; the other one is not worked out.",
        example="if(web_width > 1 [m], 2, 1)",
    ),
    row(
        "min",
        (Parameter("x", "number", many=True),),
        kind=all_alike,
        value=lambda *parts: min(parts),
        bounds=least,
        doc="The smallest of its arguments.",
        example="min(sling_rating, beam_rating)",
    ),
    row(
        "max",
        (Parameter("x", "number", many=True),),
        kind=all_alike,
        value=lambda *parts: max(parts),
        bounds=greatest,
        doc="The largest of its arguments.",
        example="max(bar_mass, 0 [kg])",
    ),
    row(
        "abs",
        (X,),
        kind=plain(lambda dimension: dimension),
        value=abs,
        bounds=interval.absolute,
        doc="Its argument without the sign.",
        example="abs(left_gap - right_gap)",
    ),
    row(
        "round",
        (X, STEP),
        kind=rounding_kind,
        value=round_to,
        bounds=rounding_bounds(round_to),
        doc="To the nearest whole number, or to the nearest multiple of a step; halves go away from zero.",
        example="round(bar_mass, 0.5 [kg])",
    ),
    row(
        "ceil",
        (X, STEP),
        kind=rounding_kind,
        value=round_up,
        bounds=rounding_bounds(round_up),
        doc="Up to a whole number, or to a multiple of a step.",
        example="ceil(feed / 25 [mm])",
    ),
    row(
        "floor",
        (X, STEP),
        kind=rounding_kind,
        value=round_down,
        bounds=rounding_bounds(round_down),
        doc="Down to a whole number, or to a multiple of a step.",
        example="floor(roll_length / repeat)",
    ),
    row(
        "sqrt",
        (X,),
        kind=plain(lambda dimension: power(dimension, 0.5)),
        value=root,
        bounds=interval.square_root,
        doc="Square root.",
        example="sqrt(core_od^2 + 4 * caliper * length / pi)",
    ),
    row(
        "sin",
        (AN_ANGLE,),
        kind=gives(NUMBER),
        value=sin,
        bounds=interval.sine,
        doc="Sine of an angle.",
        example="2 * sin(wrap / 2)",
    ),
    row(
        "cos",
        (AN_ANGLE,),
        kind=gives(NUMBER),
        value=cos,
        bounds=interval.cosine,
        doc="Cosine of an angle.",
        example="cos(30 [deg])",
    ),
    row(
        "tan",
        (AN_ANGLE,),
        kind=gives(NUMBER),
        value=tan,
        bounds=interval.tangent,
        doc="Tangent of an angle.",
        example="tan(60 [deg])",
    ),
    row(
        "exp",
        (A_NUMBER,),
        kind=gives(NUMBER),
        value=exp,
        bounds=interval.exponential,
        doc="e to the power of a plain number.",
        example="exp(friction * wrap / 1 [rad])",
    ),
    row(
        "log",
        (A_NUMBER,),
        kind=gives(NUMBER),
        value=natural_log,
        bounds=interval.logarithm,
        doc="Natural logarithm of a plain number.",
        example="log(pull_after / pull_before)",
    ),
)
