"""The full screen: a thin rim around `Shell`. Keys go in, lines come out, intents are kept in a thread of their own.

While an intent is on its way to the disk, keys wait; after 0.3 s the screen says so. Nothing shows as accepted before
it is kept. Only this file, the canvas, the signals and what tames pastes know Textual.
"""

import asyncio
import gc
import sys
from collections.abc import Callable
from contextlib import suppress
from typing import TYPE_CHECKING, ClassVar, NamedTuple

from rich.text import Text
from textual import events as keys
from textual.app import App, ComposeResult
from textual.binding import Binding, BindingType

from runner.engine import flow
from runner.engine.events import Event
from runner.engine.intents import Refusal, Wanted
from runner.engine.moment import Moment
from runner.engine.state import RunState
from runner.procedure.clean import clean
from runner.procedure.model import Procedure
from runner.say.text import say
from runner.screen import words
from runner.screen.desk import Begin, Page
from runner.screen.door import Door, Idle, Starter, shared
from runner.screen.elsewhere import changed, follow, follow_own
from runner.screen.guard import QUIET_S
from runner.screen.keys import Action, action_of
from runner.screen.looks import Looks
from runner.screen.mode import DRY
from runner.screen.palette import PALETTES, USUAL, after
from runner.screen.pasting import tame_pastes
from runner.screen.shell import Shell
from runner.screen.signals import take_signals
from runner.screen.widgets.canvas import Canvas

if TYPE_CHECKING:
    from runner.screen.pages.home import Listing

SAVING_S = 0.3
TICK_S = 1.0
"""The clock and waiting times are drawn anew this often."""


PLAINLY = Looks()


class Left(NamedTuple):
    """How the screen was left."""

    outcome: str
    """finished, abandoned or open; empty where no run was begun."""
    choice: tuple[str, str] = ("", "")
    """From the home page: run, resume or report, and the path; empty where nothing was picked."""
    signal_code: int = 0
    """128 + n where a signal ended it."""
    palette: str = ""
    """The palette that was on the screen last."""


class Terminal(App[None]):
    """The program on the terminal."""

    CSS_PATH = "screen.tcss"
    ENABLE_COMMAND_PALETTE = False
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("ctrl+q", "interrupt", show=False, priority=True),
        Binding("ctrl+c", "interrupt", show=False, priority=True),
    ]

    def __init__(self, shell: Shell, starter: Starter | None = None, looks: Looks = PLAINLY) -> None:
        self.looks = looks if looks.palette in PALETTES else looks._replace(palette=USUAL)
        tame_pastes()
        super().__init__(ansi_color=self.looks.palette == "mono")
        self.shell = shell
        self.starter = starter
        self.shell.ascii = looks.ascii
        self.canvas = Canvas(PALETTES[self.looks.palette])
        self.left = Left("")
        self.saving = False
        self.late: asyncio.TimerHandle | None = None
        self.behind = False

    def compose(self) -> ComposeResult:
        """One surface."""
        yield self.canvas

    def on_mount(self) -> None:
        """Take the keys and the signals."""
        self.canvas.focus()
        self.set_interval(TICK_S, self.draw)
        self.call_after_refresh(collect_again)
        self.watch_others()
        if not self.is_headless:
            take_signals(asyncio.get_running_loop(), self.leave_by_signal)

    def watch_others(self) -> None:
        """Be told what other terminals on the same run do."""
        run, loop = shared(self.shell.run), asyncio.get_running_loop()

        def came(words: str, events: tuple[Event, ...]) -> None:
            self.behind = True
            with suppress(RuntimeError):  # the screen has been left meanwhile
                loop.call_soon_threadsafe(self.elsewhere, words, events)

        if run is not None:
            run.watch(came)

    def elsewhere(self, words: str, events: tuple[Event, ...]) -> None:
        """Something was done at another terminal."""
        self.behind = False
        changed(self.shell, words, events)
        self.draw()

    def on_resize(self, event: keys.Resize) -> None:
        """The terminal has another size."""
        self.shell.size = (event.size.width, event.size.height)
        self.draw()

    def on_key(self, event: keys.Key) -> None:
        """A key; what it asks to keep is kept off the loop."""
        event.stop()
        event.prevent_default()
        if self.behind:  # what was done elsewhere is not on the screen yet: the key may not count for it
            self.behind = False
            follow(self.shell)
        wanted = self.shell.key(event.key, event.character)
        if action_of(event.key) is Action.LOOK:
            self.dress()
        self.follow(wanted)
        if self.shell.waits is not None:
            self.set_timer(QUIET_S + 0.02, self.due)

    def due(self) -> None:
        """A digit has stayed quiet; behind keys that are on their way it has not."""
        self.call_later(lambda: self.call_later(self.take_due))

    def take_due(self) -> None:
        """It takes its line."""
        if self.shell.waits is None:
            return
        if self.behind:
            self.behind = False
            follow(self.shell)
        self.follow(self.shell.due())

    def dress(self) -> None:
        """The next palette, kept for the next time; nothing of the run is touched."""
        name = "mono" if self.looks.colourless else after(self.looks.palette)
        self.looks = self.looks._replace(palette=name)
        self.ansi_color = name == "mono"
        self.canvas.dress(PALETTES[name])
        if self.looks.colourless:
            self.shell.say(say(words.COLOURLESS))
        else:
            self.shell.say(say(words.LOOKS, name=name))
            self.run_worker(asyncio.to_thread(self.looks.keep, name), exit_on_error=False)

    def on_paste(self, event: keys.Paste) -> None:
        """Text put in at once."""
        event.stop()
        self.shell.paste(event.text)
        self.draw()

    def action_interrupt(self) -> None:
        """Ctrl+Q and Ctrl+C: the pause page of a run, else out."""
        if self.shell.pending is not None:
            return
        run = self.shell.run
        if run is None or run.state.outcome or run.poisoned:
            self.leave()
        else:
            self.follow(self.shell.act(Action.PAUSE))

    def follow(self, wanted: Wanted | Begin | None) -> None:
        """After a key: keep what it wants, or draw what it changed."""
        if self.shell.left is not None:
            self.leave()
        elif wanted is None:
            self.draw()
        else:
            self.saving = True
            self.late = asyncio.get_running_loop().call_later(SAVING_S, self.say_saving)  # no task for each key
            self.run_worker(self.keep(wanted), exit_on_error=False)

    async def keep(self, wanted: Wanted | Begin) -> None:
        """Submit off the loop; what comes back moves the pages."""
        try:
            if isinstance(wanted, Begin):
                await self.begin(wanted)
            elif self.shell.run is not None:
                self.shell.took(await asyncio.to_thread(self.shell.run.submit, wanted))
                follow_own(self.shell)
        except Exception as fault:
            self.shell.broken(say("a fault of this program: {kind}: {fault}", kind=type(fault).__name__, fault=fault))
        self.saving = False
        if self.late is not None:
            self.late.cancel()
        if self.shell.left is not None:
            self.leave()
        self.draw()

    async def begin(self, wanted: Begin) -> None:
        """Begin the run."""
        if self.starter is None:
            self.shell.began(Refusal(say("There is nothing to begin here.")))
            return
        self.shell.began(await asyncio.to_thread(self.starter, wanted.crew, wanted.inputs))
        self.watch_others()

    def say_saving(self) -> None:
        """It takes longer than usual."""
        if self.saving:
            self.shell.say(say(words.SAVING))
            self.draw()

    def draw(self) -> None:
        """Put the picture on the surface; only changed lines go out."""
        self.canvas.put(self.shell.picture().lines)

    def leave(self) -> None:
        """Out, with what was picked or how the run stands."""
        choice = self.shell.left.choice if self.shell.left is not None else ("", "")
        self.left = Left(outcome_of(self.shell.run), choice, palette=self.looks.palette)
        self.exit()

    def panic(self, *_: object) -> None:
        """A fault of this program leaves the screen, and is told in one line: a traceback would show what is in memory."""
        fault = self._exception or sys.exception()
        told = say("a fault of this program: {kind}: {fault}", kind=type(fault).__name__, fault=fault)
        self.left = Left(outcome_of(self.shell.run), palette=self.looks.palette)
        self._exit_renderables[:] = [Text(clean(f"changeover: {told}"))]
        self._close_messages_no_wait()

    _fatal_error = panic

    def leave_by_signal(self, code: int) -> None:
        """Out at once; the record needs nothing more."""
        self.left = Left(outcome_of(self.shell.run), signal_code=code)
        self.exit(return_code=code)


def collect_again() -> None:
    """The command line holds off garbage collection until the first paint; what was loaded by then is never garbage."""
    gc.freeze()
    gc.enable()


def outcome_of(run: Door | None) -> str:
    """finished, abandoned, open, or empty where there is no run."""
    return "" if run is None else run.state.outcome or "open"


def run_app(run: Door, looks: Looks = PLAINLY, lane: int = 0, first: Page | None = None) -> Left:
    """Lead a person through an open run; gives how it was left. `lane` is the list shown first where there are several,
    `first` a page that lies on top at the beginning."""
    shell = Shell.over(run)
    shell.lane = lane
    if first is not None:
        shell.pages.append(first)
        shell.settle()
    app = Terminal(shell, looks=looks)
    app.run()
    return app.left


def run_start(
    procedure: Procedure, mode: str, crew: tuple[tuple[str, str], ...], inputs: tuple[tuple[str, str], ...],
    starter: Starter, now: Callable[[], Moment], looks: Looks = PLAINLY, pins: bool = False,
    brought: tuple[tuple[str, str, str], ...] = (),
) -> tuple[Left, Door | None]:  # fmt: skip
    """Ask for crew and job (what a job file brought is shown to be confirmed), begin the run, and lead through it.

    `brought` says of values where they came from. `starter` begins the run and may refuse; the run that it gave is handed back so that the caller closes it.
    """
    from runner.screen.pages.start import StartPage

    idle = Idle(procedure, RunState(flow.start(procedure)), "" if mode == "live" else say(DRY))
    app = Terminal(Shell(now, StartPage(crew, inputs, mode, pins=pins, brought=brought), idle=idle), starter, looks)
    app.run()
    return app.left, app.shell.run


def run_home(listing: "Listing", now: Callable[[], Moment], looks: Looks = PLAINLY, said: str = "") -> Left:
    """Let a person pick from procedures, unfinished runs and records; `choice` of the answer says what was picked.

    `said` is why what was picked before did not come up.
    """
    from runner.screen.pages.home import NO_PROCEDURE, HomePage

    idle = Idle(NO_PROCEDURE, RunState(flow.start(NO_PROCEDURE)))
    shell = Shell(now, HomePage(listing), idle=idle)
    if said:
        shell.say(clean(said), abnormal=True)
    app = Terminal(shell, looks=looks)
    app.run()
    return app.left
