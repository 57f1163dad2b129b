"""A roller that travels: the path with it elsewhere, and how length, wrap and pull change on the way.

A weight hung on a bar is one force at every place, so where the pull changes over the travel the tension of the web
changes the other way: tension = force / pull. Places are m along the direction of travel, from where it is drawn.
"""

from collections.abc import Sequence
from math import pi
from typing import NamedTuple

from runner.trade.web_path.roller import Problem, Roller, WebPath, along
from runner.trade.web_path.solving import solve


class TravelRow(NamedTuple):
    """The path with its roller at one place of its travel: web in m, wrap in rad, pull for a tension of 1."""

    place: float
    length: float
    wrap: float
    factor: float


def at_place(roller: Roller, place: float) -> Roller:
    """The roller elsewhere on its travel; a fixed one stays where it is."""
    if roller.moves is None:
        return roller
    across, upwards = along(roller.moves)
    return roller._replace(x=roller.x + place * across, y=roller.y + place * upwards)


def with_roller_at(path: WebPath, roller: int, place: float) -> WebPath | Problem:
    """The path with one roller elsewhere on its travel. A problem where the web could not run so, or would have to pass
    some roller on its other side: it was threaded once, and does not jump."""
    rollers = list(path.rollers)
    rollers[roller] = at_place(rollers[roller], place)
    found = solve(rollers)
    if isinstance(found, Problem):
        return found
    for number, (before, after) in enumerate(zip(path.contacts, found.contacts, strict=True)):
        if before.turn != after.turn:
            name = path.rollers[number].name
            return Problem(number, f"the web would have to pass {name} on its other side")
    return found


def taken_up(before: WebPath, after: WebPath) -> float:
    """Web in m that a path holds more than it did, between fixed points of the rims of its first and last roller.

    Where a bar hangs next to an end of the path, the web also wraps that roller by more or less. For a tension of 1 the
    web given up for each metre of travel is the pull along it (virtual work).
    """
    first, last = after.rollers[0], after.rollers[-1]
    leaving = turned(before.contacts[0].heading_out, after.contacts[0].heading_out) * after.contacts[0].turn
    arriving = turned(before.contacts[-1].heading_in, after.contacts[-1].heading_in) * after.contacts[-1].turn
    return after.length - before.length + first.radius * leaving - last.radius * arriving


def turned(before: float, after: float) -> float:
    """The angle from one heading to another, the short way round, rad."""
    return (after - before + pi) % (2.0 * pi) - pi


def take_up(path: WebPath, roller: int) -> float | Problem:
    """Web in m that a roller takes up on its way between both ends of its travel. `ValueError` without a travel."""
    ends = [with_roller_at(path, roller, place_of_share(path.rollers[roller], share)) for share in (0.0, 1.0)]
    low, high = ends
    if isinstance(low, Problem):
        return low
    return high if isinstance(high, Problem) else abs(taken_up(low, high))


def place_of_share(roller: Roller, share: float) -> float:
    """The place that is so far along the travel, 0 at its first end and 1 at its last. `ValueError` without a travel or
    for a share outside of 0 to 1, with words for the operator."""
    if roller.travel is None:
        raise ValueError(f"{roller.name} has no travel")
    if not 0.0 <= share <= 1.0:
        raise ValueError(f"{share:g} is not between 0 and 1, the ends of the travel of {roller.name}")
    low, high = roller.travel
    return low + share * (high - low)


def travel_table(path: WebPath, roller: int, places: Sequence[float]) -> tuple[TravelRow | Problem, ...]:
    """A row for each place of a roller, or the problem that the web has there."""
    rows: list[TravelRow | Problem] = []
    for place in places:
        found = with_roller_at(path, roller, place)
        if isinstance(found, Problem):
            rows.append(found)
        else:
            contact = found.contacts[roller]
            rows.append(TravelRow(place, found.length, contact.wrap, contact.pull))
    return tuple(rows)


def spread(low: float, high: float, count: int) -> tuple[float, ...]:
    """So many places from one to the other, both included; at least two."""
    return (*(low + (high - low) * number / (count - 1) for number in range(count - 1)), high)
