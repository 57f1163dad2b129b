"""The way of the web over its rollers, seen from the side: free spans, wrap angles, total length, pull on a bar.

x runs to the right, y upwards, metres; the web is a line without thickness that lies tight on every roller it is told
to pass. Impossible geometry is a value (`Problem`), never an error, because authors and operators have to read it.
The tangent formulas are those of crossed and open belts (Machinery's Handbook, belt lengths).
"""

from collections.abc import Sequence
from math import asin, atan2, cos, hypot, pi, sin, sqrt
from typing import NamedTuple

FULL_TURN = 2.0 * pi
ROUNDING = 1e-9
"""Radians by which two directions may differ and still count as the same."""
SIDEWAYS = 0.34
"""A bend whose middle points less than this share (about 20 degrees) up or down is a turn to the side."""


class Roller(NamedTuple):
    """One roller: centre and diameter in m; `side` "over" or "under" says on which side the web passes.

    `moves` is "" for a fixed roller, "vertical" or "horizontal" for a tension bar that travels.
    """

    name: str
    x: float
    y: float
    diameter: float
    side: str
    moves: str = ""


class Problem(NamedTuple):
    """Why the web cannot run like this: the index of the roller concerned, and words for the author."""

    roller: int
    message: str


class Contact(NamedTuple):
    """The web on one roller: points of arrival and departure, wrap in rad, arc in m, and directions of travel.

    `turn` is +1 when the roller turns anticlockwise, -1 clockwise. The first and the last roller have one span each, so
    their wrap and arc are zero and both directions are those of that span. `pull` is the resultant of the web on the
    roller for a tension of 1: 2 sin(wrap / 2), or its part along the travel of a roller that moves.
    """

    turn: int
    arrival: tuple[float, float]
    departure: tuple[float, float]
    heading_in: float
    heading_out: float
    wrap: float
    arc: float
    pull: float


class WebPath(NamedTuple):
    """The solved path: `spans[i]` is the free length from roller i to i + 1, `length` all spans and arcs together."""

    rollers: tuple[Roller, ...]
    contacts: tuple[Contact, ...]
    spans: tuple[float, ...]
    length: float

    def place(self, name: str) -> int | None:
        """Place of the roller called `name`, or None."""
        return next((place for place, roller in enumerate(self.rollers) if roller.name == name), None)

    def between(self, start: int, end: int) -> float:
        """Web from leaving roller `start` to reaching roller `end`: the free spans and the arcs between, in m."""
        low, high = min(start, end), max(start, end)
        return sum(self.spans[low:high]) + sum(contact.arc for contact in self.contacts[low + 1 : high])


def solve(rollers: Sequence[Roller]) -> WebPath | Problem:
    """The web's way over the rollers in their order, from leaving the first to reaching the last."""
    problem = first_overlap(rollers)
    if problem is not None:
        return problem
    turns: list[int] = []
    for place in range(len(rollers)):
        turn = sense([(roller.x, roller.y) for roller in rollers], place, rollers[place].side)
        if turn is None:
            return Problem(
                place,
                f"the web runs straight up or down past {rollers[place].name}, so over or under does not say "
                "on which side; move one of the rollers a little to the side",
            )
        turns.append(turn)
    headings: list[float] = []
    spans: list[float] = []
    for place in range(len(rollers) - 1):
        heading, span = tangent(rollers[place], turns[place], rollers[place + 1], turns[place + 1])
        headings.append(heading)
        spans.append(span)
    contacts: list[Contact] = []
    for place, roller in enumerate(rollers):
        heading_in = headings[place - 1] if place else headings[0]
        heading_out = headings[place] if place < len(headings) else headings[-1]
        contacts.append(touch(roller, turns[place], heading_in, heading_out))
    for place in range(1, len(rollers) - 1):
        if contacts[place].wrap > pi and cross_each_other(contacts, place):
            return Problem(
                place,
                f"the web does not touch {rollers[place].name} when it passes {rollers[place].side} it; "
                "check its place and its side",
            )
    length = sum(spans) + sum(contact.arc for contact in contacts)
    return WebPath(tuple(rollers), tuple(contacts), tuple(spans), length)


def first_overlap(rollers: Sequence[Roller]) -> Problem | None:
    """Too few rollers, a roller without a size, or two that would be in the same place."""
    if len(rollers) < 2:
        return Problem(0, "a web path needs at least two rollers")
    for place, roller in enumerate(rollers):
        if not roller.diameter > 0.0:
            return Problem(place, f"{roller.name} needs a diameter above zero")
        for other in rollers[:place]:
            if hypot(roller.x - other.x, roller.y - other.y) <= (roller.diameter + other.diameter) / 2.0:
                return Problem(place, f"{roller.name} and {other.name} overlap or touch")
    return None


def sense(centres: Sequence[tuple[float, float]], place: int, side: str) -> int | None:
    """Which way a roller turns: +1 anticlockwise, -1 clockwise, None where over or under cannot say.

    Over the top while the web travels to the right is clockwise. The travel is that from the centre before to the centre
    after. Where the web turns back, over is the way over a bend that points up; where it turns back to the side, the
    side counts as the web comes in.
    """
    over = side == "over"
    before = None if place == 0 else direction(centres[place - 1], centres[place])
    after = None if place == len(centres) - 1 else direction(centres[place], centres[place + 1])
    if before is None or after is None:
        only = before or after
        across = only[0] if only is not None else 0.0
        return passing(over, across if abs(across) > ROUNDING else centres[-1][0] - centres[0][0])
    if before[0] * after[0] >= 0.0:
        return passing(over, before[0] + after[0]) or turned_back(over, before, after)
    return turned_back(over, before, after)


def passing(over: bool, travel: float) -> int | None:
    """The turn of a roller passed over or under by a web travelling to the right (travel > 0) or left; None at 0."""
    if abs(travel) <= ROUNDING:
        return None
    return -1 if over == (travel > 0.0) else 1


def turned_back(over: bool, before: tuple[float, float], after: tuple[float, float]) -> int | None:
    """The turn of a roller at which the web reverses, from the directions towards and away from its centre."""
    outward = (before[0] - after[0], before[1] - after[1])
    if abs(outward[1]) < SIDEWAYS * hypot(*outward) or hypot(*outward) <= ROUNDING:
        return passing(over, before[0])
    natural = 1 if before[0] * after[1] - before[1] * after[0] > 0.0 else -1
    return natural if over == (outward[1] > 0.0) else -natural


def direction(start: tuple[float, float], end: tuple[float, float]) -> tuple[float, float]:
    """Unit vector from one centre to another; the centres are apart, since rollers do not overlap."""
    distance = hypot(end[0] - start[0], end[1] - start[1])
    return (end[0] - start[0]) / distance, (end[1] - start[1]) / distance


def tangent(start: Roller, start_turn: int, end: Roller, end_turn: int) -> tuple[float, float]:
    """Heading (rad) and length (m) of the free span between two rollers.

    Length sqrt(D^2 - (r1 -+ r2)^2): minus for an open belt (both turn alike), plus for a crossed one. The heading leaves
    the line of centres by asin((r2 t2 - r1 t1) / D), with t the turns.
    """
    distance = hypot(end.x - start.x, end.y - start.y)
    offset = (end_turn * end.diameter - start_turn * start.diameter) / 2.0
    heading = atan2(end.y - start.y, end.x - start.x) - asin(offset / distance)
    return heading, sqrt((distance - offset) * (distance + offset))


def touch(roller: Roller, turn: int, heading_in: float, heading_out: float) -> Contact:
    """Where the web lies on a roller, given the headings of the spans before and after it."""
    wrap = turn * (heading_out - heading_in) % FULL_TURN
    if FULL_TURN - wrap < ROUNDING:
        wrap = 0.0
    radius = roller.diameter / 2.0
    across, upwards = cos(heading_out) - cos(heading_in), sin(heading_out) - sin(heading_in)
    match roller.moves:
        case "vertical":
            pull = abs(upwards)
        case "horizontal":
            pull = abs(across)
        case _:
            pull = 2.0 * sin(wrap / 2.0)
    return Contact(
        turn,
        (roller.x + turn * radius * sin(heading_in), roller.y - turn * radius * cos(heading_in)),
        (roller.x + turn * radius * sin(heading_out), roller.y - turn * radius * cos(heading_out)),
        heading_in,
        heading_out,
        wrap,
        radius * wrap,
        pull,
    )


def cross_each_other(contacts: Sequence[Contact], place: int) -> bool:
    """Whether the span before a roller crosses the span after it, which no real web can do."""
    a, b = contacts[place - 1].departure, contacts[place].arrival
    c, d = contacts[place].departure, contacts[place + 1].arrival
    return side_of(a, b, c) * side_of(a, b, d) < 0.0 and side_of(c, d, a) * side_of(c, d, b) < 0.0


def side_of(start: tuple[float, float], end: tuple[float, float], point: tuple[float, float]) -> float:
    """Positive when `point` lies to the left of the line from start to end, negative to the right."""
    return (end[0] - start[0]) * (point[1] - start[1]) - (end[1] - start[1]) * (point[0] - start[0])
