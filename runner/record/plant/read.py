"""Runs of the plant as rows of an index.

Figures that another version of the program worked out are not gone by: the journal is read then, and verified on the way.
"""

from collections.abc import Callable

from runner.record.index.base import Index, summary_from
from runner.record.index.kept import Kept
from runner.record.index.look import NO_STAMP
from runner.record.plant.base import Plant, Row
from runner.record.refused import Refused

WHERE = "plant:"
"""Before the id of a run, where else its path stands."""


def rows_of(plant: Plant, mode: str, index: Index, read: Callable[[str, bytes], Kept | None]) -> list[Kept] | Refused:
    """All runs of a mode, newest first; `read` makes a row of a run's journal."""
    rows = plant.rows(mode)
    if isinstance(rows, Refused):
        return rows
    found = []
    for row in rows:
        kept = known(row, index) or read_there(plant, row.run, read)
        if isinstance(kept, Refused):
            return kept
        if kept is not None:
            found.append(kept)
    return found


def known(row: Row, index: Index) -> Kept | None:
    """The row as it was sent; None where another version sent it, or without figures."""
    if row.kind != index.kind or not row.extract:
        return None
    summary = summary_from(WHERE + row.run, row.summary)
    return Kept(WHERE + row.run, NO_STAMP, summary, row.extract, row.more, row.shared)


def read_there(plant: Plant, run: str, read: Callable[[str, bytes], Kept | None]) -> Kept | Refused | None:
    """The row that the journal gives."""
    content = plant.journal(run)
    if isinstance(content, Refused):
        return content
    return read(run, content)
