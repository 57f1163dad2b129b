"""A curve or bars as an inline SVG picture: no script, no style of its own, colours from the page it stands in.

Lines are drawn in the page's ink; out of limits the curve is thicker and in the page's alarm colour, and a strip under the
axis has a sign and a word there. All texts are cleaned and escaped.
"""

from html import escape

from runner.formula.quantity import shown_number
from runner.procedure.clean import clean
from runner.report.working.marks import UNICODE
from runner.report.working.plot import limit_notes
from runner.report.working.scale import Scale, label, scale_of
from runner.report.working.swept import Curve

WIDTH, HEIGHT = 328, 236
LEFT, RIGHT, TOP, BOTTOM = 64, 14, 14, 50
"""Room around the picture for labels."""
BAR, LETTER = 24, 7
"""Height of a bar with its gap; width of a letter, nearly."""
INK, SOFT, ALARM = 'stroke="currentColor"', 'stroke="currentColor" stroke-opacity="0.25"', 'stroke="var(--alarm)"'


def text_at(x: float, y: float, words: str, anchor: str, fill: str = "currentColor") -> str:
    """A label."""
    return f'<text x="{x:.1f}" y="{y:.1f}" text-anchor="{anchor}" fill="{fill}">{escape(clean(words))}</text>'


def framed(title: str, description: str, width: float, height: float, parts: list[str]) -> str:
    """A picture with its words for those who cannot see it."""
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" role="img" viewBox="0 0 {width:.0f} {height:.0f}" '
        f'width="{width:.0f}" height="{height:.0f}" font-size="12" font-family="inherit">'
        f"<title>{escape(clean(title))}</title><desc>{escape(clean(description))}</desc>{''.join(parts)}</svg>"
    )


def described(curve: Curve, scale: Scale) -> str:
    """What the picture shows, in a sentence."""
    known = [y for y in curve.ys if y is not None]
    runs = f"from {label(min(known))} to {label(max(known))} {curve.unit}".rstrip() if known else "without a result"
    notes = limit_notes(curve, scale, UNICODE)
    amiss = [words for verdict, words in (("out", "out of limits at places"), ("held", "held at places"),
                                          ("failed", "no result at places")) if verdict in curve.verdicts]  # fmt: skip
    return "; ".join([f"{curve.name} {runs}", *notes, *amiss])


def curve_svg(curve: Curve, ends: tuple[str, str]) -> str:
    """A curve over a range."""
    scale = scale_of(curve.ys, (y for bound in curve.bounds for y in bound.ys))
    wide, high = WIDTH - LEFT - RIGHT, HEIGHT - TOP - BOTTOM
    first, last = curve.xs[0], curve.xs[-1]

    def spot(x: float, y: float) -> tuple[float, float]:
        return LEFT + (x - first) / (last - first) * wide, TOP + (1 - scale.at(y)) * high

    parts = []
    for tick in scale.ticks(5):
        y = spot(first, tick)[1]
        parts.append(f'<path d="M{LEFT} {y:.1f}h{wide}" {SOFT}/>')
        parts.append(text_at(LEFT - 6, y + 4, label(tick), "end"))
    parts.append(f'<path d="M{LEFT} {TOP}v{high}h{wide}" fill="none" {INK}/>')
    parts.append(text_at(LEFT, HEIGHT - BOTTOM + 24, ends[0], "start"))
    parts.append(text_at(WIDTH - RIGHT, HEIGHT - BOTTOM + 24, ends[1], "end"))
    for bound in curve.bounds:
        inside = [
            None if y is None or not scale.holds(y) else spot(x, y) for x, y in zip(curve.xs, bound.ys, strict=True)
        ]
        parts += [f'<path d="{drawn(line)}" fill="none" {INK} stroke-dasharray="6 4"/>' for line in runs_of(inside)]
    spots = [None if y is None else spot(x, y) for x, y in zip(curve.xs, curve.ys, strict=True)]
    parts += [f'<path d="{drawn(line)}" fill="none" {INK} stroke-width="2"/>' for line in runs_of(spots)]
    amiss = [
        point if verdict in ("out", "held") else None for point, verdict in zip(spots, curve.verdicts, strict=True)
    ]
    parts += [
        f'<path d="{drawn(line)}" fill="none" {ALARM} stroke-width="4" stroke-linecap="round"/>'
        for line in runs_of(amiss)
    ]
    parts += standing(curve, [LEFT + (x - first) / (last - first) * wide for x in curve.xs])
    return framed(curve.name, described(curve, scale), WIDTH, HEIGHT, parts)


def standing(curve: Curve, across: list[float]) -> list[str]:
    """A strip under the axis where the value is out of limits or has no result, with its sign and word."""
    parts = []
    for verdict in dict.fromkeys(verdict for verdict in curve.verdicts if verdict != "in"):
        places = [(x, 0.0) if own == verdict else None for x, own in zip(across, curve.verdicts, strict=True)]
        runs = runs_of(places)
        for run in runs:
            low, high = run[0][0], run[-1][0]
            parts.append(
                f'<rect x="{low:.1f}" y="{HEIGHT - BOTTOM + 3}" width="{max(2.0, high - low):.1f}" height="5" '
                'fill="var(--alarm)"/>'
            )
        widest = max(runs, key=lambda run: run[-1][0] - run[0][0])
        middle = min(max((widest[0][0] + widest[-1][0]) / 2, LEFT + 30), WIDTH - RIGHT - 45)
        parts.append(text_at(middle, HEIGHT - 6, UNICODE.verdict(verdict), "middle", "var(--alarm)"))
    return parts


def runs_of(spots: list[tuple[float, float] | None]) -> list[list[tuple[float, float]]]:
    """Neighbouring spots without gaps."""
    runs: list[list[tuple[float, float]]] = []
    open_run = False
    for spot in spots:
        if spot is None:
            open_run = False
            continue
        if not open_run:
            runs.append([])
            open_run = True
        runs[-1].append(spot)
    return runs


def drawn(spots: list[tuple[float, float]]) -> str:
    """The commands of a line; a single spot is a dot's length long. Spots in the middle of a level stretch are left out."""
    if len(spots) == 1:
        return f"M{spots[0][0]:.1f} {spots[0][1]:.1f}h0.1"
    kept = [spots[0]]
    for before, spot, after in zip(spots, spots[1:], spots[2:], strict=False):
        if not before[1] == spot[1] == after[1]:
            kept.append(spot)
    return "M" + "L".join(f"{x:.1f} {y:.1f}" for x, y in [*kept, spots[-1]])


def bars_svg(curve: Curve, names: tuple[str, ...]) -> str:
    """Bars from zero, one under the other, with limits as strokes over them."""
    scale = scale_of(curve.ys, (y for bound in curve.bounds for y in bound.ys), from_zero=True)
    left = 12 + LETTER * min(28, max(map(len, names)))
    width, height = left + 420, 12 + BAR * len(names)
    room = 260

    def across(value: float) -> float:
        return left + scale.at(value) * room

    parts = []
    for at, (name, y, verdict) in enumerate(zip(names, curve.ys, curve.verdicts, strict=True)):
        top = 6 + BAR * at
        parts.append(text_at(left - 8, top + 15, name if len(name) <= 28 else f"{name[:27]}…", "end"))
        if y is not None:
            low, high = sorted((across(0.0), across(y)))
            fill = "currentColor" if verdict == "in" else "var(--alarm)"
            parts.append(
                f'<rect x="{low:.1f}" y="{top + 3}" width="{max(1.0, high - low):.1f}" height="{BAR - 8}" '
                f'fill="{fill}" fill-opacity="{0.45 if verdict == "in" else 0.9}"/>'
            )
        for bound in curve.bounds:
            limit = bound.ys[at]
            if limit is not None and scale.holds(limit):
                parts.append(
                    f'<path d="M{across(limit):.1f} {top}v{BAR - 2}" {INK} stroke-width="2" stroke-dasharray="3 2"/>'
                )
        words = " ".join(part for part in ("" if y is None else shown_number(y), UNICODE.verdict(verdict)) if part)
        parts.append(
            text_at(left + room + 10, top + 15, words, "start", "currentColor" if verdict == "in" else "var(--alarm)")
        )
    parts.append(f'<path d="M{across(0.0):.1f} 2v{height - 4}" {INK}/>')
    return framed(curve.name, described(curve, scale), width, height, parts)
