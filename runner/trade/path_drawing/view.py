"""What every drawing shows: the extent of a path, the marks of its rollers, where a number has room.

With `done` rollers threaded, the first `done` are marked as done and the one after them as next; without it nothing is
marked and the whole web is drawn through.
"""

from math import atan2, pi
from typing import NamedTuple

from runner.say.text import mark
from runner.trade.web_path import HORIZONTAL, VERTICAL, WebPath
from runner.trade.web_path.travel import at_place


class Extent(NamedTuple):
    """The smallest upright rectangle around all rollers, m."""

    left: float
    bottom: float
    width: float
    height: float


class Mark(NamedTuple):
    """How a roller is marked: a sign before its number and the words for the sign."""

    sign: str
    ascii: str
    words: str


DONE = Mark("✓", "x", mark("done"))
NEXT = Mark("▶", ">", mark("next"))
TO_COME = Mark("", "", "")
TRAVEL_SIGNS = {VERTICAL: "↕", HORIZONTAL: "↔"}


def extent(path: WebPath, travels: bool = False) -> Extent:
    """Room that the rollers take, with `travels` also at both ends of the travel of those that have one."""
    discs = [(roller.x, roller.y, roller.radius) for roller in path.rollers]
    if travels:
        ends = [at_place(roller, place) for roller in path.rollers for place in roller.travel or ()]
        discs += [(roller.x, roller.y, roller.radius) for roller in ends]
    left, right = min(x - r for x, _, r in discs), max(x + r for x, _, r in discs)
    bottom, top = min(y - r for _, y, r in discs), max(y + r for _, y, r in discs)
    return Extent(left, bottom, right - left, top - bottom)


def mark_of(place: int, done: int | None) -> Mark:
    """The mark of the roller at a place."""
    if done is None or place > done:
        return TO_COME
    return NEXT if place == done else DONE


def threaded(span: int, done: int | None) -> bool:
    """Whether the web already lies in a span: the roller at its end is done."""
    return done is None or span + 1 < done


def outward(path: WebPath, place: int) -> float:
    """The direction from a roller's centre in which a number has most room: off the bend of the web, but at the ends of
    the path away from the web."""
    roller, contact = path.rollers[place], path.contacts[place]
    inwards = contact.force_direction
    if place in (0, len(path.rollers) - 1) or inwards is None:
        return bearing(contact.departure, (roller.x, roller.y))
    return inwards + pi


def travel_words(moves: float | None) -> str:
    """The direction in which a roller moves, as a person reads it; empty for a fixed one."""
    if moves is None:
        return ""
    if moves in (VERTICAL, HORIZONTAL):
        return "vertical" if moves == VERTICAL else "horizontal"
    return f"{moves * 180.0 / pi:.6g} deg from the horizontal"


def described(path: WebPath) -> str:
    """The path in a sentence, for whoever does not see the drawing."""
    parts = [f"{roller.side} {place} {roller.name}" for place, roller in enumerate(path.rollers, start=1)]
    return f"Side view. The web runs {', '.join(parts)}."


def octant(heading: float) -> int:
    """The nearest of eight directions, 0 to the right and on anticlockwise."""
    return round(heading / (pi / 4.0)) % 8


def bearing(start: tuple[float, float], end: tuple[float, float]) -> float:
    """The heading from one point to another."""
    return atan2(end[1] - start[1], end[0] - start[0])
