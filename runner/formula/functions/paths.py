"""The web's way over the rollers of a path: lengths, wraps, the pull on a bar, and how they change where it travels.

The first and the last roller of a path have a span on one side only, so nothing wraps them that a path could tell. A place
on a travel is told as a share of it, so that the travel itself stands at one place only: with its roller.
"""

from collections.abc import Callable
from math import pi

from runner.formula.dimension import ANGLE, LENGTH, NUMBER
from runner.formula.fault import nearest_name
from runner.formula.functions.row import Function, Given, KindRule, Misfit, Parameter, row
from runner.formula.interval import Interval, Possible, Unbounded, absolute, loosened, multiply, subtract
from runner.formula.kinds import Kind, Path, Quantity
from runner.formula.path_bounds import PathBounds, with_roller_at
from runner.trade.web_path import Problem, WebPath, travel

NO_WRAP = "is an end of the path, so its wrap is not known"


def roller_rule(result: Quantity, wrapped: bool, travelling: bool = False) -> KindRule:
    """Kind rule of a function of rollers: each is on the path, has a web on both sides where a wrap is asked, and a
    travel where one is needed."""

    def kind(given: tuple[Given, ...]) -> Kind | Misfit:
        path = given[0].kind
        assert isinstance(path, Path)
        for place, roller in enumerate(given[1:], start=1):
            name = roller.literal
            if not isinstance(name, str):
                continue  # a number: a share of the travel
            if name not in path.rollers:
                near = nearest_name(name, path.rollers)
                return Misfit(
                    place,
                    f"{given[0].words} has no roller '{name}'",
                    f"did you mean '{near}'?" if near else f"its rollers are {', '.join(path.rollers)}",
                )
            if wrapped and name in (path.rollers[0], path.rollers[-1]):
                return Misfit(place, f"'{name}' {NO_WRAP}", "ask for a roller between two others")
            if travelling and name not in path.travelling:
                return Misfit(place, f"'{name}' has no travel", "give the roller `moves` and `travel`")
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


def path_at(path: WebPath, roller: str, share: float) -> WebPath:
    """The path with a roller elsewhere on its travel; `ValueError` where the web could not run so."""
    place = place_of(path, roller)
    moved = travel.with_roller_at(path, place, travel.place_of_share(path.rollers[place], share))
    if isinstance(moved, Problem):
        raise ValueError(f"with {roller} at {share:g} of its travel, {moved.message}")
    return moved


def path_length_at(path: WebPath, roller: str, share: float) -> float:
    """All spans and arcs, with a roller elsewhere on its travel."""
    return path_at(path, roller, share).length


def bar_factor_at(path: WebPath, roller: str, share: float) -> float:
    """Pull on a roller elsewhere on its travel."""
    wrapped_place(path, roller)
    return bar_factor(path_at(path, roller, share), roller)


def path_take_up(path: WebPath, roller: str) -> float:
    """Web taken up between both ends of a roller's travel."""
    return abs(travel.taken_up(path_at(path, roller, 0.0), path_at(path, roller, 1.0)))


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


def path_at_bounds(path: PathBounds, roller: str, share: Interval) -> PathBounds | Unbounded:
    """The path with a roller anywhere between two shares of its travel."""
    place = place_of(path, roller)
    ends = path.rollers[place].travel
    if ends is None:
        return Unbounded(f"{roller} has no travel")
    if share.low < 0.0 or share.high > 1.0:
        return Unbounded("the share of a travel may lie outside of 0 to 1")
    way = loosened(*(ends[0] + end * (ends[1] - ends[0]) for end in share))
    return with_roller_at(path, place, way) if isinstance(way, Interval) else way


def at_share(bounds: Callable[..., Possible]) -> Callable[..., Possible]:
    """The bounds rule of a function of a path, for the path with a roller elsewhere on its travel."""

    def rule(path: PathBounds, roller: str, share: Interval) -> Possible:
        moved = path_at_bounds(path, roller, share)
        return bounds(moved, roller) if isinstance(moved, PathBounds) else moved

    return rule


def path_take_up_bounds(path: PathBounds, roller: str) -> Possible:
    """Web taken up: only the web next to the roller changes, and only that is looked at."""
    place, last = place_of(path, roller), len(path.contacts) - 1
    near, far = max(0, place - 2), min(last, place + 2)
    ends = [path_at_bounds(path, roller, Interval(share, share)) for share in (0.0, 1.0)]
    known = [end for end in ends if isinstance(end, PathBounds)]
    if len(known) < len(ends):
        return next(end for end in ends if isinstance(end, Unbounded))
    changes = [
        difference(known[0].between(near, far), known[1].between(near, far)),
        *(turned_rim(known[0], known[1], rim) for rim in (0, last) if abs(place - rim) <= 1),
    ]
    sure = [change for change in changes if isinstance(change, Interval)]
    if len(sure) < len(changes):
        return next(change for change in changes if isinstance(change, Unbounded))
    # the value is a difference of whole lengths, whose rounding is larger than that of the parts looked at here
    size = sum(part.high for part in (*path.spans, *(contact.arc for contact in path.contacts)))
    room = 1e-13 * (size + path.rollers[0].diameter.high + path.rollers[-1].diameter.high)
    found = absolute(Interval(sum(part.low for part in sure) - room, sum(part.high for part in sure) + room))
    return Interval(max(0.0, found.low), found.high)


def turned_rim(before: PathBounds, after: PathBounds, place: int) -> Interval | Unbounded:
    """Web that an end of the path wraps more than it did: its radius times the turn of the span there."""
    span = 0 if place == 0 else -1
    turn = difference(before.headings[span], after.headings[span])
    if isinstance(turn, Unbounded):
        return turn
    if turn.low <= -pi or turn.high >= pi:
        return Unbounded("the web may turn by more than half at the end of the path")
    sign = after.turns[place] * (1.0 if place == 0 else -1.0)
    diameter = after.rollers[place].diameter
    return multiply(Interval(*sorted((sign * diameter.low / 2.0, sign * diameter.high / 2.0))), turn)


def difference(before: Interval | Unbounded, after: Interval | Unbounded) -> Interval | Unbounded:
    """after - before"""
    if isinstance(before, Unbounded):
        return before
    return after if isinstance(after, Unbounded) else subtract(after, before)


PATH, ROLLER = Parameter("path", "path"), Parameter("roller", "roller")
SHARE = Parameter("share", "number", NUMBER)


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
    row(
        "path_length_at",
        (PATH, ROLLER, SHARE),
        kind=roller_rule(Quantity(LENGTH), wrapped=False, travelling=True),
        value=path_length_at,
        bounds=at_share(lambda path, _: path_length_bounds(path)),
        doc="Length of a path with a roller elsewhere on its travel; the share is 0 at the first end of the travel, 1 at "
        "the last.",
        example="path_length_at(unwind, 'tension bar', 1)",
    ),
    row(
        "path_take_up",
        (PATH, ROLLER),
        kind=roller_rule(Quantity(LENGTH), wrapped=False, travelling=True),
        value=path_take_up,
        bounds=path_take_up_bounds,
        doc="Length of web that a roller takes up on its way between both ends of its travel, wraps of its neighbours "
        "included.",
        example="path_take_up(unwind, 'tension bar')",
    ),
    row(
        "bar_factor_at",
        (PATH, ROLLER, SHARE),
        kind=roller_rule(Quantity(NUMBER), wrapped=True, travelling=True),
        value=bar_factor_at,
        bounds=at_share(bar_factor_bounds),
        doc="The `bar_factor` of a roller elsewhere on its travel; the share is 0 at the first end of the travel, 1 at the "
        "last. What hangs on a bar gives a tension that changes as this does, the other way.",
        example="bar_factor_at(unwind, 'tension bar', 0)",
    ),
)
