"""The home page: unfinished runs first, then procedures with revision and status, then the newest records."""

# ruff: noqa: ARG002 - every page answers the same calls, whether or not it needs all that comes with them

from dataclasses import dataclass, replace
from typing import NamedTuple

from runner.formula.scope import Scope
from runner.procedure.model import Procedure
from runner.screen import words
from runner.screen.blocks import Block, Gap, Ink, Row, Rows, Say, Sheet
from runner.screen.desk import Desk, Leave, Move, Page, Tell, Turn, moved, numbered
from runner.screen.keys import Action


class HomeLine(NamedTuple):
    """One thing to pick."""

    path: str
    words: str
    """Title, revision and status of a procedure; run, procedure and place of a record."""


class Listing(NamedTuple):
    """What there is."""

    unfinished: tuple[HomeLine, ...] = ()
    procedures: tuple[HomeLine, ...] = ()
    recent: tuple[HomeLine, ...] = ()


NO_PROCEDURE = Procedure(
    id="", title="", revision=0, status="", equipment="", purpose="", changes=(), approval=None, people=(), tools=(),
    cautions=(), inputs=(), racks=(), states=(), calculations=(), scope=Scope({}, {}), make_safe=(), phases=(),
    digest="", sources=(),
)  # fmt: skip
"""What pages that look at no procedure are shown over."""


@dataclass(frozen=True, slots=True)
class HomePage(Page):
    """The chosen line."""

    listing: Listing
    cursor: int | None = None

    def show(self, desk: Desk) -> Sheet:
        """The three lists as one, each line with what Enter would do."""
        rows = tuple(
            Row(line.words, word={"resume": "resume", "run": "run", "report": "report"}[what],
                ink=Ink.ABNORMAL if what == "resume" else Ink.PLAIN)
            for what, line in self._lines()
        )  # fmt: skip
        blocks: list[Block] = [Say(words.AID, ink=Ink.QUIET), Gap()]
        if rows:
            blocks.append(Rows(rows, self.cursor, numbered=True))
        else:
            blocks.append(Say("No procedures here. `changeover --procedures DIR` looks in another folder."))
        return Sheet("home", "Changeover", tuple(blocks), "open it", subject="home")

    def _lines(self) -> tuple[tuple[str, HomeLine], ...]:
        return (
            *(("resume", line) for line in self.listing.unfinished),
            *(("run", line) for line in self.listing.procedures),
            *(("report", line) for line in self.listing.recent),
        )

    def go(self, desk: Desk, typed: str) -> Move:
        """Take the chosen line."""
        lines = self._lines()
        if self.cursor is None:
            return Tell(words.PICK)
        what, line = lines[self.cursor]
        return Leave((what, line.path))

    def press(self, desk: Desk, action: Action) -> Move:
        """Arrows choose; Esc leaves the program."""
        if action is Action.BACK:
            return Leave()
        return Turn(replace(self, cursor=moved(self.cursor, action, len(self._lines()), desk.room)))

    def choose(self, desk: Desk, number: int) -> Move:
        """A digit chooses."""
        return Turn(replace(self, cursor=numbered(number, len(self._lines()))))
