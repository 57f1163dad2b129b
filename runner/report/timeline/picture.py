"""A run's timeline as a picture for reports, and what it shows in words for those who cannot see it."""

from runner.report.contents.names import Entries, Names
from runner.report.contents.words import counted, joined
from runner.report.document import Block, Note, Picture, Pictures
from runner.report.timeline.axis import axis_of
from runner.report.timeline.lines import timeline_lines
from runner.report.timeline.spans import EXCEPTION, HALT, HOLD, VALUE, WAIT, WORK, Timeline, timeline_of
from runner.report.timeline.svg import timeline_svg

CAPTION = "Who did what when, by the clock; the tables below say the same in words"


def timeline_blocks(entries: Entries, names: Names) -> tuple[Block, ...]:
    """The picture, or why there is none."""
    timeline = timeline_of(entries, names)
    if timeline is None or not timeline.lanes:
        return (Note("There is nothing to draw: no two events of this record lie apart in time."),)
    axis = axis_of(timeline)
    described = description(timeline)
    svg = timeline_svg(timeline, axis, "Timeline of the run", described)
    return (Pictures((Picture(CAPTION, svg, timeline_lines(timeline, axis)),)), Note(described))


def description(timeline: Timeline) -> str:
    """What the picture shows, in sentences."""
    said = []
    for lane in timeline.lanes:
        own = [span for span in timeline.spans if span.lane == lane]
        counts = [(WORK, "step"), (HOLD, "hold"), (WAIT, "waiting time")]
        parts = [counted(sum(span.kind == kind for span in own), word) for kind, word in counts]
        odd = [(EXCEPTION, "exception", ""), (VALUE, "value out of limits", "values out of limits")]
        points = [
            (sum(p.kind == kind and p.lane == lane for p in timeline.points), one, many) for kind, one, many in odd
        ]
        parts += [counted(count, one, many) for count, one, many in points if count]
        parts = [part for part in parts if not part.startswith("0 ")]
        if parts:
            said.append(f"{lane}: {joined(parts)}.")
    halts = [span for span in timeline.spans if span.kind == HALT]
    if halts:
        said.append(f"The run stood {counted(len(halts), 'time')}: {'; '.join(span.words for span in halts)}.")
    return " ".join(said)
