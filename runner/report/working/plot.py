"""A curve in characters: axis with units, the curve in dots or signs, limits as broken lines, and a row that says where.

The row under the axis marks places out of limits and places without a result, so that a plot is read without colour. Each
place of the picture stands for the values there, and places are joined, so that a jump looks like a step.
"""

from rich.cells import cell_len
from rich.text import Text

from runner.report.working.marks import Signs, limit_words
from runner.report.working.scale import Scale, label, scale_of
from runner.report.working.swept import Bound, Curve

ROWS = 7
"""Lines of the picture itself."""
BRAILLE = 0x2800
DOTS = ((0x01, 0x08), (0x02, 0x10), (0x04, 0x20), (0x40, 0x80))
"""Bits of a braille cell, by row and column (Unicode, chapter 21.1 braille patterns)."""

CURVE, LIMIT, ALARM, QUIET = "bold", "yellow", "bold red", "dim"


def plot_lines(curve: Curve, ends: tuple[str, str], width: int, signs: Signs) -> list[Text]:
    """The plot of one value, each line at most `width` cells. `ends`: what stands at the ends of the axis."""
    scale = scale_of(curve.ys, (y for bound in curve.bounds for y in bound.ys))
    labels = labels_of(curve, scale, signs)
    left = max([3, *(cell_len(words) for words in labels.values())])
    room = max(10, width - left - 2)
    across = [place_of(curve, x, room) for x in curve.xs]
    cells = limit_cells(curve.bounds, scale, across, signs)
    cells.update(curve_cells(curve, scale, room, signs))
    lines = [
        Text(line, QUIET if number else "bold") for number, line in enumerate(title_lines(curve, scale, width, signs))
    ]
    for row in range(ROWS):
        words = labels.get(row, "")
        line = Text(" " * (left - cell_len(words)) + words + " ")
        line.append(signs.tick if words else signs.upright, QUIET)
        for column in range(room):
            sign, style = cells.get((row, column), (" ", ""))
            line.append(sign, style)
        line.rstrip()
        lines.append(line)
    lines.append(Text(" " * (left + 1) + signs.corner + signs.level * room, QUIET))
    low, high = ends
    gap = max(1, room + 1 - cell_len(low) - cell_len(high))
    lines.append(Text(" " * (left + 1) + low + " " * gap + high))
    lines.append(standing_line(curve, across, left, room, signs))
    return lines


def title_lines(curve: Curve, scale: Scale, width: int, signs: Signs) -> list[str]:
    """Name and unit, and what is said of limits: one that is drawn has its words here, one that is not says where it lies."""
    name = f"{curve.name}, {curve.unit}" if curve.unit else curve.name
    lines, line = [name], ""
    for words in limit_notes(curve, scale, signs):
        joined = f"{line}; {words}" if line else words
        if line and cell_len(joined) > width:
            lines.append(line)
            joined = words
        line = joined
    return [*lines, line] if line else lines


def limit_notes(curve: Curve, scale: Scale, signs: Signs) -> list[str]:
    """Each limit in words, and whether it lies outside of the picture."""
    notes = []
    for bound in curve.bounds:
        known = [y for y in bound.ys if y is not None]
        if not known:
            continue
        least, most = min(known), max(known)
        value = label(least) if label(least) == label(most) else f"{label(least)} to {label(most)}"
        where = "" if any(map(scale.holds, known)) else (" (above)" if least > scale.high else " (below)")
        notes.append(f"limit {limit_words(bound.op, signs)} {value}{where}")
    return notes


def labels_of(curve: Curve, scale: Scale, signs: Signs) -> dict[int, str]:
    """What stands at the rows of the upright axis; a limit that does not move takes the place of a round number."""
    found = {row_of(scale, tick): label(tick) for tick in scale.ticks(4)}
    for bound in curve.bounds:
        known = {y for y in bound.ys if y is not None}
        if len(known) == 1 and scale.holds(value := known.pop()):
            found[row_of(scale, value)] = f"{limit_words(bound.op, signs)} {label(value)}"
    return found


def row_of(scale: Scale, value: float, rows: int = ROWS) -> int:
    """The row of a number, 0 at the top."""
    return min(rows - 1, max(0, int((1 - scale.at(value)) * rows)))


def place_of(curve: Curve, x: float, columns: int) -> int:
    """The column of a place."""
    first, last = curve.xs[0], curve.xs[-1]
    return min(columns - 1, int((x - first) / (last - first) * columns))


Cells = dict[tuple[int, int], tuple[str, str]]
"""(row, column) to (sign, style)."""


def limit_cells(bounds: tuple[Bound, ...], scale: Scale, across: list[int], signs: Signs) -> Cells:
    """Limits as broken lines."""
    cells: Cells = {}
    for bound in bounds:
        for y, column, after in zip(bound.ys, across, [*across[1:], across[-1] + 1], strict=True):
            if y is not None and scale.holds(y):
                row = row_of(scale, y)
                cells.update({(row, at): (signs.across, LIMIT) for at in range(column, max(after, column + 1))})
    return cells


def curve_cells(curve: Curve, scale: Scale, room: int, signs: Signs) -> Cells:
    """The curve: in braille two dots across and four up a cell, in ASCII a sign a cell."""
    wide, high = (1, 1) if signs.plain else (2, 4)
    lit: dict[tuple[int, int], bool] = {}
    before: tuple[int, int] | None = None
    for x, y, verdict in zip(curve.xs, curve.ys, curve.verdicts, strict=True):
        if y is None:
            before = None
            continue
        column, row = place_of(curve, x, room * wide), row_of(scale, y, ROWS * high)
        out = verdict != "in"
        for spot in joined(before, (column, row)):
            lit[spot] = lit.get(spot, False) or out
        before = (column, row)
    if signs.plain:
        return {(row, column): ("!" if out else "*", ALARM if out else CURVE) for (column, row), out in lit.items()}
    bits: dict[tuple[int, int], tuple[int, bool]] = {}
    for (column, row), out in lit.items():
        cell = (row // 4, column // 2)
        known, marked = bits.get(cell, (0, False))
        bits[cell] = (known | DOTS[row % 4][column % 2], marked or out)
    return {cell: (chr(BRAILLE + bit), ALARM if out else CURVE) for cell, (bit, out) in bits.items()}


def joined(before: tuple[int, int] | None, spot: tuple[int, int]) -> list[tuple[int, int]]:
    """A spot, with the spots that join it to the one before: level as far as it goes, then half up or down on each side."""
    if before is None:
        return [spot]
    (column_before, row_before), (column, row) = before, spot
    spots = [(between, row_before) for between in range(column_before + 1, column)]
    step = 1 if row > row_before else -1
    middle = (row_before + row) // 2
    near = max(column_before, column - 1)
    spots += [(near, at) for at in range(row_before, middle, step)]
    spots += [(column, at) for at in range(middle, row, step)]
    return [*spots, spot]


def standing_line(curve: Curve, across: list[int], left: int, room: int, signs: Signs) -> Text:
    """Where the value is out of limits or has no result, place by place, with the word; empty where nothing is amiss."""
    worst: dict[int, str] = {}
    for column, verdict in zip(across, curve.verdicts, strict=True):
        if verdict != "in" and worst.get(column) != "failed":
            worst[column] = verdict
    line = Text(" " * (left + 2))
    if not worst:
        return line
    for column in range(room):
        verdict = worst.get(column, "in")
        line.append(signs.verdict(verdict)[:1] or " ", ALARM)
    words = " ".join(dict.fromkeys(signs.verdict(worst[column]) for column in sorted(worst)))
    size, marks = cell_len(words), line.plain[left + 2 :]
    if size + 2 > room:
        return Text(" " * max(0, left + 2 + room - size) + words, ALARM)
    free = [at for at in range(room - size) if not marks[at : at + size + 1].strip()]
    # beside the marks where there is room, else over the middle of them
    start = min(free, key=lambda at: min(abs(at - mark) for mark in worst)) if free else max(0, (room - size) // 2 - 1)
    said = f"{marks[:start]} {words} {marks[start + size + 2 :]}"
    return Text(" " * (left + 2) + said[:room].rstrip(), ALARM)
