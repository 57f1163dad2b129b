"""What the arithmetic says, for a terminal or a pipe: values in full, or a sweep as a table with plots.

Lines fit the width that is given; what stands in them passed `Signs.fit`. Styles only repeat what a word or sign says.
"""

from collections.abc import Iterable, Iterator
from io import StringIO

from rich.console import Console, RenderableType
from rich.text import Text

from runner.report.formats.text import hanging
from runner.report.working.asked import Asked
from runner.report.working.bars import bar_lines
from runner.report.working.columns import tables_of
from runner.report.working.look import Look
from runner.report.working.marks import limit_words
from runner.report.working.nearest import Nearest
from runner.report.working.paths import lines_of_paths
from runner.report.working.plot import ALARM, QUIET, plot_lines
from runner.report.working.swept import Swept
from runner.report.working.words import (
    held_words,
    job_words,
    lacking_words,
    limits_words,
    out_words,
    reasons,
    still_words,
    title,
    value_lines,
)

PANEL = 38
"""Cells of a plot, at least; as many stand side by side as fit."""
BETWEEN = 2


def render(asked: Asked, look: Look) -> bytes:
    """The whole answer, UTF-8 or, for a plain terminal, ASCII."""
    file = StringIO()
    console = Console(
        file=file, width=look.width, force_terminal=look.colour, color_system="standard" if look.colour else None,
        no_color=not look.colour, markup=False, emoji=False, highlight=False, soft_wrap=True, legacy_windows=False,
    )  # fmt: skip
    for part in parts(asked, look):
        console.print(part)
    lines = [line.rstrip() for line in file.getvalue().rstrip("\n").split("\n")]
    # one blank line parts two things, however many parts asked for one
    kept = [line for line, before in zip(lines, ["", *lines], strict=False) if line or before]
    return ("\n".join(kept) + "\n").encode()


def parts(asked: Asked, look: Look) -> Iterator[RenderableType]:
    """Everything in its order."""
    yield from wrapped(title(asked), look, "bold")
    if asked.swept is not None:
        yield from swept_parts(asked.swept, look)
    if asked.results is not None:
        yield from value_parts(asked, look)
    if asked.nearest is not None:
        yield from nearest_parts(asked, asked.nearest, look)
    if asked.paths is not None:
        yield Text()
        yield from (Text(look.signs.fit(line)) for line in lines_of_paths(asked.paths, look))


def value_parts(asked: Asked, look: Look) -> Iterator[Text]:
    """Given values, then every result with formula, working, limits and inputs."""
    assert asked.results is not None  # the caller has seen it
    yield Text()
    for name, given in asked.given.items():
        yield from wrapped(f"{name} = {given.shown}  ({given.origin})", look, indent=2)
    for name, found in asked.results.worked.items():
        yield Text()
        head, *others = value_lines(asked, name, found, look.signs)
        yield from wrapped(head, look, "bold" if found.verdict == "in" else ALARM)
        for line in others:
            yield from wrapped(line, look, indent=4)
    yield from ending(lacking_words(asked.results.lacking), look)


def swept_parts(swept: Swept, look: Look) -> Iterator[RenderableType]:
    """Table, what is to be said of it, plots."""
    yield from wrapped(swept.sweep.words, look)
    yield Text()
    for table in tables_of(swept, look.width, look.signs):
        yield table
        yield Text()
    said = [*limits_words(swept, look.signs), *out_words(swept), *reasons(swept)]
    for line in said:
        yield from wrapped(line, look)
    if said:
        yield Text()
    yield from plots(swept, look)
    still = still_words(swept)
    if still:
        yield from wrapped(still, look)
    if swept.steady:
        yield from wrapped(f"not changed by {swept.sweep.source.name}: {', '.join(swept.steady)}", look)
    yield from ending(lacking_words(swept.lacking), look)


def nearest_parts(asked: Asked, found: tuple[Nearest, ...], look: Look) -> Iterator[Text]:
    """A paragraph a limit: value and limit, reserve, how sure, the job."""
    yield from wrapped(held_words(asked), look)
    for near in found:
        yield Text()
        mark = f"{look.signs.out} OUT OF LIMITS: " if near.broken else ""
        limit = near.limit.replace(near.limit.split()[0], limit_words(near.limit.split()[0], look.signs), 1)
        yield from wrapped(
            f"{near.name} {limit}: {mark}comes to {near.value_shown}", look, ALARM if near.broken else "bold"
        )
        yield from wrapped(f"reserve: {near.reserve_shown}", look, indent=4)
        yield from wrapped(f"job: {job_words(near)}", look, indent=4)
        yield from wrapped(near.sure, look, QUIET, indent=4)
    if not found:
        yield from wrapped("No limit was found that a job comes near to.", look)


def ending(lines: Iterable[str], look: Look) -> Iterator[Text]:
    """Last lines, under a blank one."""
    for number, line in enumerate(lines):
        if not number:
            yield Text()
        yield from wrapped(line, look, QUIET)


def plots(swept: Swept, look: Look) -> Iterator[Text]:
    """The plots, as many side by side as fit; bars for a list, one under the other."""
    moving = [curve for curve in swept.curves if not curve.still]
    if not swept.sweep.ranged:
        names = tuple(one.shown for one in swept.sweep.given)
        for curve in moving:
            yield from bar_lines(curve, names, min(look.width, 80), look.signs)
            yield Text()
        return
    abreast = max(1, (look.width + BETWEEN) // (PANEL + BETWEEN))
    width = (look.width + BETWEEN) // abreast - BETWEEN
    ends = tuple(look.signs.fit(swept.sweep.given[end].shown) for end in (0, -1))
    panels = [plot_lines(curve, (ends[0], ends[1]), width, look.signs) for curve in moving]
    for first in range(0, len(panels), abreast):
        yield from beside(panels[first : first + abreast], width)
        yield Text()


def beside(panels: list[list[Text]], width: int) -> Iterator[Text]:
    """Panels side by side, their last lines level."""
    highest = max(map(len, panels))
    heads = max(len(panel) for panel in panels)
    for at in range(highest):
        line = Text()
        for number, panel in enumerate(panels):
            lead = heads - len(panel)
            # the name stays on top, the picture and its axis stand at the bottom
            own = panel[0] if at == 0 else panel[at - lead] if at > lead else Text()
            line.append_text(own)
            if number < len(panels) - 1:
                line.append(" " * (width + BETWEEN - own.cell_len))
        yield line


def wrapped(text: str, look: Look, style: str = "", indent: int = 0) -> Iterator[Text]:
    """A text in lines that fit, further ones set in."""
    for line in hanging(" " * indent, look.signs.fit(text), look.width, " " * (indent + 4)):
        yield Text(line, style)
