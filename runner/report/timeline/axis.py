"""The axis of clock time: where a moment lies, and at which moments it is labelled.

A stretch in which the run stood for long (a night) is drawn short, with a break, so that the work beside it can be read.
"""

from dataclasses import dataclass
from datetime import UTC, datetime

from runner.report.timeline.spans import HALT, Timeline

STEPS_S = (10, 30, 60, 120, 300, 600, 900, 1800, 3600, 7200, 10800, 21600, 43200, 86400, 604800)
"""Between two labels, in seconds."""
LONG, SHORT = 0.5, 0.08
"""A standstill that is longer than this share of all the rest is drawn as this share of it."""


@dataclass(frozen=True, slots=True)
class Stretch:
    """A part of the axis and how much room it has."""

    start: float
    end: float
    room: float
    broken: bool


@dataclass(frozen=True, slots=True)
class Axis:
    """Moments to places between 0 and 1."""

    stretches: tuple[Stretch, ...]

    def at(self, moment: float) -> float:
        """Where a moment lies."""
        total = sum(stretch.room for stretch in self.stretches)
        before = 0.0
        for stretch in self.stretches:
            if moment <= stretch.end or stretch is self.stretches[-1]:
                share = (moment - stretch.start) / (stretch.end - stretch.start)
                return (before + stretch.room * min(1.0, max(0.0, share))) / total
            before += stretch.room
        return 1.0

    def ticks(self, most: int) -> tuple[tuple[float, str], ...]:
        """(moment, label) at round times, at most so many, none within a break."""
        start, end = self.stretches[0].start, self.stretches[-1].end
        drawn = sum(stretch.room for stretch in self.stretches)
        step = next((one for one in STEPS_S if drawn / one <= most), STEPS_S[-1])
        days = datetime.fromtimestamp(start, UTC).date() != datetime.fromtimestamp(end, UTC).date()
        found: list[tuple[float, str]] = []
        moment = -(-start // step) * step
        while moment <= end and len(found) < 10 * most:
            stretch = next(one for one in self.stretches if moment <= one.end)
            if not stretch.broken:
                found.append((moment, label(moment, step, days)))
            elif stretch.end - moment > step:
                moment = stretch.end // step * step
            moment += step
        return tuple(found)


def label(moment: float, step: int, days: bool) -> str:
    """A moment as it stands at the axis, in UTC."""
    form = "%H:%M:%S" if step < 60 else "%H:%M"
    return datetime.fromtimestamp(moment, UTC).strftime(f"%d {form}" if days else form)


def axis_of(timeline: Timeline) -> Axis:
    """The axis of a timeline."""
    whole = timeline.end - timeline.start
    halts = sorted(
        (span.start, span.end) for span in timeline.spans if span.kind == HALT and timeline.start <= span.start
    )
    long = [(start, end) for start, end in halts if end - start > LONG * (whole - (end - start))]
    stretches: list[Stretch] = []
    at = timeline.start
    rest = whole - sum(end - start for start, end in long)
    for start, end in long:
        if start > at:
            stretches.append(Stretch(at, start, start - at, False))
        stretches.append(Stretch(start, end, max(1.0, SHORT * rest), True))
        at = end
    if timeline.end > at or not stretches:
        stretches.append(Stretch(at, timeline.end, timeline.end - at, False))
    return Axis(tuple(stretches))
