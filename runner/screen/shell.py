"""Pages, keys and the run put together, still without a terminal: keys go in, intents come out, results go in.

The full screen and plain mode both drive this. An act counts only for what was on the screen: when something else
comes up, what was typed is gone and a fresh key is needed. While an intent is being kept, keys do nothing.
"""

from collections.abc import Callable, Iterator
from importlib import import_module
from typing import NamedTuple, Protocol, assert_never

from runner.engine.events import Event
from runner.engine.intents import AnyIntent, MakeSafe, Refusal
from runner.engine.moment import Moment
from runner.engine.state import RunState
from runner.procedure.model import Procedure
from runner.screen import guard as guards
from runner.screen import words
from runner.screen.blocks import Block, Sheet
from runner.screen.desk import (
    Back,
    Begin,
    Desk,
    Leave,
    Move,
    Open,
    Page,
    Reset,
    Send,
    Stay,
    Tell,
    ToLane,
    Turn,
    TurnTo,
)
from runner.screen.keys import MOVES, Action, action_of
from runner.screen.pages.base import base_page
from runner.screen.typed import Line
from runner.screen.view import hidden, veiled, view
from runner.screen.widgets.picture import WIDE, Picture, Shown, is_small, picture

OPENS: dict[Action, str] = {
    Action.HELP: "help",
    Action.UNEXPECTED: "unexpected",
    Action.PAUSE: "pause",
    Action.PLACES: "places",
    Action.WORKING: "working",
}
"""Keys that put a page on top, and the module whose `opened` makes it: loaded when it first comes up."""


class Kept(Protocol):
    """A line of the record."""

    @property
    def event(self) -> Event:
        """What happened."""


class Door(Protocol):
    """What the screen knows of a run: `runner.record.run.Run`, or its like in a test."""

    @property
    def procedure(self) -> Procedure:
        """Compiled, as pinned in the record."""

    @property
    def state(self) -> RunState:
        """As of the newest event."""

    @property
    def interrupted(self) -> bool:
        """True where a Resume intent is due."""

    @property
    def path(self) -> str:
        """Of the record."""

    @property
    def head(self) -> str:
        """The hash of the newest line."""

    @property
    def poisoned(self) -> str:
        """Why nothing more can be written; empty while all is well."""

    def submit(self, intent: AnyIntent) -> tuple[Event, ...] | Refusal:
        """What the intent led to, kept; or why it was not taken."""

    def now(self) -> Moment:
        """This moment."""

    def entries(self) -> Iterator[Kept]:
        """Everything that is kept. Raises OSError where the disk does not give it."""


DIGITS_S = 2.0  # digits that come within this time are one number


Starter = Callable[[tuple[tuple[str, str], ...], tuple[tuple[str, str], ...]], "Door | Refusal"]
"""Begins a run from (role, name) and (input, as typed)."""


class Idle(NamedTuple):
    """What pages are shown over where no run is open yet."""

    procedure: Procedure
    state: RunState
    dry: str = ""
    """What a dry run will be called."""


class Shell:
    """The pages that are open, the line that is typed, what was said last."""

    def __init__(
        self, now: Callable[[], Moment], page: Page, run: Door | None = None, idle: Idle | None = None
    ) -> None:
        self.now = now
        self.run = run
        self.idle = idle
        self.pages: list[Page] = [page]
        self.lane = 0
        self.typed = Line()
        self.message = ""
        self.abnormal = False
        self.scroll = 0
        self.size: tuple[int, int] = (80, 24)
        self.room = 16
        self.pending: Send | Begin | None = None
        self.left: Leave | None = None
        self.guard = guards.Guard()
        self.digits, self.digit_at = "", 0.0  # a number that picks a line, as typed so far
        self.subject = ""
        self.plain = False
        self.kept: Event | None = None
        self.settle()

    @classmethod
    def over(cls, run: Door) -> "Shell":
        """The shell of an open run."""
        desk = Desk(run.procedure, run.state, run.now(), interrupted=run.interrupted)
        shell = cls(run.now, base_page(desk), run)
        if run.interrupted or run.state.halted:
            shell.kept = last_act(run)
        return shell

    def desk(self) -> Desk:
        """What pages look at now."""
        run = self.run
        if run is not None:
            kept = _kept(run, self.kept) if self.kept is not None else ""
            return Desk(
                run.procedure, veiled(run.procedure, run.state), self.now(), self.lane, self.room, run.head, run.path,
                run.interrupted, self.plain, kept,
            )  # fmt: skip
        if self.idle is None:
            raise ValueError("a shell needs a run, or something to show without one")
        return Desk(self.idle.procedure, self.idle.state, self.now(), self.lane, self.room, plain=self.plain)

    def sheet(self) -> Sheet:
        """The page on top, as it is now."""
        return self.pages[-1].show(self.desk())

    def shown(self) -> Shown:
        """Everything that is on the screen."""
        desk = self.desk()
        seen = view(desk.procedure, desk.state, desk.now, self.lane) if self.run is not None else None
        side = _beside(desk) if seen is not None and self.size[0] >= WIDE else ()
        clock = f"{desk.now.utc[11:16]} UTC"
        dry = (seen.mode if seen.dry else "") if seen is not None else self.idle.dry if self.idle is not None else ""
        return Shown(
            self.pages[-1].show(desk), seen, clock, self.typed, self.message, self.abnormal, side, self.scroll, dry
        )  # fmt: skip

    def picture(self) -> Picture:
        """The screen at the present size."""
        drawn = picture(self.shown(), *self.size)
        if drawn.room and drawn.room != self.room:
            self.room = drawn.room
            drawn = picture(self.shown(), *self.size)
        self.scroll = drawn.scroll
        return drawn

    def key(self, name: str, character: str | None) -> "AnyIntent | Begin | None":
        """A key press; gives what is to be kept, if anything."""
        if self.pending is not None:
            return None
        at = self.now().tick
        sheet = self.sheet()
        action = action_of(name)
        if is_small(self.size) and action is not Action.SAFE:
            return None  # nothing acts that cannot be seen; stopping always does
        self.digits = self.digits if action is None else ""
        if action is None:
            self._typing(sheet, name, character, at)
            return None
        if action in MOVES:
            self.move(action)
            return None
        if action not in sheet.keys:
            return None
        if action in (Action.GO_ON, Action.RELEASE):
            given = action is Action.GO_ON and sheet.entry is not None and bool(self.typed.text)
            self.guard, why = guards.act(self.guard, name, at, given)
            if why:
                self.say(why)
                return None
            if action is Action.GO_ON and not given and self._reads_on():
                return None
        return self.act(action)

    def _typing(self, sheet: Sheet, name: str, character: str | None, at: float) -> None:
        if sheet.entry is not None:
            edited = self.typed.edit(name)
            if edited is not None:
                self.typed = edited
            elif character is not None and character.isprintable():
                self.guard, why = guards.letter(self.guard, at)
                if why:
                    self.typed = Line()
                    self.say(why)
                else:
                    self.typed = self.typed.add(character)
            return
        if character is None:
            return
        self.guard = guards.stray(self.guard, at)
        if character.isascii() and character.isdigit():
            together = self.digits if at - self.digit_at < DIGITS_S else ""
            self.digits, self.digit_at = (together + character)[-4:], at
            self.choose(int(self.digits))

    def _reads_on(self) -> bool:
        """Enter goes on to the rest of a text that has not been on the screen yet."""
        drawn = self.picture()
        if not drawn.reads_on:
            return False
        self.scroll += max(1, drawn.room - 2)
        self.guard = guards.screen_changed(self.guard, self.now().tick)
        return True

    def paste(self, text: str) -> None:
        """Text put in at once; it never acts, whatever it holds."""
        if self.pending is None and self.sheet().entry is not None:
            self.typed = self.typed.add(text)

    def act(self, action: Action, typed: str | None = None) -> "AnyIntent | Begin | None":
        """What an action of the table does on the page on top."""
        desk = self.desk()
        if action is Action.SAFE:
            if desk.state.halted == "make-safe":
                return self._moved(Reset(base_page(desk)))
            return self._moved(Send(MakeSafe(desk.person)))
        if action in OPENS:
            return self._moved(Open(_opened(OPENS[action], desk)))
        if action is Action.GO_ON:
            return self._moved(self.pages[-1].go(desk, self.typed.text if typed is None else typed))
        return self._moved(self.pages[-1].press(desk, action))

    def move(self, action: Action) -> None:
        """An arrow key: in the list of the page, else in its text."""
        move = self.pages[-1].press(self.desk(), action)
        if isinstance(move, Stay):
            far = max(1, self.room - 2) if action in (Action.PAGE_UP, Action.PAGE_DOWN) else 1
            self.scroll = max(0, self.scroll + (far if action in (Action.DOWN, Action.PAGE_DOWN) else -far))
            return
        self._moved(move)

    def choose(self, number: int) -> None:
        """A digit in a list."""
        self._moved(self.pages[-1].choose(self.desk(), number))

    def say(self, text: str, abnormal: bool = False) -> None:
        """Put something into the message line."""
        self.message, self.abnormal = text, abnormal

    def _moved(self, move: Move) -> "AnyIntent | Begin | None":
        match move:
            case Stay():
                return None
            case Tell():
                self.say(move.words)
                return None
            case Send():
                self.pending = move
                return move.intent
            case Begin():
                self.pending = move
                return move
            case Open():
                self.pages.append(move.page)
            case Turn():
                self.pages[-1] = move.page
                if move.words:
                    self.say(move.words, abnormal=True)
                    self.settle(keep=True)
                    return None
            case TurnTo():
                self.pages[-1] = _opened(move.name, self.desk())
            case Reset():
                self.pages = [move.page]
            case Back():
                if len(self.pages) > 1:
                    self.pages.pop()
            case ToLane():
                self.lane = move.lane
            case Leave():
                self.left = move
                return None
            case _:
                assert_never(move)
        self.settle()
        return None

    def took(self, result: "tuple[Event, ...] | Refusal") -> None:
        """What became of the intent that was given out."""
        sent, self.pending = self.pending, None
        if self.run is not None and self.run.poisoned:
            self.broken(self.run.poisoned)
            return
        if isinstance(result, Refusal):
            self.say(words.refused(result), abnormal=True)
            self.guard = guards.screen_changed(self.guard, self.now().tick)
            return
        self.kept = None
        self.say(*words.told(result))
        self.typed = Line()
        base = base_page(self.desk())
        send = sent if isinstance(sent, Send) else Send(MakeSafe(""))
        if send.after == "reset":
            self.pages = [send.then or base]
        elif type(base) is not type(self.pages[0]) or send.after == "home":
            self.pages = [base] if send.after != "home" or send.then is None else [base, send.then]
        elif send.after == "back":
            if len(self.pages) > 1:
                self.pages.pop()
        elif send.then is not None:
            self.pages[-1] = send.then
        self.settle(keep=True)

    def began(self, run: "Door | Refusal") -> None:
        """The run has begun, or why not."""
        self.pending = None
        if isinstance(run, Refusal):
            self.say(words.refused(run), abnormal=True)
            return
        self.run = run
        self.now = run.now
        self.message = ""
        self.pages = [base_page(self.desk())]
        self.settle()

    def settle(self, keep: bool = False) -> None:
        """After anything moved: where something else is up, nothing typed or pressed before counts for it."""
        sheet = self.sheet()
        subject = f"{sheet.page}/{sheet.subject}/{self.lane}/{len(self.pages)}"
        if subject != self.subject:
            self.subject = subject
            self.typed = Line()
            self.scroll = 0
            self.guard = guards.screen_changed(self.guard, self.now().tick)
            if not keep or sheet.secret:
                self.message = ""

    def broken(self, why: str) -> None:
        """Nothing more is accepted; the screen says why."""
        from runner.screen.pages.broken import BrokenPage

        self.pending = None
        self.pages = [BrokenPage(why)]
        self.settle()


def last_act(run: Door) -> Event | None:
    """The newest thing that somebody did, as it is on the disk; what followed by itself is left out."""
    last = None
    try:
        for entry in run.entries():
            if entry.event.by:
                last = entry.event
    except OSError:
        return None
    return last


def _kept(run: Door, event: Event) -> str:
    from runner.screen.kept import kept_words

    return kept_words(run.procedure, event, hidden(run.procedure, run.state))


def _beside(desk: Desk) -> tuple[Block, ...]:
    from runner.screen.beside import beside

    return beside(desk)


def _opened(name: str, desk: Desk) -> Page:
    page: Page = import_module(f"runner.screen.pages.{name}").opened(desk)
    return page
