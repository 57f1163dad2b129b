"""Web paths for people: where the web lies, how long it is, how it pulls; as lines for a terminal and as figures of a report.

All numbers come from the solved path. A path that cannot be worked out or cannot be run is told in words in its place.
"""

from collections.abc import Mapping
from math import degrees

from runner.formula.evaluate import Value, path_of
from runner.procedure.clean import clean
from runner.procedure.model import Procedure
from runner.report.document import Block, Note, Picture, Pictures
from runner.trade.path_drawing.svg import svg
from runner.trade.path_drawing.text import text_lines
from runner.trade.path_drawing.view import travel_words
from runner.trade.web_path import Problem, WebPath
from runner.trade.web_path.travel import TravelRow, spread, travel_table

PAGE = (80, 20)
"""Columns and rows of a drawing on a page of text."""
PLACES = 5
"""Rows of a table over a travel, both ends among them."""
HEADS = ("no", "roller", "pass", "dia mm", "wrap deg", "arc mm", "next mm", "pull", "to deg")
LONGEST = 18
"""Characters of a roller's name in the table; the list of a drawing has it whole."""
NUMBERS = (0, 3, 4, 5, 6, 7, 8)
"""Columns that line up on the right."""


NOTES = (
    "next: free span to the next roller",
    "pull: on the roller for a tension of 1; of one that moves, along its travel",
    "to: where the whole pull points, from the right anticlockwise",
)


def solved_path(procedure: Procedure, name: str, values: Mapping[str, Value]) -> WebPath | Problem:
    """A web path of a procedure over the values of a job (SI floats and texts); its rollers' names are fit to be shown."""
    found = path_of(procedure.scope.paths[name], values, procedure.scope)
    if isinstance(found, Problem):
        return found._replace(message=clean(found.message))
    return found._replace(rollers=tuple(roller._replace(name=clean(roller.name)) for roller in found.rollers))


def path_lines(
    procedure: Procedure, values: Mapping[str, Value], columns: int = 80, rows: int = 20, plain: bool = False
) -> list[str]:
    """Every web path of a procedure: a row for each roller, lengths, its travel, and the drawing. `plain` keeps the drawing
    to ASCII."""
    lines: list[str] = []
    for name in procedure.scope.paths:
        lines += [*([""] if lines else []), f"web path {name}"]
        path = solved_path(procedure, name, values)
        if isinstance(path, Problem):
            lines.append(f"  cannot be worked out: {path.message}")
            continue
        lines += [f"  {line}" for line in table_lines(HEADS, roller_rows(path), NUMBERS)]
        first, last = path.rollers[0].name, path.rollers[-1].name
        lines += [
            "",
            f"  {millimetres(path.length)} of web from leaving {first} to reaching {last}",
            *(f"  {line}" for line in NOTES),
        ]
        for place, roller in enumerate(path.rollers):
            if roller.moves is not None:
                lines.append(f"  {place + 1} {roller.name} moves {travel_words(roller.moves)}")
            if roller.travel is not None:
                lines += ["", *(f"  {line}" for line in travel_lines(path, place))]
        lines += ["", *trimmed(text_lines(path, columns, rows, plain=plain))]
    return lines


def roller_rows(path: WebPath) -> list[tuple[str, ...]]:
    """A row for each roller; what an end of the path has not is left empty."""
    rows: list[tuple[str, ...]] = []
    for place, (roller, contact) in enumerate(zip(path.rollers, path.contacts, strict=True)):
        between = 0 < place < len(path.rollers) - 1
        points = contact.force_direction
        rows.append((
            str(place + 1),
            roller.name if len(roller.name) <= LONGEST else f"{roller.name[: LONGEST - 2]}..",
            roller.side,
            f"{roller.diameter * 1000.0:.1f}",
            f"{degrees(contact.wrap):.1f}" if between else "",
            f"{contact.arc * 1000.0:.1f}" if between else "",
            f"{path.spans[place] * 1000.0:.1f}" if place < len(path.spans) else "",
            f"{contact.pull:.3f}" if between else "",
            f"{degrees(points):.0f}" if between and points is not None else "",
        ))  # fmt: skip
    return rows


def travel_lines(path: WebPath, place: int) -> list[str]:
    """How length, wrap and pull change over the travel of a roller, and the tension that a hung weight gives there."""
    roller = path.rollers[place]
    assert roller.travel is not None
    found = travel_table(path, place, spread(*roller.travel, PLACES))
    rows: list[tuple[str, ...]] = []
    for at, row in zip(spread(*roller.travel, PLACES), found, strict=True):
        if isinstance(row, TravelRow):
            here = path.contacts[place].pull
            tension = f"{100.0 * here / row.factor:.1f} %" if row.factor > 1e-9 and here > 1e-9 else ""
            rows.append((millimetres(at), millimetres(row.length), f"{degrees(row.wrap):.1f} deg", f"{row.factor:.3f}",
                         tension))  # fmt: skip
        else:
            rows.append((millimetres(at), clean(row.message), "", "", ""))
    heads = ("place", "length of the path", "wrap", "pull", "tension from the same weight")
    return [f"{roller.name} on its travel:", *table_lines(heads, rows, range(5))]


def table_lines(heads: tuple[str, ...], rows: list[tuple[str, ...]], numeric: tuple[int, ...] | range) -> list[str]:
    """Columns that are as wide as what stands in them."""
    widths = [max(len(row[column]) for row in (heads, *rows)) for column in range(len(heads))]
    return [
        "  ".join(
            cell.rjust(width) if column in numeric else cell.ljust(width)
            for column, (cell, width) in enumerate(zip(row, widths, strict=True))
        ).rstrip()
        for row in (heads, *rows)
    ]


def millimetres(length: float) -> str:
    """A length of a machine, in whole millimetres and tenths below a metre."""
    return f"{length * 1000.0:.0f} mm" if abs(length) >= 1.0 else f"{length * 1000.0:.1f} mm"


def trimmed(lines: tuple[str, ...]) -> list[str]:
    """A drawing without the empty lines around it."""
    kept = [line.rstrip() for line in lines]
    while kept and not kept[0]:
        kept.pop(0)
    while kept and not kept[-1]:
        kept.pop()
    return kept


def picture_lines(path: WebPath) -> tuple[str, ...]:
    """The drawing on a page of text, with the rollers by their numbers."""
    drawn = trimmed(text_lines(path, *PAGE))
    room = PAGE[0] - len(f"{len(path.rollers)} : under")
    listed = (f"{place} {roller.name[:room]}: {roller.side}" for place, roller in enumerate(path.rollers, start=1))
    return ("", *drawn, "", *listed)


def thread_figures(procedure: Procedure, values: Mapping[str, Value]) -> dict[str, tuple[Block, ...]]:
    """By phase, the drawings of the paths that are threaded in it, each once."""
    figures: dict[str, tuple[Block, ...]] = {}
    for phase in procedure.phases:
        steps: dict[str, list[str]] = {}
        for one in phase.lists:
            for step in one.steps:
                for ask in step.asks:
                    if ask.kind == "thread" and ask.path in procedure.scope.paths:
                        steps.setdefault(ask.path, []).append(step.number)
        blocks: list[Block] = []
        for name, numbers in steps.items():
            title = f"Web path {name.replace('_', ' ').removesuffix(' path')}, threaded in step {', '.join(numbers)}"
            path = solved_path(procedure, name, values)
            if isinstance(path, Problem):
                blocks.append(Note(f"{title}, has no drawing: {path.message}."))
            else:
                key = f"path-{sum(len(found) for found in figures.values()) + len(blocks) + 1}"
                caption = f"{title}, drawn from the values of the job"
                blocks.append(Pictures((Picture(caption, svg(path, caption, key), picture_lines(path)),)))
        if blocks:
            figures[phase.name] = figures.get(phase.name, ()) + tuple(blocks)
    return figures
