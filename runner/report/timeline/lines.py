"""A timeline in lines of text, at most 80 cells wide: a strip a person, and below it what the strip cannot say."""

from collections.abc import Callable

from runner.procedure.clean import clean
from runner.report.timeline.axis import Axis
from runner.report.timeline.spans import HALT, HOLD, SIGNS, WAIT, WORK, Timeline

WIDTH, LEFT = 78, 16
Across = Callable[[float], int]
"""A moment to its place."""
MARKS = {WORK: "█", WAIT: "~", HOLD: "H", HALT: "░"}
NAMES = {WORK: "step", WAIT: "waiting time", HOLD: "hold", HALT: "run stands"}
OVER = (HALT, WORK, HOLD, WAIT)
"""Drawn in this order: later ones lie over earlier ones."""


def timeline_lines(timeline: Timeline, axis: Axis) -> tuple[str, ...]:
    """Axis, a strip for each person, and the signs above it."""
    room = WIDTH - LEFT

    def across(moment: float) -> int:
        return min(room - 1, int(axis.at(moment) * room))

    lines = [(" " * LEFT + scale(axis, across, room)).rstrip()]
    for lane in timeline.lanes:
        signs, strip = [" "] * room, ["·"] * room
        for kind in OVER:
            for span in timeline.spans:
                if span.kind == kind and span.lane in ("", lane):
                    for at in range(across(span.start), across(span.end) + 1):
                        strip[at] = MARKS[kind]
        for point in timeline.points:
            if point.lane == lane:
                signs[across(point.at)] = SIGNS[point.kind][0]
        rows = ["".join(signs).rstrip(), "".join(strip)]
        names = [clean(lane)[: LEFT - 2], ""]
        lines += [f"{name:<{LEFT}}{row}" for name, row in zip(names, rows if rows[0] else rows[1:], strict=False)]
    used = {span.kind for span in timeline.spans}
    named = [f"{MARKS[kind]} {NAMES[kind]}" for kind in MARKS if kind in used]
    named += [f"{sign} {name}" for kind, (sign, name) in SIGNS.items() if any(p.kind == kind for p in timeline.points)]
    named.append("clock time in UTC")
    return (*lines, "", *wrapped(named))


def wrapped(named: list[str]) -> list[str]:
    """The legend in lines that fit."""
    lines = [""]
    for one in named:
        joined = f"{lines[-1]}   {one}" if lines[-1] else one
        if len(joined) <= WIDTH:
            lines[-1] = joined
        else:
            lines.append(one)
    return lines


def scale(axis: Axis, across: Across, room: int) -> str:
    """The labels of the axis, each beginning at its place."""
    cells = [" "] * room
    free = 0
    for moment, label in axis.ticks(6):
        at = min(across(moment), room - len(label))
        if at >= free:
            cells[at : at + len(label)] = label
            free = at + len(label) + 1
    return "".join(cells)
