"""The one widget: it puts inked lines on the terminal. No widget per row, and only lines that changed are sent again."""

from rich.segment import Segment
from rich.style import Style
from textual.geometry import Region
from textual.strip import Strip
from textual.widget import Widget

from runner.screen.blocks import Ink
from runner.screen.palette import Look
from runner.screen.widgets.lines import Line


class Canvas(Widget, can_focus=True):
    """Lines in, cells out."""

    def __init__(self, palette: dict[Ink, Look]) -> None:
        super().__init__()
        self.lines: tuple[Line, ...] = ()
        self.styles_by_ink = _styles(palette)

    def dress(self, palette: dict[Ink, Look]) -> None:
        """Show the same lines in other colours."""
        self.styles_by_ink = _styles(palette)
        self.refresh()

    def put(self, lines: tuple[Line, ...]) -> None:
        """Show these lines."""
        before, self.lines = self.lines, lines
        width = self.size.width
        if len(before) != len(lines):
            self.refresh()
            return
        changed = [Region(0, y, width, 1) for y, (old, new) in enumerate(zip(before, lines, strict=True)) if old != new]
        if changed:
            self.refresh(*changed)

    def render_line(self, y: int) -> Strip:
        """One line of the screen."""
        width = self.size.width
        if y >= len(self.lines):
            return Strip.blank(width, self.styles_by_ink[Ink.PLAIN])
        strip = Strip([Segment(text, self.styles_by_ink[ink]) for text, ink in self.lines[y]])
        return strip.adjust_cell_length(width, self.styles_by_ink[Ink.PLAIN])


def _styles(palette: dict[Ink, Look]) -> dict[Ink, Style]:
    return {ink: _style(look) for ink, look in palette.items()}


def _style(look: Look) -> Style:
    if look.front:
        return Style(color=look.front, bgcolor=look.back, bold=look.bold)
    return Style(color="default", bgcolor="default", bold=look.bold, reverse=look.reverse)
