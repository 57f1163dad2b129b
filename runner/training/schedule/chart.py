"""An arrangement as a chart: a strip for each person, as written and at best, and what was recorded below them.

Strips are bars of steps over minutes from the beginning. The picture is inline SVG without script or style of its own, its
colours those of the page; neighbours differ in how densely they are filled, and each bar says in words what it is.
"""

from collections.abc import Iterable, Sequence
from html import escape
from typing import NamedTuple

from runner.procedure.clean import clean
from runner.report.timeline.svg import INK, cut, titled, words_at
from runner.training.schedule.arranged import Arranged, Arrangement, end_of
from runner.training.schedule.timed import Timed

WIDTH, LEFT, RIGHT, TOP, LANE = 980, 150, 16, 30, 34
FILLS = ("0.30", "0.14")
"""How densely one bar and the next are filled."""
TICKS_MIN = (1, 2, 5, 10, 15, 30, 60, 120, 240, 480)
CELLS = 58
"""Of a strip in characters."""
SIGNS = "#="


class Bar(NamedTuple):
    """One step in a strip. Seconds from the beginning."""

    start: float
    end: float
    label: str
    words: str


class Strip(NamedTuple):
    """One row."""

    name: str
    bars: tuple[Bar, ...]


def strips_of(found: Arrangement, recorded: Sequence[Bar] = ()) -> tuple[Strip, ...]:
    """The rows of a chart: what was recorded last."""
    rows = [*rows_of("as written", found.phases, "comes"), *rows_of("at best", found.phases, "two")]
    return (*rows, Strip("recorded", tuple(recorded))) if recorded else tuple(rows)


def rows_of(name: str, phases: Iterable[Arranged], what: str) -> tuple[Strip, Strip]:
    """A strip for each of two people; where nothing better was found, a phase goes as written."""
    bars: tuple[list[Bar], list[Bar]] = ([], [])
    at = 0.0
    for phase in phases:
        plan: tuple[Timed, ...] = getattr(phase, what) or phase.comes
        for one in plan:
            words = f"step {one.number} {one.step}: {minutes(at + one.start)} to {minutes(at + one.end)} min"
            bars[one.person].append(Bar(at + one.start, at + one.end, one.number, words))
        at += end_of(plan)
    return Strip(f"{name}, person 1", tuple(bars[0])), Strip(f"{name}, person 2", tuple(bars[1]))


def svg(strips: Sequence[Strip], title: str, description: str) -> str:
    """The picture."""
    end = end_of_strips(strips)
    wide, bottom = WIDTH - LEFT - RIGHT, TOP + LANE * len(strips)

    def across(seconds: float) -> float:
        return LEFT + seconds / end * wide

    parts = []
    for minute in ticks(end):
        x = across(60.0 * minute)
        parts.append(f'<path d="M{x:.1f} {TOP}V{bottom}" {INK} stroke-opacity="0.18"/>')
        parts.append(words_at(x, TOP - 8, f"{minute}", "middle"))
    parts.append(words_at(4, TOP - 8, "minutes"))
    for row, strip in enumerate(strips):
        y = TOP + LANE * row
        parts.append(f'<path d="M0 {y}H{WIDTH}" {INK} stroke-opacity="0.3"/>')
        parts.append(words_at(4, y + 21, cut(strip.name, LEFT - 8)))
        for number, bar in enumerate(strip.bars):
            x, width = across(bar.start), max(1.0, across(bar.end) - across(bar.start))
            shape = (
                f'<rect x="{x:.1f}" y="{y + 6}" width="{width:.1f}" height="{LANE - 12}" fill="currentColor" '
                f'fill-opacity="{FILLS[number % 2]}" {INK} stroke-width="0.6"/>'
            )
            label = cut(bar.label, width - 4)
            if label:
                shape += words_at(x + 2, y + 21, label, more=' font-size="10"')
            parts.append(titled(shape, bar.words))
    parts.append(f'<path d="M0 {bottom}H{WIDTH}" {INK} stroke-opacity="0.3"/>')
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" role="img" viewBox="0 0 {WIDTH} {bottom + 8}" width="{WIDTH}" '
        f'height="{bottom + 8}" font-size="12" font-family="inherit"><title>{escape(clean(title))}</title>'
        f"<desc>{escape(clean(description))}</desc>{''.join(parts)}</svg>"
    )


def lines(strips: Sequence[Strip]) -> tuple[str, ...]:
    """The chart in characters, at most 80 cells wide, ASCII."""
    end = end_of_strips(strips)
    rows = []
    for strip in strips:
        cells = ["."] * CELLS
        for number, bar in enumerate(strip.bars):
            first = min(CELLS - 1, int(bar.start / end * CELLS))
            for at in range(first, max(first + 1, min(CELLS, round(bar.end / end * CELLS)))):
                cells[at] = SIGNS[number % 2]
        rows.append(f"{clean(strip.name):<20.20} {''.join(cells)}")
    foot = f"{'minutes':<20} 0{minutes(end):>{CELLS - 1}}"
    return (*rows, foot)


def end_of_strips(strips: Sequence[Strip]) -> float:
    """When the last bar ends; a second where there is none."""
    return max((bar.end for strip in strips for bar in strip.bars), default=0.0) or 1.0


def ticks(end: float) -> range:
    """Whole minutes at which the axis is labelled."""
    step = next((one for one in TICKS_MIN if end / 60 / one <= 12), TICKS_MIN[-1])
    return range(0, int(end / 60) + 1, step)


def minutes(seconds: float) -> str:
    """Minutes with one digit after the point."""
    return f"{seconds / 60:.1f}"
