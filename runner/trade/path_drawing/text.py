"""A web path on a canvas of character cells: circles, the web, a number at every roller, arrows along the web.

The number of a roller stands inside it where it has room, else beside it, away from the web's bend. What is not threaded
yet is dotted. Every line is exactly as long as asked for.
"""

from math import cos, pi, sin
from typing import NamedTuple

from runner.say.text import say
from runner.trade.path_drawing.dots import Dots, far
from runner.trade.path_drawing.view import (
    DONE,
    NEXT,
    TRAVEL_SIGNS,
    Extent,
    bearing,
    extent,
    mark_of,
    octant,
    outward,
    threaded,
)
from runner.trade.web_path import WebPath

ARROWS = "→↗↑↖←↙↓↘"
PLAIN_ARROWS = ">^^^<vvv"
"""Plain characters have no slanted arrows: what goes up is an arrow up."""
LEAST = (20, 6)
"""Columns and rows below which nothing could be told apart."""
DOTTED = 3
"""Every so-manieth dot of a web that is not threaded yet."""
SHORT = 3.0
"""Cells of a span that has no room for an arrow."""


class Cell(NamedTuple):
    """A place of the canvas."""

    column: int
    row: int


class Scale(NamedTuple):
    """From metres to dots: y counts from the top."""

    area: Extent
    dots_per_m: float
    left: float
    bottom: float

    def point(self, point: tuple[float, float]) -> tuple[float, float]:
        """A point in dots."""
        across, up = point[0] - self.area.left, point[1] - self.area.bottom
        return self.left + across * self.dots_per_m, self.bottom - up * self.dots_per_m


def text_lines(
    path: WebPath, columns: int, rows: int, *, done: int | None = None, plain: bool = False
) -> tuple[str, ...]:
    """The drawing, `rows` lines of `columns` cells; none on a canvas below `LEAST`. `plain` keeps to ASCII."""
    if columns < LEAST[0] or rows < LEAST[1]:
        return ()
    scale = scaled(path, columns, rows)
    dots = Dots(columns, rows)
    for roller in path.rollers:
        dots.circle(*scale.point((roller.x, roller.y)), roller.radius * scale.dots_per_m)
    draw_web(path, dots, scale, done)
    over: dict[Cell, str] = {}
    for place in by_room(path):
        label = label_of(path, place, done, plain)
        put_label(label, free_cell(path, place, len(label), dots, scale, over), over)
    for span in range(len(path.spans)):
        put_arrow(path, span, scale, over, plain)
    return tuple(
        "".join(over.get(Cell(column, row)) or dots.character(column, row, plain) for column in range(columns))
        for row in range(rows)
    )


def rows_for(path: WebPath, columns: int) -> int:
    """Rows that a drawing of so many columns wants: those of its shape, within what leaves room for other things."""
    area = extent(path)
    wanted = 2.0 * (columns - 6) * area.height / max(area.width, 1e-9) / 4.0 + 2.5
    return max(8, min(20, round(wanted)))


def key_line(done: int | None, plain: bool = False) -> str:
    """What the signs mean; empty where there are none."""
    if done is None:
        return ""
    return "  ".join(f"{mark.ascii if plain else mark.sign} {say(mark.words)}" for mark in (DONE, NEXT))


def scaled(path: WebPath, columns: int, rows: int) -> Scale:
    """As large as the canvas allows, in the middle of it, with a margin for numbers."""
    area = extent(path)
    across, upwards = 2.0 * (columns - 6), 4.0 * (rows - 2)
    dots_per_m = min(across / max(area.width, 1e-9), upwards / max(area.height, 1e-9))
    left = (2.0 * columns - area.width * dots_per_m) / 2.0
    bottom = 4.0 * rows - (4.0 * rows - area.height * dots_per_m) / 2.0
    return Scale(area, dots_per_m, left, bottom - 0.5)


def draw_web(path: WebPath, dots: Dots, scale: Scale, done: int | None) -> None:
    """The free spans; the arcs lie on the circles."""
    for span in range(len(path.spans)):
        start, end = path.contacts[span].departure, path.contacts[span + 1].arrival
        dots.line(scale.point(start), scale.point(end), 1 if threaded(span, done) else DOTTED)


def label_of(path: WebPath, place: int, done: int | None, plain: bool) -> str:
    """The number of a roller with its mark, and a sign for the way it moves."""
    mark = mark_of(place, done)
    moves = path.rollers[place].moves
    travels = "" if moves is None or plain else TRAVEL_SIGNS.get(moves, "↕")
    return f"{mark.ascii if plain else mark.sign}{place + 1}{travels}"


def by_room(path: WebPath) -> list[int]:
    """Places, the largest rollers first: their numbers stand inside and are in nobody's way."""
    return sorted(range(len(path.rollers)), key=lambda place: -path.rollers[place].diameter)


def free_cell(path: WebPath, place: int, length: int, dots: Dots, scale: Scale, over: dict[Cell, str]) -> Cell:
    """Where the number of a roller begins: inside it, or at the free place that is nearest to the wanted side."""
    roller = path.rollers[place]
    x, y = scale.point((roller.x, roller.y))
    across, upwards = roller.radius * scale.dots_per_m / 2.0, roller.radius * scale.dots_per_m / 4.0
    if across >= length / 2.0 + 1.0 and upwards >= 1.0:
        return Cell(round(x / 2.0 - length / 2.0), int(y / 4.0))
    wanted = outward(path, place)
    best, least = Cell(0, 0), float("inf")
    for turn in range(8):
        angle = wanted + (turn + 1) // 2 * (pi / 4.0) * (1 if turn % 2 else -1)
        column = x / 2.0 + (across + 0.6 + length / 2.0) * cos(angle) - length / 2.0
        row = y / 4.0 - (upwards + 0.8) * sin(angle)
        first = Cell(round(column), int(row))
        cost = turn * 0.5 + sum(cost_of(Cell(first.column + n, first.row), dots, over) for n in range(length))
        if cost < least:
            best, least = first, cost
    return Cell(max(0, min(best.column, dots.columns - length)), max(0, min(best.row, dots.rows - 1)))


def cost_of(cell: Cell, dots: Dots, over: dict[Cell, str]) -> float:
    """How bad it is to write over a cell."""
    if not (0 <= cell.column < dots.columns and 0 <= cell.row < dots.rows):
        return 100.0
    return dots.busy(cell.column, cell.row) + (50.0 if cell in over else 0.0)


def put_label(label: str, first: Cell, over: dict[Cell, str]) -> None:
    """Write a label."""
    for number, character in enumerate(label):
        over[Cell(first.column + number, first.row)] = character


def put_arrow(path: WebPath, span: int, scale: Scale, over: dict[Cell, str], plain: bool) -> None:
    """An arrow along a span, as near to its middle as there is room."""
    start, end = scale.point(path.contacts[span].departure), scale.point(path.contacts[span + 1].arrival)
    cells = far((start[0] / 2.0, start[1] / 4.0), (end[0] / 2.0, end[1] / 4.0))
    if cells < SHORT:
        return
    heading = bearing((start[0], -start[1]), (end[0], -end[1]))
    for share in (0.5, 0.4, 0.6, 0.3, 0.7):
        x, y = start[0] + share * (end[0] - start[0]), start[1] + share * (end[1] - start[1])
        cell = Cell(int(x // 2), int(y // 4))
        if cell not in over:
            over[cell] = (PLAIN_ARROWS if plain else ARROWS)[octant(heading)]
            return
