"""Lists: numbered where a digit picks, marked where something is ticked, with `>` at the chosen line."""

from runner.screen.blocks import Ink, Row, Rows
from runner.screen.widgets.lines import Line, Span, filled, fit, width_of, wrap

WORD = 22


def rows_lines(rows: Rows, width: int) -> tuple[list[Line], int | None]:
    """The lines, and which of them begins the chosen row."""
    lines: list[Line] = []
    chosen: int | None = None
    for at, row in enumerate(rows.rows):
        here = at == rows.cursor
        if here:
            chosen = len(lines)
        number = f"{at + 1:>2} " if rows.numbered else ""
        lines += _row(row, number, here, width)
    return lines, chosen


def _row(row: Row, number: str, here: bool, width: int) -> list[Line]:
    ink = Ink.CHOSEN if here else row.ink
    lead: list[Span] = [(" > " if here else "   ", ink)]
    if number:
        lead.append((number, ink if here else Ink.LABEL))
    if row.mark.strip():
        lead.append((f"{row.mark} ", ink))
    if row.word:
        lead.append((fit(row.word, WORD), ink))
    indent = sum(width_of(text) for text, _ in lead)
    room = width - indent - 1
    text = row.text + row.spare if width_of(row.text + row.spare) <= room else row.text
    parts = [fit(text, room).rstrip()] if row.cut else wrap(text, room)
    lines: list[Line] = [(*lead, (parts[0], ink))]
    lines += [((" " * indent, ink), (part, ink)) for part in parts[1:]]
    return [filled(line, width - 1, ink) for line in lines] if here else lines
