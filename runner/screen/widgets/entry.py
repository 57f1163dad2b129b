"""What is asked and the line it is typed into, with the unit behind it and what is allowed above it."""

from rich.cells import cell_len

from runner.screen.blocks import Entry, Ink
from runner.screen.typed import Line as Typed
from runner.screen.widgets.lines import Line, fit, hung, width_of


def entry_lines(entry: Entry, typed: Typed, width: int) -> list[Line]:
    """The question, then the field; the place of the next letter is marked, and so is a text whose
    place it takes."""
    lines = hung(((" ", Ink.PLAIN),), entry.question, Ink.STRONG, 1, width - 1)
    if entry.limits and width_of(entry.question) + width_of(entry.limits) + 5 <= width and len(lines) == 1:
        lines = [(*lines[0], ("   ", Ink.PLAIN), (entry.limits, Ink.PLAIN))]
    elif entry.limits:
        lines += hung(((" ", Ink.PLAIN),), entry.limits, Ink.PLAIN, 1, width - 1)
    unit = f" {entry.unit}" if entry.unit else ""
    room = max(8, min(width - 6 - width_of(unit), 60))
    if entry.secret:
        typed = typed._replace(text="*" * len(typed.text))
    before, under, after = (
        typed.text[: typed.at],
        typed.text[typed.at : typed.at + 1] or "_",
        typed.text[typed.at + 1 :],
    )
    while before and cell_len(before) > room - 2:
        before = before[1:]
    after = fit(after, room - cell_len(before) - cell_len(under))
    field: Line = (
        (" > ", Ink.STRONG),
        (before, Ink.CHOSEN if typed.refused else Ink.ENTRY),
        (under, Ink.CHOSEN),
        (after, Ink.ENTRY),
        (unit, Ink.STRONG),
    )
    return [*lines, field]
