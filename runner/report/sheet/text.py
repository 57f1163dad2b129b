"""A form as text: 80 columns, pages of 60 lines parted by form feeds, which leave a margin on A4 and on Letter.

Every page says on its own what it is of, which page of how many, and that it is an aid. A step stays on one page where
it fits on one; where it does not, it goes on at the top of the next and says so.
"""

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from rich.cells import cell_len

from runner.procedure.clean import clean
from runner.report.document import Heading, Listing, Note
from runner.report.formats.text import WIDTH, block_lines, hanging, wrapped
from runner.report.sheet.form import BLANK, NewPage, Sheet, SheetBlock, SignBox, StepForm

LINES = 60
"""Of a page, head and foot among them: Letter has 66 lines at 6 to the inch, A4 has 70."""
INSET = 7
"""Cells before all lines of a step but its first."""
AID = "An aid: no lockout, no interlock, no load limiter."
GOES_ON = "(goes on from the page before)"


LEAST = 8
"""Lines of what follows a heading that stand on its page, where not all of it fits."""


class Piece(NamedTuple):
    """Lines that stay together."""

    lines: list[str]
    first: bool = False
    """True where they begin a page."""
    leads: bool = False
    """True where they do not end a page: a heading, or a sentence under one."""


def render(sheet: Sheet) -> bytes:
    """UTF-8, no line over 80 cells, no control character but the line end and the form feed."""
    head = [*marked(sheet.mark), *wrapped(clean(sheet.title), WIDTH), "=" * WIDTH]
    foot = wrapped(clean(sheet.running), WIDTH)
    room = LINES - len(head) - len(foot) - 3
    pages = list(pages_of(list(pieces_of(sheet.blocks)), room))
    shown = []
    for number, body in enumerate(pages, start=1):
        blank = [""] * (room - len(body))
        count = f"page {number} of {len(pages)}"
        last = AID + count.rjust(WIDTH - len(AID))
        shown.append("\n".join(line.rstrip() for line in [*head, "", *body, *blank, "-" * WIDTH, *foot, last]) + "\n")
    return "\f".join(shown).encode()


def marked(mark: str) -> list[str]:
    """The mark across the page; nothing for no mark."""
    return [f"## {line} ".ljust(WIDTH, "#") for line in wrapped(clean(mark), WIDTH - 8)] if mark else []


def pieces_of(blocks: Sequence[SheetBlock]) -> Iterator[Piece]:
    """The blocks as lines."""
    first = leads = told = False
    for block in blocks:
        if isinstance(block, NewPage):
            first = True
            continue
        lines = step_lines(block) if isinstance(block, StepForm) else block_lines(block)
        # a sentence under a heading leads on, and so does a list that the sentence announces
        sentence = leads and isinstance(block, Note) and block.tone == "plain"
        leads = isinstance(block, Heading) or sentence or (told and isinstance(block, Listing))
        told = sentence
        yield Piece(lines, first, leads)
        first = False


def pages_of(pieces: list[Piece], room: int) -> Iterator[list[str]]:
    """Pages of at most `room` lines; a blank line between pieces."""
    page: list[str] = []
    for at, piece in enumerate(pieces):
        lines = piece.lines
        wanted = wanted_with(pieces, at, room)
        gap = 1 if page else 0
        fits = len(page) + gap + wanted <= room
        if page and (piece.first or (not fits and (len(lines) <= room or piece.leads or len(page) > room - 8))):
            yield page
            page, gap = [], 0
        page = [*page, *([""] * gap), *lines]
        while len(page) > room:
            cut = cut_at(page, room)
            yield page[:cut]
            page = [GOES_ON, "", *page[cut:]]
    if page:
        yield page


def wanted_with(pieces: list[Piece], at: int, room: int) -> int:
    """Lines of a piece with what it leads to."""
    wanted = len(pieces[at].lines)
    while pieces[at].leads and at + 1 < len(pieces):
        at += 1
        length = len(pieces[at].lines)
        wanted += 1 + (length if pieces[at].leads or length <= room else LEAST)
    return wanted


def cut_at(page: list[str], room: int) -> int:
    """Where a page that is too long is cut: at its last blank line, else where it is full."""
    blank = next((at for at in range(room, room // 2, -1) if not page[at - 1].strip()), room)
    return max(3, blank)


def step_lines(step: StepForm) -> list[str]:
    """The lines of a step, in the order of reading."""
    start = f"{'>>' if step.here else ''}{step.number}"
    lines = [rule(step), *inset(f"{start:<{INSET - 1}} ", step.who, " " * INSET)]
    if step.here:
        lines += under("HERE: this step is up.")
    lines += [line for text in (step.status, *step.stops) if text for line in under(text)]
    for caution in step.cautions:
        signal = caution.signal.upper()
        lines += inset(f"{'':<{INSET}}/!\\ {signal:<8} ", " ".join(caution.words), " " * (INSET + 13))
    if step.before:
        lines += [*under("Look first:"), *(line for text in step.before for line in under(text, 2))]
    if step.hold is not None:
        lines += ["", *under(f"HOLD: {step.hold.who} looks, ticks and signs before this step begins.")]
        if step.hold.protects:
            lines += under(f"It relies on: {step.hold.protects}", 2)
        lines += [line for point in step.hold.points for line in under(f"[ ] {point}", 2)]
    if step.applies:
        lines += [line for text in step.applies for line in under(text)]
    lines += ["", *inset(f"{'':<{INSET}}> ", step.act, " " * (INSET + 2))]
    if step.why:
        lines += under(f"({step.why})", 2)
    for ask in step.asks:
        lines += [*under(ask[0], 2), *(line for text in ask[1:] for line in under(text, 4))]
    if step.after:
        lines += [*under("Then:"), *(line for text in step.after for line in under(text, 2))]
    if step.troubles:
        lines += under("Not as expected:")
        for trouble in step.troubles:
            lines += under(f"* {trouble.sign}", 2)
            lines += under(f"-> {trouble.do} ({trouble.way_on})", 4)
    if step.signs:
        lines += ["", *(line for sign in step.signs for line in sign_lines(sign))]
    return lines


def rule(step: StepForm) -> str:
    """The line above a step; the place is marked across the page."""
    return (">" if step.here else "-") * WIDTH


def sign_lines(sign: SignBox) -> list[str]:
    """Who, then time and initials on the right."""
    right = f"time {sign.time or BLANK}  initials {sign.initials or BLANK}"
    left = f"{'':<{INSET}}{clean(sign.what)}"
    right = clean(right)
    if cell_len(left) + 2 + cell_len(right) <= WIDTH:
        return [left + " " * (WIDTH - cell_len(left) - cell_len(right)) + right]
    return [*under(sign.what), *inset(f"{'':<{INSET}}  ", right, " " * (INSET + 2))]


def under(text: str, more: int = 0) -> list[str]:
    """A text under a step's number; where it goes on it is set in by two more."""
    start = " " * (INSET + more)
    return inset(start, text, start + "  ")


def inset(start: str, text: str, indent: str) -> list[str]:
    """A text behind a start of our own, cleaned."""
    return hanging(clean(start), clean(text), WIDTH, indent)
