"""Web paths for tests: rows of rollers that a web can surely be led over, and their outlines for shapely."""

from math import cos, pi, sin

import numpy as np
import shapely
from hypothesis import strategies as st

from runner.trade.web_path import Roller, WebPath, solve

FINE = 720
"""Points on a quarter of a circle in an outline."""


def row(drops: list[float], radii: list[float]) -> list[Roller]:
    """Rollers one metre apart, in turn passed over and, so far below, under."""
    return [
        Roller(f"r{n}", float(n), -drop if n % 2 else 0.0, 2 * radius, "under" if n % 2 else "over")
        for n, (drop, radius) in enumerate(zip(drops, radii, strict=False))
    ]


ROWS = st.builds(
    row,
    st.lists(st.floats(0.3, 1.5), min_size=3, max_size=7),
    st.lists(st.floats(0.03, 0.2), min_size=7, max_size=7),
)


def path(*rollers: Roller) -> WebPath:
    """The path over rollers that a web can be led over."""
    found = solve(rollers)
    assert isinstance(found, WebPath), found
    return found


def disc(roller: Roller) -> shapely.Geometry:
    """A roller's outline, from inside: never larger than the circle."""
    return shapely.Point(roller.x, roller.y).buffer(roller.diameter / 2, quad_segs=FINE)


def span(found: WebPath, number: int) -> shapely.Geometry:
    """A free span."""
    return shapely.LineString([found.contacts[number].departure, found.contacts[number + 1].arrival])


def arc(found: WebPath, place: int, points: int = 400) -> "np.ndarray[tuple[int, int], np.dtype[np.float64]]":
    """Points of the web on a roller, from arrival to departure."""
    contact, roller = found.contacts[place], found.rollers[place]
    # the web arrives where the roller's rim has turned a quarter back from its heading
    angles = contact.heading_in - contact.turn * (pi / 2) + contact.turn * np.linspace(0.0, contact.wrap, points)
    return np.array([(roller.x + roller.radius * cos(a), roller.y + roller.radius * sin(a)) for a in angles])
