"""A web path whose rollers may be larger or smaller, or elsewhere, within intervals: bounds of spans, wraps and pulls.

The formulas are those of `runner.trade.web_path`, over intervals. Which way each roller turns must be the same all over
the box, and the web must be able to run everywhere in it (`runner.formula.path_room`); where that cannot be said, the
answer is `Unbounded`.
"""

from itertools import pairwise
from math import asin, atan, atan2, cos, hypot, nextafter, pi, sin
from typing import NamedTuple

from runner.formula import interval
from runner.formula.interval import Interval, Unbounded, add, loosened, multiply, subtract, widened
from runner.formula.path_room import Disc, Stretch, without_room
from runner.trade.web_path.roller import ROUNDING, along
from runner.trade.web_path.sides import sense

UNCLEAR = Unbounded("the rollers may lie so differently that the way of the web is not the same")


class RollerBox(NamedTuple):
    """A roller whose centre and diameter lie within intervals; direction and travel are fixed."""

    name: str
    x: Interval
    y: Interval
    diameter: Interval
    side: str
    moves: float | None = None
    travel: tuple[float, float] | None = None


class ContactBounds(NamedTuple):
    """Bounds of the wrap (rad), the arc (m) and the pull for a tension of 1."""

    wrap: Interval
    arc: Interval
    pull: Interval


class PathBounds(NamedTuple):
    """Bounds of all parts of a path; the first and the last contact are zero."""

    rollers: tuple[RollerBox, ...]
    turns: tuple[int, ...]
    spans: tuple[Interval, ...]
    headings: tuple[Interval, ...]
    contacts: tuple[ContactBounds, ...]

    def place(self, name: str) -> int | None:
        """Place of the roller called `name`, or None."""
        return next((place for place, roller in enumerate(self.rollers) if roller.name == name), None)

    def between(self, start: int, end: int) -> Interval | Unbounded:
        """Web from leaving roller `start` to reaching roller `end`."""
        low, high = min(start, end), max(start, end)
        parts = [*self.spans[low:high], *(contact.arc for contact in self.contacts[low + 1 : high])]
        return loosened(sum(part.low for part in parts), sum(part.high for part in parts))


def bound_path(rollers: tuple[RollerBox, ...]) -> PathBounds | Unbounded:
    """Bounds of the web's way over rollers in a box."""
    if len(rollers) < 2:
        return Unbounded("a web path needs at least two rollers")
    turns = turns_of(rollers)
    if isinstance(turns, Unbounded):
        return turns
    for place, roller in enumerate(rollers):
        for other in rollers[:place]:
            if may_overlap(roller, other):
                return Unbounded(f"{roller.name} and {other.name} may overlap")
    spans: list[Interval] = []
    headings: list[Interval] = []
    for place in range(len(rollers) - 1):
        found = span_bounds(rollers[place], turns[place], rollers[place + 1], turns[place + 1])
        if isinstance(found, Unbounded):
            return found
        spans.append(found[0])
        headings.append(found[1])
    nothing = ContactBounds(Interval(0.0, 0.0), Interval(0.0, 0.0), Interval(0.0, 0.0))
    contacts = [nothing]
    for place in range(1, len(rollers) - 1):
        contact = contact_bounds(rollers[place], turns[place], headings[place - 1], headings[place])
        if isinstance(contact, Unbounded):
            return contact
        contacts.append(contact)
    discs = tuple(Disc(r.name, r.x, r.y, Interval(r.diameter.low / 2.0, r.diameter.high / 2.0)) for r in rollers)
    stretches = [
        Stretch(place, place + 1, turns[place], turns[place + 1], headings[place], spans[place])
        for place in range(len(spans))
    ]
    tight = without_room(discs, stretches, [contact.wrap for contact in contacts])
    if tight:
        return Unbounded(tight)
    return PathBounds(rollers, tuple(turns), tuple(spans), tuple(headings), (*contacts, nothing))


def may_overlap(a: RollerBox, b: RollerBox) -> bool:
    """Whether two rollers may touch, or be in the same place."""
    apart = [max(0.0, p.low - q.high, q.low - p.high) for p, q in ((a.x, b.x), (a.y, b.y))]
    return hypot(*apart) * (1.0 - 1e-14) <= (a.diameter.high + b.diameter.high) / 2.0


def with_roller_at(path: PathBounds, place: int, along_travel: Interval) -> PathBounds | Unbounded:
    """The path with one roller anywhere between two places of its travel."""
    roller = path.rollers[place]
    if roller.moves is None:
        return path
    centre: list[Interval] = []
    for part, share in zip((roller.x, roller.y), along(roller.moves), strict=True):
        way = multiply(along_travel, Interval(share, share))
        moved = add(part, way) if isinstance(way, Interval) else way
        if isinstance(moved, Unbounded):
            return moved
        centre.append(moved)
    rollers = list(path.rollers)
    rollers[place] = roller._replace(x=centre[0], y=centre[1])
    found = bound_path(tuple(rollers))
    if isinstance(found, PathBounds) and found.turns != path.turns:
        return UNCLEAR
    return found


def turns_of(rollers: tuple[RollerBox, ...]) -> list[int] | Unbounded:
    """Which way each roller turns, where that is certain."""
    centres = [((r.x.low + r.x.high) / 2.0, (r.y.low + r.y.high) / 2.0) for r in rollers]
    fixed = all(r.x.low == r.x.high and r.y.low == r.y.high for r in rollers)
    if fixed:
        centres = [(r.x.low, r.y.low) for r in rollers]
    elif not all(same_travel(rollers, place) for place in range(len(rollers))):
        return UNCLEAR
    turns: list[int] = []
    for place, roller in enumerate(rollers):
        turn = sense(centres, place, roller.side)
        if turn is None:
            return UNCLEAR
        turns.append(turn)
    return turns


def same_travel(rollers: tuple[RollerBox, ...], place: int) -> bool:
    """Whether the web surely goes on to the same side, left or right, before and after a roller."""
    steps = [subtract(b.x, a.x) for a, b in pairwise(rollers)][max(0, place - 1) : place + 1]
    to_right = all(isinstance(step, Interval) and step.low > ROUNDING for step in steps)
    to_left = all(isinstance(step, Interval) and step.high < -ROUNDING for step in steps)
    return to_right or to_left


def span_bounds(
    start: RollerBox, start_turn: int, end: RollerBox, end_turn: int
) -> tuple[Interval, Interval] | Unbounded:
    """Bounds of length and heading of the free span between two rollers."""
    across, upwards = subtract(end.x, start.x), subtract(end.y, start.y)
    far = offset_of(start, start_turn, end, end_turn)
    if isinstance(across, Unbounded) or isinstance(upwards, Unbounded) or isinstance(far, Unbounded):
        return interval.TOO_LARGE
    squares = [interval.power(across, 2), interval.power(upwards, 2), interval.power(far, 2)]
    if any(isinstance(square, Unbounded) for square in squares):
        return interval.TOO_LARGE
    a, b, c = (square for square in squares if isinstance(square, Interval))
    both = add(a, b)
    rest = subtract(both, c) if isinstance(both, Interval) else both
    if isinstance(rest, Unbounded) or isinstance(both, Unbounded):
        return interval.TOO_LARGE
    if rest.low <= 0.0 or both.low <= 0.0:
        return Unbounded(f"{start.name} and {end.name} may overlap")
    length, distance = interval.square_root(rest), interval.square_root(both)
    if isinstance(length, Unbounded) or isinstance(distance, Unbounded):
        return interval.TOO_LARGE
    ratio = interval.divide(far, distance)
    centres = centre_heading(across, upwards)
    if isinstance(ratio, Unbounded) or isinstance(centres, Unbounded):
        return UNCLEAR
    lean = loosened(asin(max(ratio.low, -1.0)), asin(min(ratio.high, 1.0)))
    heading = subtract(centres, lean) if isinstance(lean, Interval) else lean
    span = loosened(*length)
    if isinstance(heading, Unbounded) or isinstance(span, Unbounded):
        return interval.TOO_LARGE
    return span, heading


def offset_of(start: RollerBox, start_turn: int, end: RollerBox, end_turn: int) -> Interval | Unbounded:
    """(r2 t2 - r1 t1), by which the span leaves the line of centres."""
    signed = [
        Interval(r.diameter.low / 2.0, r.diameter.high / 2.0)
        if turn > 0
        else Interval(-r.diameter.high / 2.0, -r.diameter.low / 2.0)
        for r, turn in ((start, start_turn), (end, end_turn))
    ]
    return subtract(signed[1], signed[0])


def centre_heading(across: Interval, upwards: Interval) -> Interval | Unbounded:
    """Heading of the line of centres; measured from its middle, so that no heading jumps by a full turn."""
    middle = atan2((upwards.low + upwards.high) / 2.0, (across.low + across.high) / 2.0)
    if across.low == across.high and upwards.low == upwards.high:
        return widened(middle, middle, 4)
    c, s = Interval(cos(middle), cos(middle)), Interval(sin(middle), sin(middle))
    parts = [multiply(across, c), multiply(upwards, s), multiply(upwards, c), multiply(across, s)]
    if any(isinstance(part, Unbounded) for part in parts):
        return interval.TOO_LARGE
    a, b, d, e = (part for part in parts if isinstance(part, Interval))
    along, aside = add(a, b), subtract(d, e)
    if isinstance(along, Unbounded) or isinstance(aside, Unbounded) or along.low <= 0.0:
        return UNCLEAR
    slope = interval.divide(aside, along)
    if isinstance(slope, Unbounded):
        return slope
    return loosened(middle + nextafter(atan(slope.low), -4.0), middle + nextafter(atan(slope.high), 4.0))


def contact_bounds(roller: RollerBox, turn: int, before: Interval, after: Interval) -> ContactBounds | Unbounded:
    """Bounds of the web on one roller, from those of the headings."""
    bend = subtract(after, before) if turn > 0 else subtract(before, after)
    if isinstance(bend, Unbounded):
        return bend
    # a web that runs straight past a roller bends by nothing, or by a rounding to the other side
    shift = 2.0 * pi * (((bend.low + bend.high) / 2.0 + ROUNDING / 2.0) // (2.0 * pi))
    wrap = loosened(bend.low - shift, bend.high - shift)
    if isinstance(wrap, Unbounded):
        return wrap
    if -ROUNDING / 2.0 < wrap.low < 0.0:
        wrap = Interval(0.0, max(0.0, wrap.high))  # solving takes such a wrap for none
    elif wrap.low < 0.0 or wrap.high > 2.0 * pi - ROUNDING:
        wrap = Interval(0.0, 2.0 * pi)
    arc = multiply(Interval(roller.diameter.low / 2.0, roller.diameter.high / 2.0), wrap)
    pull = pull_bounds(roller, wrap, before, after)
    return (
        interval.TOO_LARGE
        if isinstance(arc, Unbounded) or isinstance(pull, Unbounded)
        else ContactBounds(wrap, arc, pull)
    )


def pull_bounds(roller: RollerBox, wrap: Interval, before: Interval, after: Interval) -> Interval | Unbounded:
    """Bounds of the pull on a roller for a tension of 1."""
    if roller.moves is None:
        half = interval.sine(Interval(wrap.low / 2.0, wrap.high / 2.0))
        found = multiply(Interval(2.0, 2.0), half)
    else:
        found = along_travel(roller.moves, before, after)
    if isinstance(found, Unbounded):
        return found
    size = interval.absolute(found)
    return loosened(max(0.0, size.low - 1e-14), size.high + 1e-14)


def along_travel(moves: float, before: Interval, after: Interval) -> Interval | Unbounded:
    """The force of the web along a direction: the difference of the cosines of both headings to it."""
    across, upwards = along(moves)
    if not across:  # upright: the sines themselves, which shift by no rounding
        return subtract(interval.sine(after), interval.sine(before))
    if not upwards:
        return subtract(interval.cosine(after), interval.cosine(before))
    direction = Interval(moves, moves)
    turned = [subtract(heading, direction) for heading in (after, before)]
    parts = [interval.cosine(part) for part in turned if isinstance(part, Interval)]
    return subtract(parts[0], parts[1]) if len(parts) == 2 else interval.TOO_LARGE
