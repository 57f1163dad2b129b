"""The frame of every page: what is run and how (a dry run is worded and striped), the place, the message, the keys."""

from runner.say.text import say
from runner.screen.blocks import Ink, Sheet
from runner.screen.keys import KEYS, LESSON, MOVES, SIGHT, Action, key_for
from runner.screen.view import Trail, View
from runner.screen.widgets.lines import Line, Span, filled, fit, width_of, wrap

STRIPE = "/"
COLUMNS = 4
NARROW = 80
"""Cells below which labels are short and the first column, where Enter stands, is the widest."""


def top_lines(view: View, clock: str, width: int) -> list[Line]:
    """Title, revision, mode and time; then phase, place and what is open."""
    mode: Span = (f" {view.mode} ", Ink.DRY if view.dry else Ink.KEY)
    right = f" {clock} "
    revision = f"  {view.revision} "
    room = width - width_of(right) - width_of(mode[0])
    title = fit(f" {view.title}", max(8, room - width_of(revision))).rstrip()
    left = filled(((title, Ink.BAND), (revision, Ink.BAND)), room, Ink.BAND)
    first: Line = (*left, mode, (right, Ink.BAND))
    return [first, _place(view, width)]


def _place(view: View, width: int) -> Line:
    """What is open is never cut: where there is little room the name of the phase is."""
    lead = f" {say('Phase {place} of {count}', place=view.phase_place, count=view.phases)}  "
    spans: list[Span] = []
    here = next((trail for trail in view.trails if trail.on), None)
    if here is not None:
        spans.append(
            ("   " + say("step {place} of {count}", place=min(here.place, here.length), count=here.length), Ink.LABEL)
        )
    if view.open_exceptions:
        spans.append(("   ! " + say("{count} open", count=view.open_exceptions), Ink.ABNORMAL))
    if view.unconfirmed:
        spans.append(("   ? " + say("{count} unconfirmed", count=view.unconfirmed), Ink.ABNORMAL))
    room = width - width_of(lead) - sum(width_of(text) for text, _ in spans)
    phase = view.phase if width_of(view.phase) <= room else fit(view.phase, max(4, room)).rstrip()
    return filled(((lead, Ink.LABEL), (phase, Ink.STRONG), *spans), width)


def trail_line(trail: Trail, alone: bool, width: int) -> Line:
    """The steps of a list with their marks, the one that is up set apart; another list is told in words."""
    lead = "" if alone else f"{'>' if trail.on else ' '}{trail.letter} {trail.who}  "
    spans: list[Span] = [(f" {lead}", Ink.STRONG if trail.on else Ink.QUIET)]
    cells = [(f"{cell.mark}{cell.number}", cell.here) for cell in trail.cells]
    room = width - width_of(spans[0][0]) - width_of(trail.word) - 6
    here = next((at for at, (_, is_here) in enumerate(cells) if is_here), len(cells) - 1)
    first, last = here, here + 1
    used = width_of(cells[here][0]) + 4 if cells else 0
    while cells:
        before = width_of(cells[first - 1][0]) + 2 if first > 0 else None
        after = width_of(cells[last][0]) + 2 if last < len(cells) else None
        if before is not None and used + before <= room and (here - first <= last - here or after is None):
            first, used = first - 1, used + before
        elif after is not None and used + after <= room:
            last, used = last + 1, used + after
        elif before is not None and used + before <= room:
            first, used = first - 1, used + before
        else:
            break
    for text, is_here in cells[first:last]:
        spans.append((f">{text} " if is_here else f" {text} ", Ink.CHOSEN if is_here and trail.on else Ink.QUIET))
    spans.append((f"  {trail.word}", Ink.STRONG if trail.on else Ink.QUIET))
    return filled(tuple(spans), width)


def rule_line(title: str, dry: str, width: int, loud: bool = False) -> Line:
    """The line under the bars: a rule with the page's title; in a dry run stripes that say so."""
    if dry:
        head = f"{STRIPE * 3} {dry} {STRIPE * 3} "
        room = width - width_of(head) - 2
        text = f" {title if width_of(title) <= room else fit(title, room)} " if title else ""
        rest = STRIPE * max(0, width - width_of(head) - width_of(text))
        return filled(((head, Ink.DRY), (text, Ink.ABNORMAL if loud else Ink.STRONG), (rest, Ink.DRY)), width)
    lead = "── " if title else ""
    room = width - width_of(lead) - 1
    text = f"{title if width_of(title) <= room else fit(title, room)} " if title else ""
    rest = "─" * max(0, width - width_of(lead + text))
    return filled(((lead, Ink.RULE), (text, Ink.ABNORMAL if loud else Ink.LABEL), (rest, Ink.RULE)), width)


def message_lines(words: str, abnormal: bool, width: int, most: int) -> list[Line]:
    """What was said last; an abnormal thing has a mark in front."""
    if not words:
        return [filled((), width)]
    mark = " ! " if abnormal else "   "
    parts = wrap(words, width - 4)
    if len(parts) > most:
        parts = [*parts[: most - 1], fit(" ".join(parts[most - 1 :]), width - 4)]
    ink = Ink.ABNORMAL if abnormal else Ink.GOOD
    return [filled(((mark if at == 0 else "   ", ink), (part, ink)), width) for at, part in enumerate(parts)]


def label_of(action: Action, narrow: bool) -> str:
    """What a key does, in as many letters as its place has."""
    key = key_for(action)
    return say(key.short if narrow and key.short else key.label)


def columns_of(width: int) -> tuple[tuple[int, ...], bool]:
    """Cells of each column, and whether labels are short. The same on every page, so that a key stays at its place: where
    the words of a language are too long for the usual columns, labels are short and Enter gets what the others leave."""
    narrow = width < NARROW
    usual = (21, 15, 12, width - 48) if narrow else (*[width // COLUMNS] * 3, width - width // COLUMNS * 3)
    if all(need <= cells for need, cells in zip(needs(narrow), usual, strict=True)):
        return usual, narrow
    rest = needs(narrow=True)[1:]
    return (width - sum(rest), *rest), True


def needs(narrow: bool) -> list[int]:
    """Cells that the keys of each column need, but for Enter, whose words are each page's own."""
    cells = [0] * COLUMNS
    for key in KEYS:
        if key.action not in (Action.GO_ON, *MOVES, *SIGHT, *LESSON):
            labels = (label_of(key.action, narrow), *map(say, key.elsewhere))
            column, widest = key.slot[1], max(map(width_of, labels))
            cells[column] = max(cells[column], width_of(f"{key.cap}  ") + widest)
    return cells


def key_lines(sheet: Sheet, width: int) -> list[Line]:
    """Two lines of keys, every key always at the same place."""
    columns, narrow = columns_of(width)
    grid: list[list[Span]] = [[], []]
    named = {action: label_of(action, narrow) for action in sheet.keys} | dict(sheet.named)
    shown = {action: sheet.go if action is Action.GO_ON else named[action] for action in sheet.keys}
    slots = {key_for(action).slot: action for action in shown}
    for row in range(2):
        for at in range(COLUMNS):
            size = columns[at]
            action = slots.get((row, at))
            if action is None:
                grid[row].append((" " * size, Ink.PLAIN))
                continue
            cap = key_for(action).cap
            strong = action in (Action.GO_ON, Action.SAFE)
            grid[row].append((cap, Ink.KEY))
            label = fit(f" {shown[action]}", size - width_of(cap) - 1) + " "
            grid[row].append((label, Ink.STRONG if strong else Ink.PLAIN))
    return [filled(tuple(spans), width) for spans in grid]
