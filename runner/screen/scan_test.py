"""The screen of `changeover scan-test`: what was scanned last, judged. Nothing is kept and nothing is commanded."""

from collections.abc import Callable
from typing import ClassVar

from textual import events
from textual.app import App, ComposeResult
from textual.binding import Binding, BindingType
from textual.content import Content
from textual.widgets import Static

from runner.engine.moment import Moment
from runner.say.text import mark, say
from runner.screen.reader import APART_S, Pressed, judge, lines_of, scans

ASK = mark(
    "Scan a code, as you would at the press. What came is shown here; nothing is kept.\n"
    "Try each kind of code that is in use, and two codes quickly one after the other. Ctrl-C leaves."
)
MOST = 4096
"""Keys that are remembered."""
SHOWN = 2
"""Scans on the screen, newest first."""


class ScanTest(App[None]):
    """Keys in, judgements out."""

    ENABLE_COMMAND_PALETTE = False
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("ctrl+c", "quit", show=False, priority=True),
        Binding("ctrl+q", "quit", show=False, priority=True),
    ]

    def __init__(self, now: Callable[[], Moment]) -> None:
        super().__init__()
        self.now = now
        self.pressed: list[Pressed] = []
        self.drawn = -1
        self.found = Static(Content(""))

    def compose(self) -> ComposeResult:
        """What to do, and what came."""
        yield Static(Content(say(ASK)))
        yield Static(Content(""))
        yield self.found

    def on_mount(self) -> None:
        """Judge when it has been quiet."""
        self.set_interval(0.1, self.look)

    def on_key(self, event: events.Key) -> None:
        """One key, with its time."""
        event.stop()
        event.prevent_default()
        self.pressed = [*self.pressed[-MOST:], Pressed(event.key, event.character, self.now().tick)]

    def on_paste(self, event: events.Paste) -> None:
        """A terminal that hands a scan over as one paste."""
        event.stop()
        self.found.update(
            Content(say("The terminal handed this over as a paste: it goes into an entry and commands nothing."))
        )

    def look(self) -> None:
        """Show the newest scans once they have ended."""
        if not self.pressed or len(self.pressed) == self.drawn or self.now().tick - self.pressed[-1].at < APART_S:
            return
        self.drawn = len(self.pressed)
        newest = scans(self.pressed)[-SHOWN:][::-1]
        self.found.update(Content("\n\n".join("\n".join(lines_of(judge(scan))) for scan in newest)))


def run_scan_test(now: Callable[[], Moment]) -> None:
    """Until it is left."""
    ScanTest(now).run()
