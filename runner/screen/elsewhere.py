"""What is done at other terminals on the same run: the pages here follow it, and it is told in one line.

An act here counts only for what was on the screen: where something else is up now, what was typed is gone. In plain
mode, where a line is typed meanwhile, what came waits until it is given, and the line counts only if the same is up.
"""

from collections import deque
from collections.abc import Callable
from contextlib import suppress

from runner.engine.events import Event, MadeSafe, Paused
from runner.procedure.clean import clean
from runner.say.text import mark, say
from runner.screen import words as sayings
from runner.screen.door import Shared, last_act, lost_of, shared
from runner.screen.kept import act_words
from runner.screen.pages.base import base_page
from runner.screen.shell import Shell
from runner.screen.view import hidden

NOT_COUNTED = mark("Something was done at another terminal while you typed; that line does not count.")


def follow(shell: Shell) -> None:
    """Put the pages where the run is by now."""
    if shell.run is None:
        return
    if shell.run.poisoned:
        shell.broken(shell.run.poisoned)
    elif shell.pending is None:
        base = base_page(shell.desk())
        if type(base) is not type(shell.pages[0]):
            shell.pages, shell.far = [base], False
            shell.message = shell.message if shell.abnormal else ""
        if shell.kept is None and shell.run.interrupted:
            shell.kept = last_act(shell.run)  # it was taken over here: what is the last that is on record
        shell.settle(keep=True)


def follow_own(shell: Shell) -> None:
    """After an act here, which has moved the pages itself. More is to do where another page is due by now: it was refused
    because of what was done elsewhere, the keeper was lost meanwhile, or the run was taken over with it."""
    if shell.run is None:
        return
    desk = shell.desk()
    if type(base_page(desk)) is not type(shell.pages[0]) or (desk.interrupted and shell.kept is None):
        follow(shell)


def changed(shell: Shell, words: str, events: tuple[Event, ...]) -> None:
    """Something was not done here: follow it and tell it, but never in place of a warning."""
    follow(shell)
    told = words or notice(shell, events)
    if told and not (shell.message and shell.abnormal):
        stopped = any(isinstance(event, MadeSafe | Paused) for event in events)
        shell.say(clean(told), abnormal=stopped or sayings.told(events)[1])


def notice(shell: Shell, events: tuple[Event, ...]) -> str:
    """What somebody did, in one line; empty where it only followed by itself."""
    run = shell.run
    acts = [event for event in events if event.by]
    if run is None or not acts:
        return ""
    told = act_words(run.procedure, acts[-1], hidden(run.procedure, run.state))
    return say("At the other terminal: {act}", act=told)


class Inbox:
    """What came while a line was typed."""

    def __init__(self, shell: Shell, write: Callable[[str], None]) -> None:
        self.shell, self.write = shell, write
        self.on: Shared | None = None
        self.came: deque[tuple[str, tuple[Event, ...]]] = deque()

    def listen(self) -> None:
        """To the run, as soon as there is one."""
        run = shared(self.shell.run)
        if self.on is None and run is not None:
            self.on = run
            run.watch(self.take)

    def take(self, words: str, events: tuple[Event, ...]) -> None:
        """Called in another thread: write a line at once, and leave all else for later."""
        self.came.append((words, events))
        told = words or notice(self.shell, events) or (lost_of(self.shell.run) if self.shell.run is not None else "")
        if told:
            with suppress(OSError, ValueError):  # whoever is told has gone; the record does not wait for them
                self.write(f"* {clean(told)}")

    def let_in(self) -> bool:
        """Follow what came; True where something else is up than before."""
        if not self.came:
            return False
        before = self.shell.subject
        self.came.clear()
        follow(self.shell)
        return self.shell.subject != before
