"""The answer as a table for spreadsheets: RFC 4180, units in the header, numbers with all their digits.

A text cell that a spreadsheet would take for a formula gets an apostrophe in front, so that nothing in it is worked out
there; a number keeps its sign.
"""

import csv
from collections.abc import Iterable, Iterator
from io import StringIO

from runner.formula.units import Unit
from runner.report.formats.csv import Field, cell
from runner.report.working.asked import Asked
from runner.report.working.columns import pieces_words
from runner.report.working.nearest import Nearest
from runner.report.working.paths import rows_of_paths
from runner.report.working.swept import Swept
from runner.report.working.worked import Results


def render(asked: Asked) -> bytes:
    """UTF-8 with CR LF line ends, one header a part; parts, where several were asked for, are parted by an empty line."""
    file = StringIO(newline="")
    writer = csv.writer(file, lineterminator="\r\n")
    for number, rows in enumerate(parts(asked)):
        if number:
            file.write("\r\n")
        writer.writerows([cell(field) for field in row] for row in rows)
    return file.getvalue().encode()


def parts(asked: Asked) -> Iterator[Iterable[tuple[Field, ...]]]:
    """The rows of each part, its header first."""
    if asked.results is not None:
        yield value_rows(asked.results)
    if asked.swept is not None:
        yield sweep_rows(asked.swept)
    if asked.nearest is not None:
        yield nearest_rows(asked.nearest)
    if asked.paths is not None:
        yield rows_of_paths(asked.paths)


def headed(name: str, unit: Unit | str | None) -> str:
    """`roll_mass [kg]`; the name alone for a text or a plain number."""
    text = unit.text if isinstance(unit, Unit) else unit
    return name if text in (None, "", "1") else f"{name} [{text}]"


def value_rows(results: Results) -> Iterator[tuple[Field, ...]]:
    """A row a value. Units differ from row to row, so they have a column of their own."""
    yield ("name", "value", "unit", "verdict", "shown", "limits", "formula", "numbers", "each end", "from")
    for name, found in results.worked.items():
        inputs = [f"{known} = {shown}" for known, shown in found.inputs]
        pieces = pieces_words(found) if found.ends else ""
        yield (
            name, found.magnitude, found.unit, found.verdict, found.shown, found.limits, found.formula, found.working,
            pieces, "; ".join(inputs),
        )  # fmt: skip


def sweep_rows(swept: Swept) -> Iterator[tuple[Field, ...]]:
    """A row a place; for each value its number and verdict, for pieces what hangs at each end."""
    header: list[Field] = [headed(swept.sweep.source.name, swept.sweep.unit)]
    columns: list[list[Field]] = []
    for name in swept.names:
        along = swept.along(name)
        header += [headed(name, along[0].unit), f"{name} verdict"]
        columns += [[found.magnitude for found in along], [found.verdict for found in along]]
        if any(found.ends for found in along):
            header.append(f"{name} each end")
            columns.append([pieces_words(found) if found.ends else "" for found in along])
    yield tuple(header)
    unit = swept.sweep.unit
    for at, given in enumerate(swept.sweep.given):
        first = given.value if unit is None or isinstance(given.value, str) else unit.magnitude(float(given.value))
        yield (first, *(column[at] for column in columns))


def nearest_rows(found: Iterable[Nearest]) -> Iterator[tuple[Field, ...]]:
    """A row a limit."""
    yield ("name", "limit", "value", "reserve", "unit", "reserve [% of the limit]", "broken", "proved", "job")
    for near in found:
        job = "; ".join(f"{name} = {value}" for name, value in near.job)
        yield (
            near.name, near.limit, near.unit.magnitude(near.value), near.between.magnitude(near.margin), near.unit.text,
            near.percent, "yes" if near.broken else "no", "yes" if near.proven else "no", job,
        )  # fmt: skip
