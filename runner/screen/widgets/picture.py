"""The whole screen as lines: bars, the page, what stands beside it on a wide terminal, the entry, the message, keys.

Pure: the same page, state and size give the same lines. What has to be read may be longer than there is room; then
the page scrolls, says that more follows, and `below` is true until the end has been on the screen.
"""

from typing import NamedTuple, assert_never

from runner.say.text import say
from runner.screen import words
from runner.screen.blocks import (
    Act,
    Big,
    Block,
    CautionBlock,
    Dial,
    Drawing,
    Facts,
    Far,
    Gap,
    Hanging,
    Heading,
    Ink,
    Rows,
    Say,
    Sheet,
)
from runner.screen.keys import Action, key_for
from runner.screen.typed import Line as Typed
from runner.screen.view import View
from runner.screen.widgets.act import act_lines
from runner.screen.widgets.bars import STRIPE, key_lines, message_lines, rule_line, top_lines, trail_line
from runner.screen.widgets.caution import caution_lines
from runner.screen.widgets.dial import dial_lines
from runner.screen.widgets.drawing import drawing_lines, hanging_lines
from runner.screen.widgets.entry import entry_lines
from runner.screen.widgets.lines import Line, filled, fit, wrap
from runner.screen.widgets.rows import rows_lines
from runner.screen.widgets.text import big_lines, facts_lines, heading_lines, say_lines

LEAST_WIDTH, LEAST_HEIGHT = 60, 18
WIDE = 110
LEAST_ASIDE = 10
"""Rows that a drawing needs to be of use, with its heading."""
MESSAGE_ROWS = 4
FOOT = 3
"""Rows of the lower rule and the keys."""
READ_ON = ("run", "hold", "halted", "form", "start", "carried")
"""Pages on which Enter reads on to the end before it does anything."""


class Shown(NamedTuple):
    """Everything that is put on the screen now."""

    sheet: Sheet
    view: View | None
    clock: str
    typed: Typed
    message: str = ""
    abnormal: bool = False
    beside: tuple[Block, ...] = ()
    scroll: int = 0
    dry: str = ""
    """What a dry run is called on every page; empty in a live one."""
    ascii: bool = False
    """True where nothing outside ASCII may be shown."""
    aside: tuple[Block, ...] = ()
    """Under the step on a wide terminal, where there is room for a drawing of use."""
    far: Far | None = None
    """Shown instead of all else."""


class Picture(NamedTuple):
    """The screen, line by line."""

    lines: tuple[Line, ...]
    room: int
    """Rows that the page has."""
    scroll: int
    """First line of the page that is shown, within bounds."""
    below: bool
    """True where some of the page has not been shown yet."""
    reads_on: bool
    """True where Enter shows the rest before it does anything."""


def block_lines(blocks: tuple[Block, ...], width: int) -> tuple[list[Line], int | None]:
    """Blocks one under the other, and which line is the chosen one."""
    lines: list[Line] = []
    chosen: int | None = None
    for block in blocks:
        match block:
            case Say():
                lines += say_lines(block, width)
            case Heading():
                lines += heading_lines(block, width)
            case Big():
                lines += big_lines(block, width)
            case CautionBlock():
                lines += caution_lines(block, width)
            case Act():
                lines += act_lines(block, width)
            case Rows():
                rows, at = rows_lines(block, width)
                chosen = len(lines) + at if at is not None else chosen
                lines += rows
            case Facts():
                lines += facts_lines(block, width)
            case Gap():
                lines.append(())
            case Drawing():
                lines += drawing_lines(block, width)
            case Hanging():
                lines += hanging_lines(block, width)
            case Dial():
                lines += dial_lines(block, width)
            case _:
                assert_never(block)
    return lines, chosen


def is_small(size: tuple[int, int]) -> bool:
    """True where the terminal cannot show a page."""
    return size[0] < LEAST_WIDTH or size[1] < LEAST_HEIGHT


def picture(shown: Shown, width: int, height: int) -> Picture:
    """The screen at this size."""
    if not shown.ascii:
        return _picture(shown, width, height)
    from runner.screen.spelled import framed, spelled

    drawn = _picture(spelled(shown), width, height)
    return drawn._replace(lines=tuple(tuple((framed(text), ink) for text, ink in line) for line in drawn.lines))


def _picture(shown: Shown, width: int, height: int) -> Picture:
    if is_small((width, height)):
        return _too_small(shown, width, height)
    if shown.far is not None:
        return _far(shown, shown.far, width, height)
    view, sheet = shown.view, shown.sheet
    dry = shown.dry
    edge = 1 if dry else 0
    inner = width - 2 * edge
    top: list[Line] = []
    if view is not None:
        top += top_lines(view, shown.clock, width)
        top += [trail_line(trail, len(view.trails) == 1, width) for trail in view.trails]
    title = "" if sheet.page == "run" and view is not None else sheet.title
    top.append(rule_line(title, dry, width, sheet.loud))
    entry = entry_lines(sheet.entry, shown.typed, inner) if sheet.entry else []
    message = message_lines(shown.message, shown.abnormal, inner, MESSAGE_ROWS)
    room = max(3, height - len(top) - len(entry) - len(message) - FOOT)
    body, scroll, below = _body(shown, inner, room)
    chosen = any(isinstance(block, Rows) and block.cursor is not None for block in sheet.blocks)
    reads_on = below and not chosen and not shown.typed.text and sheet.page in READ_ON
    keys = key_lines(sheet._replace(go=say("read on")) if reads_on else sheet, width)
    bottom = [rule_line("", dry, width), *(filled(line, width) for line in keys)]
    middle = [*body, *entry, *message]
    if dry:
        middle = [((STRIPE, Ink.DRY), *filled(line, inner), (STRIPE, Ink.DRY)) for line in middle]
    lines = (*top, *middle, *bottom)[:height]
    return Picture(tuple(filled(line, width) for line in lines), room, scroll, below, reads_on)


def _body(shown: Shown, width: int, room: int) -> tuple[list[Line], int, bool]:
    """The page's own lines, and beside them what a wide terminal shows."""
    own = shown.sheet.beside
    at_side = (*own, *shown.beside)
    side = (width // 2 if own else min(56, width * 2 // 5)) if width >= WIDE and at_side else 0
    main = width - side - (1 if side else 0)
    lines, chosen = block_lines(shown.sheet.blocks, main)
    spare, _ = block_lines(shown.sheet.spare, main)
    if len(lines) + len(spare) <= room:
        lines += spare
    if own and not side:
        lines += _under(own, main, room - len(lines))
    free = room - len(lines)
    if side and not own and shown.sheet.page == "run" and free >= LEAST_ASIDE:
        under, _ = block_lines(_limited(shown.aside, free - 2), main)
        lines += [*([()] * (free - len(under))), *under]
    held = _pinned(shown.sheet, main, room) if chosen is not None and len(lines) > room else 0
    top, lines, rest = lines[:held], lines[held:], room - held
    most = max(0, len(lines) - rest)
    scroll = min(max(0, shown.scroll), most)
    if chosen is not None and most:
        scroll = min(max(scroll, chosen - held - rest + 2), max(0, chosen - held - 1))
    part = lines[scroll : scroll + rest]
    below = scroll < most
    if below:
        part[-1] = (
            (
                fit(
                    "   " + say("more below ({count} lines): Down or PgDn", count=len(lines) - scroll - rest + 1), main
                ),
                Ink.CHOSEN,
            ),
        )
    part = [*top, *part]
    part += [()] * (room - len(part))
    if side:
        beside, _ = block_lines(at_side, side)
        if len(beside) > room:
            more = "   " + say(
                "{count} more lines: {key}", count=len(beside) - room + 1, key=key_for(Action.WORKING).cap
            )
            beside[room - 1] = ((more, Ink.LABEL),)
        beside = [*beside[:room], *([()] * (room - len(beside)))]
        part = [
            (*filled(left, main), ("│", Ink.RULE), *filled(right, side))
            for left, right in zip(part, beside, strict=True)
        ]
    return part, scroll, below


def _pinned(sheet: Sheet, width: int, room: int) -> int:
    """How many lines at the top stay while a line is chosen further below: cautions, as far as half of the page holds."""
    lines = 0
    for block in sheet.blocks[: sheet.pinned]:
        more = len(block_lines((block,), width)[0])
        if lines + more > room // 2:
            break
        lines += more
    return lines


def _under(blocks: tuple[Block, ...], width: int, free: int) -> list[Line]:
    """What a wide terminal shows beside the step, under it where all of it has room; a path is drawn as small as needs be."""
    limited = _limited(blocks, free - 3) if free >= LEAST_ASIDE else blocks
    brief = tuple(block._replace(brief=True) if isinstance(block, Hanging) else block for block in limited)
    for tried in (limited, brief):
        lines, _ = block_lines(tried, width)
        while lines and not lines[-1]:
            lines.pop()
        if lines and len(lines) < free:
            return [(), *lines]
    return []


def _limited(blocks: tuple[Block, ...], rows: int) -> tuple[Block, ...]:
    return tuple(block._replace(rows=rows) if isinstance(block, Drawing) else block for block in blocks)


def _far(shown: Shown, far: Far, width: int, height: int) -> Picture:
    from runner.screen.widgets.far import far_lines

    lines = far_lines(far, shown.dry, width, height, shown.ascii)
    return Picture(tuple(filled(line, width) for line in lines), 0, shown.scroll, below=False, reads_on=False)


def _too_small(shown: Shown, width: int, height: int) -> Picture:
    """It says so, and how the step that is up stands."""
    step = shown.view.step if shown.view else None
    hold = f"{step.step.number}: {say('HELD') if step.hold == 'reached' else say(step.stage.value)}" if step else ""
    text = say(words.TOO_SMALL, width=width, height=height, hold=hold)
    lines = [filled(((part, Ink.STRONG),), width) for part in wrap(text, width)]
    lines += [filled((), width)] * (height - len(lines))
    return Picture(tuple(lines[: max(1, height)]), 0, 0, below=True, reads_on=False)
