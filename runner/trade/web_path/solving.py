"""From rollers to the web on them: which way each turns, the tangents between them, wraps, arcs and forces.

The tangents are those of open and crossed belts (Machinery's Handbook, belt lengths, from memory). What no web can do is
found in `impossible`, and given back as a `Problem`.
"""

from collections.abc import Sequence
from math import asin, atan2, cos, hypot, pi, sin, sqrt

from runner.trade.web_path.impossible import impossible, misplaced
from runner.trade.web_path.roller import ROUNDING, Contact, Problem, Roller, WebPath, along
from runner.trade.web_path.sides import sense

FULL_TURN = 2.0 * pi


def solve(rollers: Sequence[Roller]) -> WebPath | Problem:
    """The web's way over the rollers in their order, from leaving the first to reaching the last."""
    problem = misplaced(rollers)
    if problem is not None:
        return problem
    turns = turns_of(rollers)
    if isinstance(turns, Problem):
        return turns
    path = laid(rollers, turns)
    return impossible(path) or path


def turns_of(rollers: Sequence[Roller]) -> list[int] | Problem:
    """Which way each roller turns, +1 anticlockwise, -1 clockwise."""
    centres = [(roller.x, roller.y) for roller in rollers]
    turns: list[int] = []
    for place, roller in enumerate(rollers):
        turn = sense(centres, place, roller.side)
        if turn is None:
            return Problem(
                place,
                f"the web runs straight up or down past {roller.name}, so over or under does not say on which side; "
                "move one of the rollers a little to the side",
            )
        turns.append(turn)
    return turns


def laid(rollers: Sequence[Roller], turns: Sequence[int]) -> WebPath:
    """The web laid tight over rollers that are apart and turn like this, whether or not a web could run so."""
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
    length = sum(spans) + sum(contact.arc for contact in contacts)
    return WebPath(tuple(rollers), tuple(contacts), tuple(spans), length)


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
    """Where the web lies on a roller, given the headings of the spans before and after it.

    Statics: the leaving web pulls the way it goes, the arriving web the way it came, so the force is the difference of
    the two unit vectors of travel.
    """
    wrap = turn * (heading_out - heading_in) % FULL_TURN
    if FULL_TURN - wrap < ROUNDING:
        wrap = 0.0
    force = (cos(heading_out) - cos(heading_in), sin(heading_out) - sin(heading_in))
    if roller.moves is None:
        pull = 2.0 * sin(wrap / 2.0)
    else:
        travel = along(roller.moves)
        pull = abs(force[0] * travel[0] + force[1] * travel[1])
    return Contact(
        turn,
        touching(roller, turn, heading_in),
        touching(roller, turn, heading_out),
        heading_in,
        heading_out,
        wrap,
        roller.radius * wrap,
        pull,
        force,
    )


def touching(roller: Roller, turn: int, heading: float) -> tuple[float, float]:
    """The point at which a web that travels along a heading touches a roller."""
    reach = turn * roller.radius
    return roller.x + reach * sin(heading), roller.y - reach * cos(heading)
