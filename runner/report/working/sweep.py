"""What `--sweep NAME=...` says: a range with or without a step, a list, or `*` for all that the procedure allows.

Nothing is guessed: a range that is open, inverted or in a unit of another kind is a sentence that says what to type. A unit
at one end of a range holds for the other end too.
"""

from dataclasses import dataclass, replace
from math import floor, log10

from runner.formula.dimension import difference_of
from runner.formula.quantity import Misread, Typed, read_quantity, show
from runner.formula.units import Unit
from runner.procedure.model import Input, Procedure
from runner.report.working.given import Given, Source, given_of, read_one, sources, unknown

MOST = 1000
"""Values of one sweep."""
WANTED = 20
"""A range without a step is cut into at most so many."""
ORIGIN = "--sweep"


@dataclass(frozen=True, slots=True)
class Sweep:
    """The values that one name takes in turn."""

    source: Source
    unit: Unit | None
    """As the ends were typed; None for texts."""
    given: tuple[Given, ...]
    ranged: bool
    """True for a range, which means what lies between its values too."""

    @property
    def words(self) -> str:
        """`web_width from 400 mm to 1300 mm, 19 values`."""
        count = f"{len(self.given)} {'value' if len(self.given) == 1 else 'values'}"
        if self.ranged:
            return f"{self.source.name} from {self.given[0].shown} to {self.given[-1].shown}, {count}"
        return f"{self.source.name}, {count}"


def read_sweep(procedure: Procedure, text: str, points: int | None = None) -> Sweep | str:
    """The sweep that a text asks for; or what is wrong with it, for the person who typed it."""
    name, equals, asked = (part.strip() for part in text.partition("="))
    if not equals or not name or not asked:
        return f"--sweep takes NAME=RANGE such as web_width=400mm..1300mm, or NAME=a,b,c, not {text!r}"
    source = sources(procedure).get(name)
    if source is None:
        return unknown(procedure, name)
    if points is not None and not 2 <= points <= MOST:
        return f"--points takes a whole number from 2 to {MOST}"
    if source.unit is None:
        return listed_texts(source, asked) if points is None else f"--points goes with a range; {name} is no number"
    if asked == "*":
        band = source.asked.within if isinstance(source.asked, Input) else None
        if band is None:
            return f"{name}: the procedure sets no range for it; write one, as in {name}=LOW..HIGH"
        asked = "..".join(f"{source.unit.magnitude(end):.15g}{source.unit.text}" for end in band)
    if ".." in asked:
        return range_of(source, source.unit, asked, points)
    if points is not None:
        return f"--points goes with a range such as {name}=LOW..HIGH"
    return listed_numbers(source, asked)


def listed_texts(source: Source, asked: str) -> Sweep | str:
    """A list of texts, or all choices."""
    if ".." in asked and not source.choices:
        return f"{source.name} is no number, so it has no range; write a list, as in {source.name}=a,b,c"
    if asked == "*":
        if not source.choices:
            return f"{source.name} may be any text; write a list, as in {source.name}=a,b,c"
        return sweep_of(source, source.choices)
    return sweep_of(source, tuple(part.strip() for part in asked.split(",")))


def listed_numbers(source: Source, asked: str) -> Sweep | str:
    """A list of numbers. `1,5` could be one number or two, so it is asked about."""
    parts = asked.replace(";", ",").split(",")
    unclear = all(part.isdecimal() for part in parts) and ";" not in asked
    if unclear and (len(parts) == 2 or (len(parts) > 2 and all(len(part) == 3 for part in parts[1:]))):
        spaced = "; ".join(parts)
        return (
            f"{source.name}: is {asked} one number or {len(parts)} numbers? "
            f"Write one number with a point and no comma, a list as {source.name}='{spaced}'"
        )
    return sweep_of(source, tuple(part.strip() for part in parts))


def sweep_of(source: Source, texts: tuple[str, ...]) -> Sweep | str:
    """A list of values as typed, each once."""
    if len(texts) > MOST:
        return f"{source.name}: a sweep has at most {MOST} values"
    found: list[Given] = []
    for text in texts:
        if not text:
            return f"{source.name}: a value is missing between two commas of the list"
        one = read_one(source, text, ORIGIN)
        if isinstance(one, str):
            return one
        if one in found:
            return f"{source.name}: {one.shown} stands twice in the list"
        found.append(one)
    return Sweep(source, source.unit, tuple(found), False)


def range_of(source: Source, own: Unit, asked: str, points: int | None) -> Sweep | str:
    """`LOW..HIGH`, also with `by STEP`."""
    ends, by, step_text = (part.strip() for part in asked.partition(" by "))
    low_text, _, high_text = (part.strip() for part in ends.partition(".."))
    if not low_text or not high_text:
        return f"{source.name}: the range is open; give both ends, as in {source.name}=LOW..HIGH{allowed(source, own)}"
    if by and points is not None:
        return "a range has a step (`by`) or --points, not both"
    read = both_ends(source, own, low_text, high_text)
    if isinstance(read, str):
        return read
    low, high = read
    unit = low.unit
    for end in (low, high):
        judged = read_one(source, f"{unit.magnitude(end.si)!r} {unit.text}".removesuffix(" 1"), ORIGIN)
        if isinstance(judged, str):
            return judged
    if low.si > high.si:
        turned = f"{source.name}={high_text}..{low_text}"
        return f"{source.name}: {low.echo} is more than {high.echo}; write the lower end first: {turned}"
    if low.si == high.si:
        return f"{source.name}: both ends are {low.echo}; for one value use --set {source.name}={low_text}"
    first, last = unit.magnitude(low.si), unit.magnitude(high.si)
    if points is not None:
        places = [first + (last - first) * number / (points - 1) for number in range(points)]
    else:
        step = step_of(source, unit, step_text, last - first) if by else plain_step(last - first)
        if isinstance(step, str):
            return step
        places = steps_between(first, last, step, anchored=bool(by))
    given = tuple(given_of(replace(source, unit=unit), unit.si(place), ORIGIN) for place in (*places[:-1], last))
    return Sweep(source, unit, given, True)


def both_ends(source: Source, own: Unit, low_text: str, high_text: str) -> tuple[Typed, Typed] | str:
    """The two ends in one unit: a unit typed at one end holds for the other."""
    high = read_quantity(high_text, own)
    if isinstance(high, Misread):
        return f"{source.name}: {high.message}"
    low = read_quantity(low_text, high.unit)
    if isinstance(low, Misread):
        return f"{source.name}: {low.message}"
    if low.unit != high.unit:
        again = read_quantity(high_text, low.unit)
        assert isinstance(again, Typed)  # it was read before, and the units are of one dimension
        high = again
    return low._replace(echo=show(low.si, low.unit)), high._replace(unit=low.unit, echo=show(high.si, low.unit))


def step_of(source: Source, unit: Unit, text: str, span: float) -> float | str:
    """The step, as a number of the ends' unit. On a scale such as degC a step is a difference."""
    between = unit
    if unit.dimension.point:
        between = Unit(unit.text, unit.numerator, unit.divisor, difference_of(unit.dimension))
        text = text.removesuffix(unit.text)
    read = read_quantity(text, between)
    if isinstance(read, Misread):
        return f"{source.name}, step: {read.message}"
    step = between.magnitude(read.si)
    if step <= 0:
        return f"{source.name}: the step must be more than 0"
    if span / step > MOST - 1:
        return f"{source.name}: steps of {show(read.si, between)} make more than {MOST} values; take a larger step"
    return step


def plain_step(span: float) -> float:
    """1, 2 or 5 times a power of ten: the smallest that cuts the span into at most as many as are wanted."""
    power = 10.0 ** floor(log10(span / WANTED))
    return next(step * power for step in (1, 2, 5, 10, 20) if span / (step * power) <= WANTED * (1 + 1e-9))


def steps_between(first: float, last: float, step: float, anchored: bool) -> list[float]:
    """Both ends and the places between: counted from the first where a step was asked for, else whole steps."""
    base = 0.0 if anchored else floor(first / step) * step
    start = first if anchored else base
    near = 1e-9 * step
    places = [first]
    number = 1
    while (place := start + number * step) < last - near:
        if place > first + near:
            places.append(float(f"{place:.12g}"))
        number += 1
    return [*places, last]


def allowed(source: Source, unit: Unit) -> str:
    """What an input may be, for a message; nothing where nothing is set."""
    band = source.asked.within if isinstance(source.asked, Input) else None
    return "" if band is None else f" (the procedure allows {show(band.low, unit)} to {show(band.high, unit)})"
