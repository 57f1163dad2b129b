"""The answer as one HTML page, with the parts of the run record's page: tables, and drawings as inline SVG."""

from collections.abc import Iterator

from runner.report.document import Block, Document, Facts, Heading, Listing, Note, Picture, Pictures, Table
from runner.report.formats import html
from runner.report.working.asked import Asked
from runner.report.working.columns import Shown, blocks_of, columns_of
from runner.report.working.data import data_of
from runner.report.working.marks import UNICODE
from runner.report.working.nearest import Nearest
from runner.report.working.paths import blocks_of_paths
from runner.report.working.plot import limit_notes
from runner.report.working.scale import scale_of
from runner.report.working.svg import bars_svg, curve_svg
from runner.report.working.swept import Curve, Swept
from runner.report.working.words import (
    AID,
    detail_lines,
    held_words,
    job_words,
    lacking_words,
    limits_words,
    out_words,
    reasons,
    still_words,
    title,
)
from runner.report.working.worked import Results

WIDEST = 96
"""Letters of a table that A4 holds."""


def render(asked: Asked) -> bytes:
    """UTF-8."""
    return html.render(document(asked))


def document(asked: Asked) -> Document:
    """The answer as a document."""
    blocks: list[Block] = []
    if asked.given:
        rows = tuple((name, f"{one.shown} ({one.origin})") for name, one in asked.given.items())
        blocks += [Heading("Given"), Facts(rows)]
    if asked.results is not None:
        blocks += value_blocks(asked.results)
    if asked.swept is not None:
        blocks += sweep_blocks(asked.swept)
    if asked.nearest is not None:
        blocks += nearest_blocks(asked, asked.nearest)
    if asked.paths is not None:
        blocks += blocks_of_paths(asked.paths)
    running = f"{asked.procedure.id}, revision {asked.procedure.revision}, text {asked.procedure.digest[:12]}"
    return Document(title(asked), tuple(blocks), data_of(asked), caution=AID, running=running)


def value_blocks(results: Results) -> Iterator[Block]:
    """Every result with its working."""
    yield Heading("Values")
    rows = [
        (name, found.shown, tuple(detail_lines(found, UNICODE)))
        for name, found in results.worked.items()
    ]  # fmt: skip
    amiss = frozenset(at for at, found in enumerate(results.worked.values()) if found.verdict != "in")
    yield Table("Values with their working", ("Value", "Result", "Working"), tuple(rows), amiss)
    yield from ending(lacking_words(results.lacking))


def sweep_blocks(swept: Swept) -> Iterator[Block]:
    """What stands out, drawings, the table."""
    yield Heading(f"Sweep: {swept.sweep.words}")
    said = (*out_words(swept), *reasons(swept))
    if said:
        yield Note("; ".join(said), "problem")
    yield Pictures(tuple(picture(swept, curve) for curve in swept.curves if not curve.still))
    limits = limits_words(swept, UNICODE)
    if limits:
        yield Listing(tuple(limits))
    for number, columns in enumerate(blocks_of(columns_of(swept, UNICODE), WIDEST)):
        goes_on = ", further values" if number else ""
        yield Table(
            f"Values at each {swept.sweep.source.name}{goes_on}",
            tuple(head(column) for column in columns),
            tuple(tuple(column.cells[row].strip() for column in columns) for row in range(len(swept.sweep.given))),
            frozenset().union(*(column.marked for column in columns)),
            frozenset(at for at, column in enumerate(columns) if not column.left),
        )
    still = still_words(swept)
    if still:
        yield Note(f"{still[:1].upper()}{still[1:]}.")
    if swept.steady:
        yield Note(f"Not changed by {swept.sweep.source.name}: {', '.join(swept.steady)}.")
    yield from ending(lacking_words(swept.lacking))


def head(column: Shown) -> str:
    """The head of a column on one line: `roll_mass, kg`."""
    return ", ".join(column.head)


def picture(swept: Swept, curve: Curve) -> Picture:
    """One value's drawing under its name, unit and limits."""
    shown = tuple(one.shown for one in swept.sweep.given)
    ranged = swept.sweep.ranged
    scale = scale_of(curve.ys, (y for bound in curve.bounds for y in bound.ys), from_zero=not ranged)
    name = f"{curve.name}, {curve.unit}" if curve.unit else curve.name
    caption = "; ".join([name, *limit_notes(curve, scale, UNICODE)])
    return Picture(caption, curve_svg(curve, (shown[0], shown[-1])) if ranged else bars_svg(curve, shown), ())


def nearest_blocks(asked: Asked, found: tuple[Nearest, ...]) -> Iterator[Block]:
    """Each limit with its nearest job."""
    yield Heading("The jobs nearest to each limit")
    yield Note(held_words(asked))
    rows = tuple(
        (near.name, near.limit, near.value_shown, near.reserve_shown, near.sure, job_words(near)) for near in found
    )
    columns = ("Value", "Limit", "Comes to", "Reserve", "How sure", "Job")
    marks = frozenset(at for at, near in enumerate(found) if near.broken)
    yield Table("Limits, the broken and the nearest first", columns, rows, marks)


def ending(lines: list[str]) -> Iterator[Block]:
    """What was not worked out."""
    if lines:
        first, *others = lines
        yield Note(first[:1].upper() + first[1:])
        yield Listing(tuple(line.strip() for line in others))
