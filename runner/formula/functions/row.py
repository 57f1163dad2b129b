"""What a row of the function table is made of, and the small rules that rows share.

A kind rule takes what stands in each place and gives the result's kind or a `Misfit`. A value function takes SI floats,
texts, rows and solved paths, and raises `ValueError` with words for the operator outside its range. A bounds rule takes
what each argument may be, and is never too narrow.
"""

from collections.abc import Callable
from itertools import product
from typing import Literal, NamedTuple, TypeAlias

from runner.formula.dimension import Dimension, describe
from runner.formula.interval import TOO_LARGE, Interval, Possible, Unbounded, loosened_each
from runner.formula.kinds import Kind, Quantity, Truth, words
from runner.formula.repairs import clash

Wanted: TypeAlias = Literal["value", "number", "truth", "text", "table", "path", "column", "roller"]


class Parameter(NamedTuple):
    """One place of a function: its name in the reference, what may stand there, how often.

    `dimension` fixes the dimension of a number. `many` means once or more, `optional` that it may be left out.
    """

    name: str
    wants: Wanted
    dimension: Dimension | None = None
    many: bool = False
    optional: bool = False


class Given(NamedTuple):
    """What stands in one place of a call: its kind, its text or number where it is written out, and its words."""

    kind: Kind
    literal: str | float | None
    words: str


class Misfit(NamedTuple):
    """Which argument of a call does not fit, why, and what to do."""

    argument: int
    message: str
    hint: str = ""


KindRule: TypeAlias = Callable[[tuple[Given, ...]], Kind | Misfit]


class Function(NamedTuple):
    """A row. Make it with `row`, which refuses one without a bounds rule."""

    name: str
    parameters: tuple[Parameter, ...]
    kind: KindRule
    value: Callable[..., float | str | bool]
    bounds: Callable[..., Possible]
    doc: str
    example: str

    @property
    def usage(self) -> str:
        """The call as the reference prints it: `lookup(table, key, ..., column)`."""
        parts = [f"[{p.name}]" if p.optional else f"{p.name}, ..." if p.many else p.name for p in self.parameters]
        return f"{self.name}({', '.join(parts)})"

    @property
    def fewest(self) -> int:
        """Fewest arguments."""
        return sum(not parameter.optional for parameter in self.parameters)

    @property
    def most(self) -> int | None:
        """Most arguments, None when there may be any number."""
        return None if any(parameter.many for parameter in self.parameters) else len(self.parameters)

    def places(self, count: int) -> tuple[Parameter, ...]:
        """The parameter of each of `count` arguments; those too many get the last one's."""
        places: list[Parameter] = []
        spare = count - len(self.parameters)
        for parameter in self.parameters:
            places.extend([parameter] * (1 + max(spare, 0) if parameter.many else 1))
        return tuple(places[:count] + places[-1:] * (count - len(places)))


def row(
    name: str,
    parameters: tuple[Parameter, ...],
    *,
    kind: KindRule,
    value: Callable[..., float | str | bool],
    bounds: Callable[..., Possible],
    doc: str,
    example: str,
) -> Function:
    """A row of the table. One that cannot say what its result may be has no place in it: `TypeError`."""
    if not callable(bounds):
        raise TypeError(f"{name} has no bounds rule")
    return Function(name, parameters, kind, value, bounds, doc, example)


def gives(dimension: Dimension) -> KindRule:
    """The rule of a function whose arguments have fixed dimensions, and whose result has this one."""
    return lambda _: Quantity(dimension)


def wrong_dimension(given: Given, wanted: Dimension, unit: str = "") -> str:
    """Why a quantity does not stand where another dimension is wanted: both sides in the author's units."""
    return f"{given.words} is {words(given.kind)}, {describe(wanted, unit)} is needed"


def unlike(given: Given, found: Dimension, wanted: Quantity, place: int) -> Misfit:
    """A quantity of another dimension than the one wanted, with what repairs it."""
    message = wrong_dimension(given, wanted.dimension, wanted.unit)
    return Misfit(place, message, clash(found, wanted.dimension, given.words))


def misfit(given: Given, parameter: Parameter, place: int) -> Misfit | None:
    """Whether what is given may stand for a parameter at all."""
    match parameter.wants:
        case "number":
            if not isinstance(given.kind, Quantity):
                return Misfit(place, f"{given.words} is {words(given.kind)}, a number is needed")
            if parameter.dimension is not None and given.kind.dimension != parameter.dimension:
                return unlike(given, given.kind.dimension, Quantity(parameter.dimension), place)
        case "truth":
            if not isinstance(given.kind, Truth):
                return Misfit(
                    place, f"{given.words} is {words(given.kind)}, a condition is needed", "compare it, as in x > 0"
                )
        case "text" | "roller":
            if not isinstance(given.literal, str):
                return Misfit(place, f"the {parameter.name} is a name in quotes", "write it like 'tension bar'")
        case _:
            return None
    return None


def corners(value: Callable[..., float]) -> Callable[..., Possible]:
    """The bounds rule of a function that only rises or only falls in each argument: its extremes are at the corners."""

    def bounds(*boxes: Interval) -> Possible:
        found: list[float] = []
        for ends in product(*boxes):
            try:
                found.append(value(*ends))
            except ValueError as error:
                return Unbounded(str(error))
            except ArithmeticError:
                return TOO_LARGE
        return loosened_each(min(found), max(found))

    return bounds
