"""What no web can do: rollers in the same place, a pass that is not reached, a span through a roller, a web through itself.

Two rollers that touch count as overlapping. A span touches the two rollers at its ends and no other; spans of one web
never cross, since it is as wide as the machine. Each fault names the roller at which the author has to look.
"""

from collections.abc import Sequence
from math import cos, hypot, pi, sin

from runner.trade.web_path.roller import Problem, Roller, WebPath

MISSED = 1.5 * pi
"""A wrap of more than this, where the spans cross, is a bend the other way: a web that passes the roller by."""
DEPTH = 1e-9
"""Metres by which a span may seem to enter a roller that it only touches."""


def misplaced(rollers: Sequence[Roller]) -> Problem | None:
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


def impossible(path: WebPath) -> Problem | None:
    """The first thing that a web laid like this could not do."""
    rollers, contacts = path.rollers, path.contacts
    for place in range(1, len(rollers) - 1):
        if contacts[place].wrap > pi and crossing(path, place - 1, place):
            does = "does not touch" if contacts[place].wrap > MISSED else "would run through itself right behind"
            return Problem(
                place,
                f"the web {does} {rollers[place].name} when it passes {rollers[place].side} it; "
                "check its place and its side",
            )
    for span in range(len(path.spans)):
        for place in range(len(rollers)):
            if place not in (span, span + 1) and clearance(path, span, place) < -DEPTH:
                return Problem(
                    place,
                    f"the web runs through {rollers[place].name} on its way from {rollers[span].name} to "
                    f"{rollers[span + 1].name}; check the places and the sides of the three",
                )
    for later in range(2, len(path.spans)):
        for earlier in range(later - 1):
            if crossing(path, earlier, later):
                return Problem(
                    later + 1,
                    f"the web would run through itself: on its way from {rollers[later].name} to "
                    f"{rollers[later + 1].name} it crosses the way from {rollers[earlier].name} to "
                    f"{rollers[earlier + 1].name}; check the sides from {rollers[earlier + 1].name} on",
                )
    return None


def clearance(path: WebPath, span: int, place: int) -> float:
    """Room in m between a free span and the surface of a roller; below zero where the span runs through it."""
    roller, start, heading = path.rollers[place], path.contacts[span].departure, path.contacts[span].heading_out
    c, s = cos(heading), sin(heading)
    across, upwards = roller.x - start[0], roller.y - start[1]
    ahead, aside = across * c + upwards * s, upwards * c - across * s
    beyond = max(0.0, -ahead, ahead - path.spans[span])
    return hypot(beyond, aside) - roller.radius


def crossing(path: WebPath, first: int, second: int) -> bool:
    """Whether two spans cross; a shared end or a mere touch is no crossing."""
    a, b = path.contacts[first].departure, path.contacts[first + 1].arrival
    c, d = path.contacts[second].departure, path.contacts[second + 1].arrival
    if max(a[0], b[0]) < min(c[0], d[0]) or max(c[0], d[0]) < min(a[0], b[0]):
        return False
    return side_of(a, b, c) * side_of(a, b, d) < 0.0 and side_of(c, d, a) * side_of(c, d, b) < 0.0


def side_of(start: tuple[float, float], end: tuple[float, float], point: tuple[float, float]) -> float:
    """Positive when `point` lies to the left of the line from start to end, negative to the right."""
    return (end[0] - start[0]) * (point[1] - start[1]) - (end[1] - start[1]) * (point[0] - start[0])
