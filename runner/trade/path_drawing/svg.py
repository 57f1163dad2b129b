"""A web path as one inline SVG element (SVG 1.1): lines in the colour of the text around it, no script, no style, no address.

It grows with the page and prints in black. Its title and description are read out by screen readers. Names are written as
text, escaped, and what is no printable character of them is left out.
"""

from html import escape
from math import cos, pi, sin

from runner.trade.path_drawing.view import (
    bearing,
    described,
    extent,
    mark_of,
    outward,
    threaded,
    travel_words,
)
from runner.trade.web_path import WebPath
from runner.trade.web_path.travel import at_place

WIDTH = 1000.0
"""Units across the drawing, whatever size it is shown at."""
SHOWN = 880.0
"""Width in pixels where the page has room; the page's style makes it narrower where not."""
TALLEST = 620.0
LETTER = 22.0
MARGIN = 46.0
COLUMN = 40
"""Characters of a name that fit into half the width."""


def svg(path: WebPath, title: str, key: str, *, done: int | None = None) -> str:
    """The drawing with a list of its rollers below. `key` makes the element's ids its own on a page: letters, digits, -."""
    if not key.replace("-", "").isalnum() or not key.isascii():
        raise ValueError("the key of a drawing is letters, digits and -")
    area = extent(path, travels=True)
    scale = min((WIDTH - 2.0 * MARGIN) / area.width, TALLEST / area.height)
    drawing = Drawing(path, scale, area.left - (WIDTH / scale - area.width) / 2.0, area.bottom + area.height)
    bottom = area.height * scale + 2.0 * MARGIN
    listed = legend(path, done, bottom + LETTER)
    height = bottom + LETTER * 1.5 * ((len(path.rollers) + 1) // 2) + LETTER
    opening = (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDTH:g} {height:.0f}" width="{SHOWN:g}" role="img" '
        f'aria-labelledby="{key}-title {key}-desc" fill="none" stroke="currentColor" stroke-width="2" '
        f'font-family="sans-serif" font-size="{LETTER:g}">'
    )
    parts = [
        opening,
        f'<title id="{key}-title">{shown(title)}</title>',
        f'<desc id="{key}-desc">{shown(described(path))}</desc>',
        *drawing.travels(),
        *drawing.circles(done),
        *drawing.web(done),
        *drawing.arrows(),
        '<g fill="currentColor" stroke="none">',
        *drawing.numbers(done),
        *listed,
        "</g>",
        "</svg>",
    ]
    return "\n".join(parts)


def shown(text: str) -> str:
    """A text as it stands in markup: printable characters, and none that is markup."""
    return escape("".join(character for character in text if character.isprintable()), quote=True)


def legend(path: WebPath, done: int | None, top: float) -> list[str]:
    """The rollers with their sides, in two columns, read down the first and then the second."""
    half = (len(path.rollers) + 1) // 2
    lines = []
    for place, roller in enumerate(path.rollers):
        x = MARGIN if place < half else WIDTH / 2.0
        y = top + (place % half) * LETTER * 1.5
        name = roller.name if len(roller.name) <= COLUMN else roller.name[: COLUMN - 1] + "…"
        moves = f", moves {travel_words(roller.moves)}" if roller.moves is not None else ""
        words = mark_of(place, done).words
        text = f"{place + 1} {name}: {roller.side}{moves}{f' ({words})' if words else ''}"
        lines.append(f'<text x="{x:.1f}" y="{y:.1f}">{shown(text)}</text>')
    return lines


class Drawing:
    """The parts of the picture; points in units, y down."""

    def __init__(self, path: WebPath, scale: float, left: float, top: float) -> None:
        self.path, self.scale, self.left, self.top = path, scale, left, top

    def at(self, x: float, y: float) -> tuple[float, float]:
        """A point of the path in units."""
        return (x - self.left) * self.scale, (self.top - y) * self.scale + MARGIN

    def pair(self, x: float, y: float) -> str:
        """The same, written."""
        across, down = self.at(x, y)
        return f"{across:.1f} {down:.1f}"

    def circles(self, done: int | None) -> list[str]:
        """The rollers; the next one has a thicker rim."""
        lines = []
        for place, roller in enumerate(self.path.rollers):
            x, y = self.at(roller.x, roller.y)
            thick = ' stroke-width="5"' if mark_of(place, done).words == "next" else ""
            lines.append(f'<circle cx="{x:.1f}" cy="{y:.1f}" r="{roller.radius * self.scale:.1f}"{thick}/>')
        return lines

    def web(self, done: int | None) -> list[str]:
        """The web, span after arc after span, threaded or dashed."""
        lines = []
        for span in range(len(self.path.spans)):
            start, end = self.path.contacts[span].departure, self.path.contacts[span + 1].arrival
            dashes = "" if threaded(span, done) else ' stroke-dasharray="6 8"'
            way = f"M {self.pair(*start)} L {self.pair(*end)}{self.arc(span + 1)}"
            lines.append(f'<path d="{way}" stroke-width="4"{dashes}/>')
        return lines

    def arc(self, place: int) -> str:
        """The web on a roller, from arrival to departure; nothing where it only ends there."""
        contact, roller = self.path.contacts[place], self.path.rollers[place]
        if contact.wrap <= 0.0:
            return ""
        radius = f"{roller.radius * self.scale:.1f}"
        large, sweep = int(contact.wrap > pi), int(contact.turn < 0)
        return f" A {radius} {radius} 0 {large} {sweep} {self.pair(*contact.departure)}"

    def arrows(self) -> list[str]:
        """The direction of travel, in the middle of each span that has room for it."""
        lines = []
        for span, length in enumerate(self.path.spans):
            if length * self.scale < 40.0:
                continue
            start, end = self.path.contacts[span].departure, self.path.contacts[span + 1].arrival
            heading = bearing(start, end)
            x, y = self.at((start[0] + end[0]) / 2.0, (start[1] + end[1]) / 2.0)
            corners = " ".join(
                f"{x + reach * cos(heading + turn):.1f},{y - reach * sin(heading + turn):.1f}"
                for turn, reach in ((0.0, 14.0), (2.6, 13.0), (-2.6, 13.0))
            )
            lines.append(f'<polygon points="{corners}" fill="currentColor" stroke="none"/>')
        return lines

    def travels(self) -> list[str]:
        """A dashed line over the travel of each roller that has one."""
        lines = []
        for roller in self.path.rollers:
            if roller.moves is not None and roller.travel is not None:
                ends = [self.pair(end.x, end.y) for end in (at_place(roller, place) for place in roller.travel)]
                lines.append(f'<path d="M {ends[0]} L {ends[1]}" stroke-width="1.5" stroke-dasharray="3 5"/>')
        return lines

    def numbers(self, done: int | None) -> list[str]:
        """The number of each roller, inside it or away from the web's bend."""
        lines = []
        for place, roller in enumerate(self.path.rollers):
            x, y = self.at(roller.x, roller.y)
            text = f"{mark_of(place, done).sign}{place + 1}"
            if roller.radius * self.scale < LETTER * 0.5 * (1 + len(text)):
                # beside the line of a travel, not on it
                away = outward(self.path, place) + (0.0 if roller.travel is None else pi / 5.0)
                reach = roller.radius * self.scale + LETTER * 0.8
                x, y = x + reach * cos(away), y - reach * sin(away)
            lines.append(
                f'<text x="{x:.1f}" y="{y + LETTER * 0.36:.1f}" text-anchor="middle" font-weight="bold">{text}</text>'
            )
        return lines
