"""What a web path is made of: rollers as they are given, and the web on them as it was found.

Plain values in SI. An angle is counted in rad from the horizontal to the right, anticlockwise; a force is the web's on
the roller for a tension of 1, so that it is a plain number.
"""

from math import atan2, cos, hypot, pi, sin
from typing import NamedTuple

HORIZONTAL = 0.0
VERTICAL = pi / 2.0
"""Directions in which a roller may travel."""

ROUNDING = 1e-9
"""Radians by which two directions may differ and still count as the same; also the share of a unit vector."""


class Roller(NamedTuple):
    """One roller: centre and diameter in m; `side` "over" or "under" says on which side the web passes.

    `moves` is the direction in which it travels, None for a fixed one. `travel` says how far, from and to, in m along
    that direction from the place where it is drawn; None where that is not known.
    """

    name: str
    x: float
    y: float
    diameter: float
    side: str
    moves: float | None = None
    travel: tuple[float, float] | None = None

    @property
    def radius(self) -> float:
        """Half the diameter, m."""
        return self.diameter / 2.0


class Problem(NamedTuple):
    """Why the web cannot run like this: the index of the roller concerned, and words for the author."""

    roller: int
    message: str


class Contact(NamedTuple):
    """The web on one roller: points of arrival and departure, wrap in rad, arc in m, and directions of travel.

    `turn` is +1 when the roller turns anticlockwise, -1 clockwise. The first and the last roller have one span each, so
    their wrap, arc and force are zero and both directions are those of that span. `force` is the resultant of the web on
    the roller as (across, up); `pull` is its size, 2 sin(wrap / 2), or for a roller that moves its part along the travel.
    """

    turn: int
    arrival: tuple[float, float]
    departure: tuple[float, float]
    heading_in: float
    heading_out: float
    wrap: float
    arc: float
    pull: float
    force: tuple[float, float]

    @property
    def resultant(self) -> float:
        """Size of the whole force on the roller for a tension of 1: 2 sin(wrap / 2)."""
        return hypot(*self.force)

    @property
    def force_direction(self) -> float | None:
        """Where the force points, rad in (-pi, pi]; None where there is none to speak of."""
        return atan2(self.force[1], self.force[0]) if self.resultant > ROUNDING else None


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


def along(direction: float) -> tuple[float, float]:
    """The unit vector of a direction; level and upright are exact, so that what travels upright stays where it is across."""
    across, upwards = cos(direction), sin(direction)
    return (0.0 if abs(across) < 1e-15 else across), (0.0 if abs(upwards) < 1e-15 else upwards)
