"""What a report is made of: a few kinds of block that every format can show.

Contents build documents, formats turn them into bytes; neither knows the other. Texts here are plain: no markup, and
not yet cleaned; a format cleans all that it writes. A cell of several lines is a tuple of lines, so that a line break
inside somebody's words is never taken for one of ours.
"""

from dataclasses import dataclass

Cell = str | tuple[str, ...]
"""One line, or several."""


@dataclass(frozen=True, slots=True)
class Heading:
    """A section begins."""

    text: str
    level: int = 2
    page: bool = False
    """True where it begins a new page on paper."""


@dataclass(frozen=True, slots=True)
class Facts:
    """Names and what they are."""

    rows: tuple[tuple[str, Cell], ...]


@dataclass(frozen=True, slots=True)
class Table:
    """Rows under column heads; `marks` names the rows that a reviewer must not miss. The first cell names its row."""

    caption: str
    columns: tuple[str, ...]
    rows: tuple[tuple[Cell, ...], ...]
    marks: frozenset[int] = frozenset()
    numeric: frozenset[int] = frozenset()
    """Columns that line up on the right."""


@dataclass(frozen=True, slots=True)
class Note:
    """A paragraph; the tone says how it is set: plain, caution (people may be hurt) or problem (the record is not whole)."""

    text: str
    tone: str = "plain"


@dataclass(frozen=True, slots=True)
class Listing:
    """Points, one a line."""

    points: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Picture:
    """A drawing: as inline SVG in which every text is cleaned and escaped already, and as lines of at most 80 cells."""

    caption: str
    svg: str
    lines: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Pictures:
    """Drawings, side by side where there is room."""

    pictures: tuple[Picture, ...]


Block = Heading | Facts | Table | Note | Listing | Pictures


@dataclass(frozen=True, slots=True)
class Document:
    """A whole report."""

    title: str
    blocks: tuple[Block, ...]
    data: object = None
    """The same content as plain data (dicts, lists, numbers, text), for the json format."""
    mark: str = ""
    """What nobody may overlook, such as DRY RUN; formats show it first, last and on every printed page."""
    caution: str = ""
    """Said once more at the end."""
    running: str = ""
    """What a loose sheet needs to be put back where it belongs; on every printed page."""


def lines_of(cell: Cell) -> tuple[str, ...]:
    """The lines of a cell, at least one."""
    if isinstance(cell, str):
        return (cell,)
    return cell or ("",)
