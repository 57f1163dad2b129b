"""The far view: the step's number and state, the value to set and the act in letters as large as there is room for.

Number and state come first, then the value, then as much of the act as can be read. What does not fit in large letters
is cut with two points, never squeezed; a dry run is striped all round and says so in large letters too.
"""

from runner.formula.units import Unit, parse_unit
from runner.say.text import mark, say
from runner.screen.blocks import Far, Ink
from runner.screen.spelled import spell
from runner.screen.widgets.bars import STRIPE, rule_line
from runner.screen.widgets.letters import HALVES, HEIGHT, cells_high, cells_wide, drawn
from runner.screen.widgets.lines import Line, filled, fit, parts_of

CUT = " .."
LEADS_BACK = mark("any key leads back; F4: STOP, make safe")


def far_lines(far: Far, dry: str, width: int, height: int, plain: bool) -> list[Line]:
    """The whole screen."""
    inner, room = width - 4, height - 2
    parts: list[list[Line]] = []
    if dry:
        parts.append(large([upper(dry)], 0, plain, Ink.DRY, inner))
    parts.append(_head(far, Ink.ABNORMAL if far.loud else Ink.STRONG, inner, room, plain))
    value = _value(far, inner, room // 4, plain)
    left = room - sum(map(len, parts)) - len(value) - len(parts) - bool(value)
    act = _act(upper(far.act), inner, left, plain)
    body: list[Line] = []
    for part in (*parts, act, value):
        if part:
            body += [(), *part] if body else part
    body = body[:room]
    spare = room - len(body)
    body = [()] * min(1, spare) + body
    body += [()] * (room - len(body))
    edge = STRIPE if dry else " "
    ink = Ink.DRY if dry else Ink.PLAIN
    middle: list[Line] = [
        ((edge, ink), (" ", Ink.PLAIN), *filled(line, inner), (" ", Ink.PLAIN), (edge, ink)) for line in body
    ]
    return [rule_line("", dry, width), *middle, rule_line(say(LEADS_BACK), dry, width)]


def upper(text: str) -> str:
    """Capitals, but for a unit behind a number, in which `m` and `M` differ."""
    words = spell(text).split()
    out = []
    for at, word in enumerate(words):
        number = at > 0 and words[at - 1].lstrip("+-(")[:1].isdigit()
        out.append(word if number and _is_unit(word.rstrip(".,;:")) else word.upper())
    return " ".join(out)


def _is_unit(word: str) -> bool:
    """A unit of the language, or what has capitals behind its first letter as units have."""
    return isinstance(parse_unit(word), Unit) or word not in (word.lower(), word.upper(), word.capitalize())


def large(texts: list[str], scale: int, plain: bool, ink: Ink, width: int) -> list[Line]:
    """Texts in large letters, one under the other with a free row between."""
    lines: list[Line] = []
    for text in texts:
        if lines and _apart(scale, plain):
            lines.append(())
        lines += [((fit(row, width), ink),) for row in drawn(text, scale, plain)]
    return lines


def wrapped(text: str, scale: int, plain: bool, width: int) -> list[str] | None:
    """The text broken at spaces at this scale; None where a word alone is too wide."""
    lines: list[str] = []
    for word in parts_of(text, lambda part: cells_wide(part, scale, plain) > width):
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and cells_wide(longer, scale, plain) <= width:
            lines[-1] = longer
        elif cells_wide(word, scale, plain) <= width:
            lines.append(word)
        else:
            return None
    return lines


def _high(count: int, scale: int, plain: bool) -> int:
    return count * cells_high(scale, plain) + (count - 1 if _apart(scale, plain) else 0)


def _apart(scale: int, plain: bool) -> bool:
    """True where lines need a free row between them: the others have half a row left over."""
    return plain or HALVES[scale][1] * HEIGHT % 2 == 0


def _fitting(text: str, width: int, rows: int, plain: bool) -> tuple[list[str], int] | None:
    """The text in lines at the largest scale at which all of it has room."""
    for scale in reversed(range(len(HALVES))):
        lines = wrapped(text, scale, plain, width)
        if lines is not None and _high(len(lines), scale, plain) <= rows:
            return lines, scale
    return None


def _head(far: Far, ink: Ink, width: int, room: int, plain: bool) -> list[Line]:
    """Number and state in one line, else in two; where there is no room for that the state in the terminal's own letters."""
    number, state = spell(far.number).upper(), f"{far.mark} {upper(far.state)}".strip()
    head = " ".join(part for part in (number, state) if part)
    if cells_wide(head, 0, plain) <= width:
        return _one(head, ink, width, room // 4, plain)
    found = _fitting(head, width, room // 2, plain)
    if found:
        return large(found[0], found[1], plain, ink, width)
    return [*_one(number, ink, width, room // 4, plain), ((fit(state, width), ink),)]


def _one(text: str, ink: Ink, width: int, rows: int, plain: bool) -> list[Line]:
    """One line at the largest scale; in the terminal's own letters where it is long."""
    if not text:
        return []
    for scale in reversed(range(len(HALVES))):
        if cells_wide(text, scale, plain) <= width and cells_high(scale, plain) <= max(rows, cells_high(0, plain)):
            return large([text], scale, plain, ink, width)
    return [((fit(text, width), ink),)]


def _value(far: Far, width: int, rows: int, plain: bool) -> list[Line]:
    """The first value that has room, its name above it in the terminal's own letters."""
    for name, shown in far.values:
        text = upper(shown)
        if cells_wide(text, 0, plain) <= width:
            more = "   " + say("and {count} more in the act", count=len(far.values) - 1) if len(far.values) > 1 else ""
            named: Line = ((fit(f"{spell(name)}: {spell(shown)}{more}", width), Ink.LABEL),)
            return [named, *_one(text, Ink.STRONG, width, rows, plain)]
    return []


def _act(text: str, width: int, rows: int, plain: bool) -> list[Line]:
    """The act as large as all of it has room; else as many words of it as fit, cut with two points."""
    if not text or rows < 1:
        return []
    found = _fitting(text, width, rows, plain)
    words = text.split()
    while found is None and len(words) > 1:
        words.pop()
        found = _fitting(" ".join(words) + CUT, width, rows, plain)
    return large(found[0], found[1], plain, Ink.PLAIN, width) if found else [((fit(text, width), Ink.PLAIN),)]
