"""Pages, keys and the run put together, still without a terminal: keys go in, intents come out, results go in.

The full screen and plain mode both drive this. An act counts only for what was on the screen: when something else
comes up, what was typed is gone and a fresh key is needed. While an intent is being kept, keys do nothing.
"""

from collections.abc import Callable
from typing import assert_never

from runner.engine.events import Event
from runner.engine.intents import MakeSafe, Refusal, Wanted, WithPin
from runner.engine.moment import Moment
from runner.say.text import say
from runner.screen import guard as guards
from runner.screen import later, words
from runner.screen.blocks import Rows, Sheet
from runner.screen.desk import Back, Begin, Desk, Leave, Move, Open, Page, Reset, Send, Stay, Tell, ToLane, Turn, TurnTo
from runner.screen.door import Door, Idle, last_act, lost_of
from runner.screen.keys import MOVES, SIGHT, Action, action_of
from runner.screen.pages.base import base_page
from runner.screen.pages.pin import PinPage, asks_pin
from runner.screen.practice import dry_words, has_gone_dark, practice_of, sheet_of
from runner.screen.typed import Line
from runner.screen.view import veiled, view
from runner.screen.widgets.picture import WIDE, Picture, Shown, is_small, picture

OPENS: dict[Action, str] = {
    Action.HELP: "help",
    Action.UNEXPECTED: "unexpected",
    Action.PAUSE: "pause",
    Action.PLACES: "places",
    Action.WORKING: "working",
    Action.HINT: "hint",
    Action.COACH: "coach",
}
"""Keys that put a page on top, and the module whose `opened` makes it: loaded when it first comes up."""


DIGITS_S = 2.0  # digits that come within this time are one number


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
        self.before: tuple[float, Page] | None = None  # when the newest train of characters began, and over what
        self.digits, self.digit_at = "", 0.0  # a number that picks a line, as typed so far
        self.waits: tuple[str, float] | None = None  # a digit that takes its line when it stays quiet
        self.subject = ""
        self.plain = False
        self.far = False
        self.ascii = False
        self.kept: Event | None = None
        self.seen: tuple[tuple[object, ...], Picture] | None = None  # the newest picture and what it hung on
        self.settle()

    @classmethod
    def over(cls, run: Door) -> "Shell":
        """The shell of an open run."""
        desk = Desk(run.procedure, run.state, run.now(), interrupted=run.interrupted, practice=practice_of(run))
        shell = cls(run.now, base_page(desk), run)
        if run.interrupted or run.state.halted:
            shell.kept = last_act(run)
        return shell

    def desk(self) -> Desk:
        """What pages look at now."""
        run = self.run
        if run is not None:
            kept = later.kept_act(run, self.kept) if self.kept is not None else ""
            return Desk(
                run.procedure, veiled(run.procedure, run.state), self.now(), self.lane, self.room, run.head, run.path,
                run.interrupted, self.plain, kept, lost_of(run), practice=practice_of(run),
            )  # fmt: skip
        if self.idle is None:
            raise ValueError("a shell needs a run, or something to show without one")
        return Desk(self.idle.procedure, self.idle.state, self.now(), self.lane, self.room, plain=self.plain,
                    typed=self.typed.text)  # fmt: skip

    def sheet(self) -> Sheet:
        """The page on top, as it is now."""
        return sheet_of(self.pages[-1], self.desk())

    def shown(self) -> Shown:
        """Everything that is on the screen."""
        desk = self.desk()
        seen = view(desk.procedure, desk.state, desk.now, self.lane) if self.run is not None else None
        wide = seen is not None and self.size[0] >= WIDE
        side, aside = later.beside_page(desk) if wide else ((), ())
        clock = f"{desk.now.utc[11:16]} UTC"
        dry = self.idle.dry if self.idle is not None else ""
        if seen is not None:
            dry = dry_words(desk, seen.mode) if seen.dry else ""
        return Shown(
            sheet_of(self.pages[-1], desk), seen, clock, self.typed, self.message, self.abnormal, side, self.scroll, dry,
            self.ascii, aside, later.far_view(desk, seen) if self.far and seen is not None else None,
        )  # fmt: skip

    def picture(self) -> Picture:
        """The screen at the present size."""
        drawn = picture(self.shown(), *self.size)
        if drawn.room and drawn.room != self.room:
            self.room = drawn.room
            drawn = picture(self.shown(), *self.size)
        self.scroll = drawn.scroll
        self.seen = self._stand(), drawn
        return drawn

    def _stand(self) -> tuple[object, ...]:
        """What a picture hangs on, time aside."""
        state = self.run.state if self.run is not None else None
        return state, self.pages[-1], self.lane, self.typed, self.message, self.scroll, self.size

    def key(self, name: str, character: str | None) -> "Wanted | Begin | None":
        """A key press; gives what is to be kept, if anything."""
        if self.pending is not None:
            return None
        at = self.now().tick
        sheet = self.sheet()
        action, self.waits = action_of(name), None
        if self.far:
            self.far = False
            self.guard = guards.left_view(self.guard, at)
            if action is not Action.SAFE:
                return None  # a key counts for what was on the screen, and that was only looked at
        if is_small(self.size) and action is not Action.SAFE:
            return None  # nothing acts that cannot be seen; stopping always does
        picked = bool(self.digits) and any(
            isinstance(b, Rows) and b.numbered and b.cursor is not None for b in sheet.blocks
        )
        self.digits = self.digits if action is None else ""
        if action is None:
            self._typing(sheet, name, character, at)
            return None
        if action not in (Action.GO_ON, Action.RELEASE, Action.SAFE):
            self.guard, why = guards.other(self.guard, at)
            if why:
                self._burst(why)
                return None
        if action in MOVES:
            self.move(action)
            return None
        if action in SIGHT:
            self.far = action is Action.FAR and self.run is not None
            return None
        if action not in sheet.answers:
            if guards.behind(self.guard, at):
                self._burst(guards.BURST)
            return None
        if action in (Action.GO_ON, Action.RELEASE):
            given = action is Action.GO_ON and sheet.entry is not None and bool(self.typed.text)
            end = guards.behind(self.guard, at)
            self.guard, why = guards.act(self.guard, name, at, given, picked)
            if why:
                if end:
                    self.typed = Line()
                    self._burst(why)
                self.say(say(why))
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
                    self.say(say(why))
                else:
                    self.typed = self.typed.add(character)
            return
        if character is None:
            return
        before, self.guard = self.guard, guards.stray(self.guard, at)
        if self.guard.quick == 1:
            self.before = at, self.pages[-1]
        if guards.scanned(self.guard):
            self._burst(guards.BURST)
        elif sheet.quick:
            _, why = guards.digit(before, character, at)
            lines = max(len(block.rows) for block in sheet.blocks if isinstance(block, Rows) and block.numbered)
            if why:
                self.say(say(why))
            elif character.isascii() and character.isdigit() and 1 <= int(character) <= lines:
                self.waits = character, at
        elif character.isascii() and character.isdigit():
            together = self.digits if at - self.digit_at < DIGITS_S else ""
            self.digits, self.digit_at = (together + character)[-4:], at
            self.choose(int(self.digits))

    def due(self) -> "Wanted | Begin | None":
        """Takes the line of a digit behind which it has stayed quiet; the rim calls this `guard.QUIET_S` after the key."""
        at = self.now().tick
        if self.waits is None or self.pending is not None or at - self.waits[1] < guards.QUIET_S:
            return None
        (digit, _), self.waits = self.waits, None
        self.guard = self.guard._replace(acted=at, acted_key=digit)
        self.choose(int(digit))
        return self.act(Action.GO_ON, "")

    def _burst(self, why: str) -> None:
        """Digits that turn out to be a barcode reader's have picked nothing: the page is as it was before them."""
        self.digits = ""
        if self.before is not None and self.before[0] == self.guard.first:
            self.pages[-1] = self.before[1]
        self.before = None
        self.say(say(why))

    def _reads_on(self) -> bool:
        """Enter goes on to the rest of a text that has not been on the screen yet."""
        drawn = self.seen[1] if self.seen is not None and later.same(self.seen[0], self._stand()) else self.picture()
        if not drawn.reads_on:
            return False
        self.scroll += max(1, drawn.room - 2)
        self.guard = guards.screen_changed(self.guard, self.now().tick)
        return True

    def paste(self, text: str) -> None:
        """Text put in at once; it never acts, whatever it holds."""
        if self.far:
            self.far = False
        elif self.pending is None and self.sheet().entry is not None:
            self.typed = self.typed.add(text)

    def act(self, action: Action, typed: str | None = None) -> "Wanted | Begin | None":
        """What an action of the table does on the page on top."""
        desk = self.desk()
        self.far, self.waits = False, None
        if action is Action.SAFE:
            if desk.state.halted == "make-safe":
                return self._moved(self.pages[-1].go(desk, "") if desk.lost else Reset(base_page(desk)))
            return self._moved(Send(MakeSafe(desk.person)))
        if action in OPENS:
            return self._moved(Open(later.opened(OPENS[action], desk)))
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

    def _moved(self, move: Move) -> "Wanted | Begin | None":
        match move:
            case Stay():
                return None
            case Tell():
                if self.sheet().page != "home":  # what is searched for there is typed further
                    self._not_taken()
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
                    self._not_taken()
                    self.say(move.words, abnormal=True)
                    self.settle(keep=True)
                    return None
            case TurnTo():
                self.pages[-1] = later.opened(move.name, self.desk())
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
        if isinstance(sent, Send) and isinstance(sent.intent, WithPin):
            self.typed = Line()
        if isinstance(result, Refusal):
            asked = asks_pin(sent, result)
            if asked is not None:
                self._without_pin_page()
                self.pages.append(asked)
                self.settle()
                return
            self.say(words.refused(result), abnormal=True)
            self._not_taken()
            if result.kept:
                self.typed = Line()  # the person who may not is on record; another begins with an empty line
            self.guard = guards.screen_changed(self.guard, self.now().tick)
            return
        self._without_pin_page()
        self.left = Leave() if has_gone_dark(self.run) else self.left
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

    def _not_taken(self) -> None:
        """What was typed stays in sight; what is typed next takes its place."""
        self.typed = self.typed._replace(refused=bool(self.typed.text))

    def _without_pin_page(self) -> None:
        if len(self.pages) > 1 and isinstance(self.pages[-1], PinPage):
            self.pages.pop()

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
            self.typed, self.waits = Line(), None
            self.scroll = 0
            self.guard = guards.screen_changed(self.guard, self.now().tick)
            if not keep or sheet.secret:
                self.message = ""

    def broken(self, why: str) -> None:
        """Nothing more is accepted; the screen says why."""
        from runner.screen.pages.broken import BrokenPage

        self.pending, self.far = None, False
        self.pages = [BrokenPage(why)]
        self.settle()
