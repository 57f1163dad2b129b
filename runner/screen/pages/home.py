"""The home page: unfinished runs, exceptions that are still open, procedures with revision and status, dry runs, records.

What is typed searches all of them, older records too, by any words of a line: title, id, job, date, person. Nothing is
chosen beforehand; where one line is left, Enter takes it. Only the lines in sight are made, however many records there are.
"""

from dataclasses import dataclass, replace
from itertools import groupby
from typing import NamedTuple

from runner.formula.scope import Scope
from runner.procedure.model import Procedure
from runner.say.text import mark, say, say_n
from runner.screen import words
from runner.screen.blocks import Block, Entry, Gap, Heading, Ink, Row, Rows, Say, Sheet
from runner.screen.desk import Desk, Leave, Move, Page, Tell, Turn, moved
from runner.screen.keys import Action


class HomeLine(NamedTuple):
    """One thing to pick."""

    path: str
    """Empty where there is nothing to open."""
    words: str
    """Title, revision and status of a procedure; title, place, time and people of a run; words of an exception."""
    find: str = ""
    """What a search finds it by beside its words."""


class Listing(NamedTuple):
    """What there is."""

    unfinished: tuple[HomeLine, ...] = ()
    procedures: tuple[HomeLine, ...] = ()
    recent: tuple[HomeLine, ...] = ()
    """All records that have ended, the newest first."""
    still_open: tuple[HomeLine, ...] = ()
    """Exceptions that follow their press."""
    practice: tuple[HomeLine, ...] = ()
    """Scenarios, each a dry run with no press."""


RESUME, RUN, REPORT, PRACTISE = mark("resume"), mark("run"), mark("report"), mark("dry-run")
"""What Enter does with a line, as `Leave.choice` names it; looked up where it is shown."""

NEWEST = 12
"""Records that are listed while nothing is searched for."""
SOME = 5
"""Unfinished runs, exceptions and scenarios that are listed while nothing is searched for; how many more there are is said."""
PLAIN_LINES = 20
"""Lines that are listed at a time in plain mode."""

NO_PROCEDURE = Procedure(
    id="", title="", revision=0, status="", equipment="", purpose="", changes=(), approval=None, people=(), tools=(),
    cautions=(), inputs=(), racks=(), states=(), calculations=(), scope=Scope({}, {}), make_safe=(), phases=(),
    digest="", sources=(),
)  # fmt: skip
"""What pages that look at no procedure are shown over."""


class Found(NamedTuple):
    """A line that is listed."""

    part: str
    what: str
    line: HomeLine
    ink: Ink = Ink.PLAIN


@dataclass(frozen=True, slots=True)
class HomePage(Page):
    """The chosen line, and what it was chosen under."""

    listing: Listing
    cursor: int | None = None
    about: str = ""
    """The search under which `cursor` was chosen; it counts for no other."""
    query: str = ""
    """In plain mode, where lines come one at a time: what was searched for last."""
    cleared: int = 0
    """How often a search was taken back, so that what was typed goes with it."""

    def show(self, desk: Desk) -> Sheet:
        """The lines that fit the search, in parts, as many as there is room for."""
        query = self._query(desk)
        found = self._found(query)
        cursor = self._cursor(query, found)
        blocks = list(self._listed(desk, found, cursor))
        if not found:
            blocks.append(Say(self._nothing(query)))
        more = self._left_out(query) + max(
            0, len(found) - _room(desk, self.listing) - _first(desk, self.listing, found, cursor)
        )
        if more:
            told = say_n("{n} more: type to search, or go down", "{n} more: type to search, or go down", more)
            blocks.append(Say(told, ink=Ink.QUIET))
        question = say("Search, or the number of a line") if desk.plain else say("Search")
        entry = Entry(question, limits=say("title, id, job, date, person"), free=True)
        spare = (Gap(), Say(say(words.AID), ink=Ink.QUIET))
        title = say("Changeover") if not query else say_n("Changeover: {n} line", "Changeover: {n} lines", len(found))
        return Sheet(
            "home", title, tuple(blocks), say("open it"), entry=entry, subject=f"home/{self.cleared}", spare=spare
        )

    def _query(self, desk: Desk) -> str:
        return self.query if desk.plain else desk.typed.strip()

    def _cursor(self, query: str, found: tuple[Found, ...]) -> int | None:
        """The chosen line; the only one where a search leaves one."""
        if query and len(found) == 1:
            return 0
        kept = self.cursor if self.about == query else None
        return kept if kept is not None and kept < len(found) else None

    def _found(self, query: str) -> tuple[Found, ...]:
        whole = self.listing
        open_ = tuple(
            Found(say("Still open at the press (times UTC)"), REPORT, line, Ink.ABNORMAL) for line in whole.still_open
        )
        runs = tuple(Found(say("Unfinished runs (times UTC)"), RESUME, line, Ink.ABNORMAL) for line in whole.unfinished)
        procedures = tuple(Found(say("Procedures"), RUN, line) for line in whole.procedures)
        practice = tuple(Found(say("Dry runs, with no press"), PRACTISE, line) for line in whole.practice)
        if not query:
            recent = tuple(Found(say("Records (times UTC)"), REPORT, line) for line in whole.recent[:NEWEST])
            return (*runs[:SOME], *open_[:SOME], *procedures, *practice[:SOME], *recent)
        wanted = query.casefold().split()
        recent = tuple(Found(say("Records (times UTC)"), REPORT, line) for line in whole.recent if fits(line, wanted))
        return (*(one for one in (*runs, *open_, *procedures, *practice) if fits(one.line, wanted)), *recent)

    def _listed(self, desk: Desk, found: tuple[Found, ...], cursor: int | None) -> tuple[Block, ...]:
        """Headings and rows around the chosen line."""
        room, first = _room(desk, self.listing), _first(desk, self.listing, found, cursor)
        blocks: list[Block] = []
        at = first
        for part, group in groupby(found[first : first + room], key=lambda one: one.part):
            lines = tuple(group)
            rows = tuple(
                Row(f"{place + 1 if desk.plain else ''} {one.line.words}".strip(), ink=one.ink, cut=not desk.plain)
                for place, one in enumerate(lines, start=at)
            )
            here = cursor - at if cursor is not None and at <= cursor < at + len(lines) else None
            blocks += [Heading(part), Rows(rows, here)]
            at += len(lines)
        return tuple(blocks)

    def _left_out(self, query: str) -> int:
        """Lines that only a search shows."""
        if query:
            return 0
        whole = self.listing
        return sum(max(0, len(lines) - shown) for lines, shown in (
            (whole.recent, NEWEST), (whole.unfinished, SOME), (whole.still_open, SOME),
            (whole.practice, SOME),
        ))  # fmt: skip

    def _nothing(self, query: str) -> str:
        if query:
            return say("Nothing fits {query}.", query=query)
        return say("No procedures here. `changeover --procedures DIR` looks in another folder.")

    def go(self, desk: Desk, typed: str) -> Move:
        """Take the chosen line; in plain mode the line of that number, else search for what was typed."""
        text = typed.strip()
        if desk.plain:
            found = self._found(self.query)
            if text.isascii() and text.isdigit() and 1 <= int(text[:6]) <= min(len(found), PLAIN_LINES):
                return _taken(found[int(text[:6]) - 1])
            return Turn(replace(self, query=text))
        found = self._found(self._query(desk))
        cursor = self._cursor(self._query(desk), found)
        return _taken(found[cursor]) if cursor is not None else Tell(say(PICK_HERE))

    def press(self, desk: Desk, action: Action) -> Move:
        """Arrows choose; Esc takes the search back, then leaves the program."""
        query = self._query(desk)
        if action is Action.BACK:
            return Turn(replace(self, query="", cursor=None, cleared=self.cleared + 1)) if query else Leave()
        found = self._found(query)
        cursor = moved(self._cursor(query, found), action, len(found), _room(desk, self.listing))
        return Turn(replace(self, cursor=cursor, about=query))


def _room(desk: Desk, listing: Listing) -> int:
    """Lines that are listed at a time, beside the headings."""
    return PLAIN_LINES if desk.plain else max(4, desk.room - 5 - bool(listing.practice))


def _first(desk: Desk, listing: Listing, found: tuple[Found, ...], cursor: int | None) -> int:
    """The first line that is listed, so that the chosen one is in sight."""
    room = _room(desk, listing)
    return max(0, min((cursor or 0) - room // 2, len(found) - room))


PICK_HERE = mark("Choose a line with the arrows, or type to search, then Enter.")


def fits(line: HomeLine, wanted: list[str]) -> bool:
    """True where every word that was typed stands in the line or beside it."""
    text = f"{line.words} {line.find}".casefold()
    return all(word in text for word in wanted)


def _taken(found: Found) -> Move:
    if not found.line.path:
        return Tell(say("It is read at the start of the next run at this press, and closed there."))
    return Leave((found.what, found.line.path))
