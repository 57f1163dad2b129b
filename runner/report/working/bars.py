"""Values of a list as bars, one a line: what it is, the bar from zero, the number, and a word where it is amiss."""

from rich.cells import cell_len
from rich.text import Text

from runner.formula.quantity import shown_number
from runner.report.working.marks import Signs
from runner.report.working.plot import ALARM, LIMIT, QUIET, title_lines
from runner.report.working.scale import Scale, scale_of
from runner.report.working.swept import Curve

LONGEST_NAME = 24
NARROWEST = 10
"""Cells of the bars, at least."""


def bar_lines(curve: Curve, names: tuple[str, ...], width: int, signs: Signs) -> list[Text]:
    """The bars of one value; `names` says what stands before each."""
    scale = scale_of(curve.ys, (y for bound in curve.bounds for y in bound.ys), from_zero=True)
    heads = [shortened(name, LONGEST_NAME, signs) for name in names]
    numbers = ["" if y is None else shown_number(y) for y in curve.ys]
    left, right = max(map(cell_len, heads)), max(map(cell_len, numbers))
    marks = [signs.verdict(verdict) for verdict in curve.verdicts]
    room = max(NARROWEST, width - left - right - max(map(cell_len, marks)) - 4)
    lines = [
        Text(line, QUIET if number else "bold") for number, line in enumerate(title_lines(curve, scale, width, signs))
    ]
    for at, (head, number, mark) in enumerate(zip(heads, numbers, marks, strict=True)):
        line = Text(head + " " * (left - cell_len(head)) + " ")
        limits = [y for bound in curve.bounds if (y := bound.ys[at]) is not None and scale.holds(y)]
        line.append_text(bar(curve.ys[at], limits, scale, room, signs))
        line.append(" " + " " * (right - cell_len(number)) + number)
        if mark:
            line.append(f" {mark}", ALARM)
        lines.append(line)
    return lines


def bar(y: float | None, limits: list[float], scale: Scale, room: int, signs: Signs) -> Text:
    """The bar itself, with its limits over it."""

    def place(value: float) -> int:
        return min(room - 1, max(0, int(scale.at(value) * room)))

    cells = [" "] * room
    if y is not None:
        low, high = sorted((place(0.0), place(y)))
        cells[low : high + 1] = [signs.bar] * (high + 1 - low)
    text = Text("".join(cells))
    strokes = {place(limit) for limit in limits}
    if strokes:
        text = Text()
        for at, cell in enumerate(cells):
            text.append(signs.upright if at in strokes else cell, LIMIT if at in strokes else "")
    return text


def shortened(name: str, most: int, signs: Signs) -> str:
    """A name in at most so many cells."""
    name = signs.fit(name)
    while cell_len(name) > most:
        name = name.removesuffix("..")[:-1] + ".."
    return name
