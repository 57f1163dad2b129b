"""The web's way over the rollers of a path: lengths, wraps, and the pull on a bar.

The first and the last roller of a path have a span on one side only, so nothing wraps them that a path could tell.
"""

from runner.formula.dimension import ANGLE, LENGTH, NUMBER
from runner.formula.fault import nearest_name
from runner.formula.functions.row import Function, Given, KindRule, Misfit, Parameter, row
from runner.formula.interval import Possible
from runner.formula.kinds import Kind, Path, Quantity
from runner.formula.path_bounds import PathBounds
from runner.trade.web_path import WebPath

NO_WRAP = "is an end of the path, so its wrap is not known"


def roller_rule(result: Quantity, wrapped: bool) -> KindRule:
    """Kind rule of a function of rollers: each is on the path, and has a web on both sides where a wrap is asked."""

    def kind(given: tuple[Given, ...]) -> Kind | Misfit:
        path = given[0].kind
        assert isinstance(path, Path)
        for place, roller in enumerate(given[1:], start=1):
            name = str(roller.literal)
            if name not in path.rollers:
                near = nearest_name(name, path.rollers)
                return Misfit(
                    place,
                    f"{given[0].words} has no roller '{name}'",
                    f"did you mean '{near}'?" if near else f"its rollers are {', '.join(path.rollers)}",
                )
            if wrapped and name in (path.rollers[0], path.rollers[-1]):
                return Misfit(place, f"'{name}' {NO_WRAP}", "ask for a roller between two others")
        return result

    return kind


def place_of(path: WebPath | PathBounds, name: str) -> int:
    """Where a roller stands on a path; `ValueError` when it does not."""
    place = path.place(name)
    if place is None:
        raise ValueError(f"the path has no roller '{name}'")
    return place


def wrapped_place(path: WebPath | PathBounds, name: str) -> int:
    """Where a roller with a web on both sides stands on a path."""
    place = place_of(path, name)
    if place in (0, len(path.contacts) - 1):
        raise ValueError(f"'{name}' {NO_WRAP}")
    return place


def path_length(path: WebPath) -> float:
    """All spans and arcs."""
    return path.length


def bar_factor(path: WebPath, roller: str) -> float:
    """Pull on a roller for a tension of 1, along its travel if it moves."""
    return path.contacts[wrapped_place(path, roller)].pull


def wrap_angle(path: WebPath, roller: str) -> float:
    """Wrap of a roller, rad."""
    return path.contacts[wrapped_place(path, roller)].wrap


def span_length(path: WebPath, start: str, end: str) -> float:
    """Web from leaving one roller to reaching another."""
    return path.between(place_of(path, start), place_of(path, end))


def path_length_bounds(path: PathBounds) -> Possible:
    """All spans and arcs."""
    return path.between(0, len(path.contacts) - 1)


def bar_factor_bounds(path: PathBounds, roller: str) -> Possible:
    """Pull on a roller."""
    return path.contacts[wrapped_place(path, roller)].pull


def wrap_angle_bounds(path: PathBounds, roller: str) -> Possible:
    """Wrap of a roller."""
    return path.contacts[wrapped_place(path, roller)].wrap


def span_length_bounds(path: PathBounds, start: str, end: str) -> Possible:
    """Web between two rollers."""
    return path.between(place_of(path, start), place_of(path, end))


PATH, ROLLER = Parameter("path", "path"), Parameter("roller", "roller")


PATHS: tuple[Function, ...] = (
    row(
        "path_length",
        (PATH,),
        kind=roller_rule(Quantity(LENGTH), wrapped=False),
        value=path_length,
        bounds=path_length_bounds,
        doc="Length of web from the first roller of a path to the last, with its arcs on the rollers between.",
        example="path_length(unwind)",
    ),
    row(
        "span_length",
        (PATH, Parameter("from", "roller"), Parameter("to", "roller")),
        kind=roller_rule(Quantity(LENGTH), wrapped=False),
        value=span_length,
        bounds=span_length_bounds,
        doc="Length of web from leaving one roller to reaching another.",
        example="span_length(unwind, 'roll', 'entry idler')",
    ),
    row(
        "wrap_angle",
        (PATH, ROLLER),
        kind=roller_rule(Quantity(ANGLE), wrapped=True),
        value=wrap_angle,
        bounds=wrap_angle_bounds,
        doc="Angle by which the web wraps a roller.",
        example="wrap_angle(unwind, 'tension bar')",
    ),
    row(
        "bar_factor",
        (PATH, ROLLER),
        kind=roller_rule(Quantity(NUMBER), wrapped=True),
        value=bar_factor,
        bounds=bar_factor_bounds,
        doc="Pull of the web on a roller as a multiple of its tension: 2 sin(wrap / 2), "
        "or the part of it along the travel of a roller that moves.",
        example="bar_factor(unwind, 'tension bar')",
    ),
)
