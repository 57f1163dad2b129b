"""A timeline as an inline SVG picture: no script, no style of its own, colours from the page it stands in.

Kinds differ in shape and pattern, never in colour alone; every stretch and point says in words what it is. Texts are
cleaned and escaped.
"""

from collections.abc import Callable
from html import escape

from runner.procedure.clean import clean
from runner.report.timeline.axis import Axis
from runner.report.timeline.spans import EXCEPTION, HALT, HOLD, SIGNS, VALUE, WAIT, WORK, Span, Timeline

WIDTH, LEFT, RIGHT, TOP = 980, 150, 16, 30
LANE, BAR = 58, 20
"""Height of a lane, and of a bar in it."""
LEGEND = 44
LETTER = 6.2
"""Width of a letter, nearly."""
INK = 'stroke="currentColor"'
Across = Callable[[float], float]
"""A moment to its place."""
LOOKS = {
    WORK: f'fill="currentColor" fill-opacity="0.28" {INK} stroke-width="0.6"',
    WAIT: f'fill="none" {INK} stroke-width="1.5" stroke-dasharray="2 3"',
    HOLD: f'fill="var(--caution-band)" {INK} stroke-width="1.5" stroke-dasharray="6 3"',
    HALT: 'fill="currentColor" fill-opacity="0.09"',
}
NAMES = {WORK: "step", WAIT: "waiting time", HOLD: "hold", HALT: "run stands"}


def words_at(x: float, y: float, words: str, anchor: str = "start", more: str = "") -> str:
    """A label."""
    return (
        f'<text x="{x:.1f}" y="{y:.1f}" text-anchor="{anchor}" fill="currentColor"{more}>{escape(clean(words))}</text>'
    )


def titled(shape: str, words: str) -> str:
    """A shape that says what it is to those who point at it or have it read."""
    return f"<g><title>{escape(clean(words))}</title>{shape}</g>"


def cut(words: str, room: float) -> str:
    """As much of a label as there is room for; nothing where that would say little."""
    letters = int(room / LETTER)
    if len(words) <= letters:
        return words
    return f"{words[: letters - 1]}…" if letters >= 4 else ""


def timeline_svg(timeline: Timeline, axis: Axis, title: str, description: str) -> str:
    """The picture."""
    wide, high = WIDTH - LEFT - RIGHT, LANE * len(timeline.lanes)
    bottom = TOP + high

    def across(moment: float) -> float:
        return LEFT + axis.at(moment) * wide

    parts = [halt(span, across(span.start), across(span.end), high) for span in timeline.spans if span.kind == HALT]
    for moment, label in axis.ticks(10):
        x = across(moment)
        parts.append(f'<path d="M{x:.1f} {TOP}V{bottom}" {INK} stroke-opacity="0.18"/>')
        parts.append(words_at(min(max(x, LEFT + 14), WIDTH - RIGHT - 14), TOP - 8, label, "middle"))
    for stretch in axis.stretches:
        if stretch.broken:
            x = (across(stretch.start) + across(stretch.end)) / 2
            parts.append(f'<path d="M{x - 4:.1f} {TOP}l-4 12m8 0l4 -12" fill="none" {INK}/>')
    for at, lane in enumerate(timeline.lanes):
        y = TOP + LANE * at
        parts.append(f'<path d="M0 {y}H{WIDTH}" {INK} stroke-opacity="0.3"/>')
        parts.append(words_at(4, y + 34, cut(clean(lane), LEFT - 8), more=' font-weight="600"'))
        own = [span for span in timeline.spans if span.lane == lane]
        parts += [bar(span, across(span.start), across(span.end), y) for span in own]
        parts += points(timeline, lane, across, y)
    parts.append(f'<path d="M0 {bottom}H{WIDTH}" {INK} stroke-opacity="0.3"/>')
    parts += legend(timeline, bottom + 24)
    height = bottom + LEGEND
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" role="img" viewBox="0 0 {WIDTH} {height}" width="{WIDTH}" '
        f'height="{height}" font-size="12" font-family="inherit"><title>{escape(clean(title))}</title>'
        f"<desc>{escape(clean(description))}</desc>{''.join(parts)}</svg>"
    )


def halt(span: Span, x: float, end: float, high: float) -> str:
    """A band over all lanes."""
    width = max(1.5, end - x)
    shape = f'<rect x="{x:.1f}" y="{TOP}" width="{width:.1f}" height="{high}" {LOOKS[HALT]}/>'
    words = cut(span.words.split(",", maxsplit=1)[0], width - 6)
    return titled(shape + (words_at(x + 3, TOP + 11, words, more=' font-size="10"') if words else ""), span.words)


def bar(span: Span, x: float, end: float, y: float) -> str:
    """One stretch in its lane; waits and holds lie lower than work."""
    width = max(1.5, end - x)
    top, high = (y + 22, BAR) if span.kind == WORK else (y + 44, 9)
    shape = f'<rect x="{x:.1f}" y="{top}" width="{width:.1f}" height="{high}" {LOOKS[span.kind]}/>'
    if span.paper:
        shape += f'<path d="M{x:.1f} {top + high + 1.5}h{width:.1f}" {INK} stroke-width="2" stroke-dasharray="1 3"/>'
    label = span.words.removeprefix("step ").split(",", maxsplit=1)[0] if span.kind == WORK else ""
    short = cut(label, width - 6) or cut(label.partition(" ")[0], width - 4)
    if short:
        shape += words_at(x + 3, top + 14, short, more=' font-size="11"')
    return titled(shape, span.words)


def points(timeline: Timeline, lane: str, across: Across, y: float) -> list[str]:
    """The signs of a lane, moved aside where two would lie on each other."""
    parts, last = [], -100.0
    for point in sorted((one for one in timeline.points if one.lane == lane), key=lambda one: one.at):
        x = max(across(point.at), last + 13)
        last = x
        fill = "var(--alarm)" if point.kind in (EXCEPTION, VALUE) else "currentColor"
        sign = f'<text x="{x:.1f}" y="{y + 17}" text-anchor="middle" font-size="14" fill="{fill}">{SIGNS[point.kind][0]}</text>'
        parts.append(titled(sign, f"{point.words} (event {point.event})"))
    return parts


def legend(timeline: Timeline, y: float) -> list[str]:
    """What the shapes mean, of those that are there."""
    parts, x = [], 4.0
    for kind, name in NAMES.items():
        if any(span.kind == kind for span in timeline.spans):
            parts.append(f'<rect x="{x:.1f}" y="{y - 9}" width="22" height="10" {LOOKS[kind]}/>')
            parts.append(words_at(x + 28, y, name))
            x += 28 + LETTER * len(name) + 22
    for kind, (sign, name) in SIGNS.items():
        if any(point.kind == kind for point in timeline.points):
            fill = "var(--alarm)" if kind in (EXCEPTION, VALUE) else "currentColor"
            parts.append(f'<text x="{x:.1f}" y="{y}" font-size="14" fill="{fill}">{sign}</text>')
            parts.append(words_at(x + 18, y, name))
            x += 18 + LETTER * len(name) + 22
    if any(span.paper for span in timeline.spans):
        parts.append(f'<path d="M{x:.1f} {y - 3}h22" {INK} stroke-width="2" stroke-dasharray="1 3"/>')
        parts.append(words_at(x + 28, y, "from paper"))
        x += 28 + LETTER * len("from paper") + 22
    parts.append(words_at(x, y, "clock time, UTC"))
    return parts
