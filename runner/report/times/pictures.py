"""Drawings of times: the individuals chart of the standstill, and the exceptions as bars. Times are drawn in minutes."""

from dataclasses import dataclass

from runner.report.document import Picture
from runner.report.times.gathered import Gathered
from runner.report.times.individuals import Individuals
from runner.report.working.bars import bar_lines
from runner.report.working.marks import UNICODE, Signs
from runner.report.working.plot import plot_lines
from runner.report.working.svg import bars_svg, curve_svg
from runner.report.working.swept import Bound, Curve

WIDTH = 78
"""Cells of a drawing in characters."""
MOST_BARS = 12
MOST_RUNS = 200
"""Runs in a drawing of the chart, the newest; its limits are those of all."""


@dataclass(frozen=True, slots=True)
class Drawn:
    """How drawings in characters are made."""

    width: int = WIDTH
    signs: Signs = UNICODE


DRAWN = Drawn()
"""For paper and files."""


def minutes(seconds: float) -> float:
    """To a thousandth, so that no float noise is drawn."""
    return round(seconds / 60, 3)


def chart_picture(found: Gathered, drawn: Drawn) -> Picture | None:
    """The chart; None for fewer than two runs."""
    if found.chart is None:
        return None
    curve = chart_curve(found.chart)
    ends = (numbered(found, -len(curve.ys)), numbered(found, -1))
    lines = tuple(line.plain for line in plot_lines(curve, ends, drawn.width, drawn.signs))
    caption = "Last good to first good in minutes, run by run; broken lines are the limits of what is usual"
    return Picture(caption, curve_svg(curve, ends), lines)


def chart_curve(chart: Individuals) -> Curve:
    """Runs across, minutes up; a lower limit under zero says nothing and is not drawn."""
    first = max(0, len(chart.values) - MOST_RUNS)
    shown = chart.values[first:]
    count = len(shown)
    bounds = [Bound("<=", (minutes(chart.upper),) * count)]
    if chart.lower > 0:
        bounds.append(Bound(">=", (minutes(chart.lower),) * count))
    out = set(chart.outside)
    return Curve(
        "last good to first good", "min", tuple(float(at) for at in range(count)),
        tuple(minutes(value) for value in shown), tuple("out" if first + at in out else "in" for at in range(count)),
        tuple(bounds),
    )  # fmt: skip


def numbered(found: Gathered, at: int) -> str:
    """The number that a charted run has in the table of runs."""
    return f"run {found.runs.index(found.charted[at]) + 1}"


def exceptions_picture(found: Gathered, drawn: Drawn) -> Picture | None:
    """The most frequent exceptions; None where there are none."""
    shown = found.exceptions[:MOST_BARS]
    if not shown:
        return None
    names = tuple(f"{one.step} {one.what}".strip() for one in shown)
    counts = tuple(float(one.count) for one in shown)
    curve = Curve("exceptions", "", tuple(float(at) for at in range(len(shown))), counts, ("in",) * len(shown), ())
    lines = tuple(line.plain for line in bar_lines(curve, names, drawn.width, drawn.signs))
    return Picture("The most frequent exceptions", bars_svg(curve, names), lines)
