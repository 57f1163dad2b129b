"""The whole change of a roll in a real terminal of 80x24, by keys, with the process killed in the middle.

Every key goes to the terminal and to the same pages in memory; what the terminal shows must be what they draw.
"""

import json
import os
import re
import signal
import sys
import time
from pathlib import Path

import pytest

from runner.engine.events import InputGiven
from runner.procedure.model import UNKNOWN
from runner.record.verify import verify_bytes
from runner.screen.view import Stage, StepView, view
from tests.procedures.shipped import procedure_of
from tests.screen.bench import Person
from tests.screen.terminal import ENTER, F5, F6, Terminal
from tests.screen.test_shipped import MOST_TURNS, Operator

TIMES = 20.0
"""So many times faster than real the clock of the child goes."""
PAUSE = 0.06
"""Seconds between keys: longer than what makes a key fresh, on that clock."""
KEYS = {"enter": ENTER, "f5": F5, "f6": F6}
CLOCK = re.compile(r"(\d{4}-\d\d-\d\d )?\d\d:\d\d(:\d\d)? UTC")

pytestmark = [pytest.mark.long, pytest.mark.skipif(sys.platform == "win32", reason="pseudo-terminals are of Unix")]


def drawn(text: str) -> list[str]:
    """Lines as they can be compared: without the time of day, and without what stands beside the page, in which times go on."""
    return [CLOCK.sub("", line).partition("│")[0].rstrip() for line in text.split("\n")]


class Both(Person):
    """Presses keys in memory and on the terminal, and looks whether both show the same."""

    terminal: Terminal

    def press(self, *keys: str) -> "Both":
        """One key after the other."""
        for key in keys:
            super().press(key)
            self.terminal.press(KEYS.get(key, key), PAUSE if len(key) > 1 else 0.0)
            if len(key) > 1:
                self.compare()
        return self

    def look(self, digit: str) -> None:
        """A digit that takes its line by itself: pressed on a page that has stood for a while."""
        super().press(digit)
        self.terminal.press(digit, PAUSE)
        self.compare()

    def compare(self, seconds: float = 10.0) -> None:
        """Wait until the terminal shows what the pages in memory draw."""
        if self.run.state.outcome:
            return
        end = time.monotonic() + seconds
        while drawn(self.terminal.text) != drawn(self.screen()):
            assert time.monotonic() < end, f"memory:\n{self.screen()}\nterminal:\n{self.terminal.text}"
            self.terminal.read(0.02)


class Worker(Operator):
    """Leads the run on the terminal; is cut off once."""

    person: Both

    def __init__(self, name: str, records: Path, cut_off_at: int) -> None:
        super().__init__(procedure_of(name), name)
        self.name, self.records, self.cut_off_at = name, records, cut_off_at
        given = {"crew": list(self.run.state.crew.items()), "inputs": self.inputs_typed()}
        self.person = Both(self.run)
        self.person.terminal = self.child("begin", json.dumps(given))
        self.person.compare()

    def inputs_typed(self) -> list[tuple[str, str]]:
        """What the run in memory was given."""
        return [(event.name, event.typed) for event in self.run.events if isinstance(event, InputGiven)]

    def child(self, what: str, *more: str) -> Terminal:
        """A process at the press."""
        return Terminal("-m", "tests.screen.whole_job", what, str(self.records), self.name, str(TIMES), *more)

    def work(self) -> None:
        """To the end, with the cut."""
        for turn in range(MOST_TURNS):
            if self.run.state.outcome:
                return
            if turn == self.cut_off_at:
                self.cut_off()
            seen = view(self.run.procedure, self.run.state, self.run.now(), self.person.shell.lane)
            if self.person.shell.picture().reads_on or seen.step is None:
                self.person.press("enter")
            else:
                self.step(seen.step)
        raise AssertionError(self.person.screen())

    def step(self, step: StepView) -> None:
        """As on any screen; a wait is waited for."""
        if step.stage is Stage.WAIT:
            time.sleep(((step.wait_left or 0) + 2) / TIMES)
            self.person.terminal.read(1.2)
        super().step(step)

    def kill(self, old: Terminal) -> None:
        """The process at the press ends at once."""
        pid = old.child.pid
        assert pid is not None
        os.kill(pid, signal.SIGKILL)
        old.__exit__(None, None, None)

    def cut_off(self) -> None:
        """The power goes; somebody resumes, and looks at everything again."""
        before = dict(self.run.state.unconfirmed)
        assert not before
        self.kill(self.person.terminal)
        self.run.interrupted, self.run.boot = True, "another"
        known = {
            state.name: value
            for state, value in zip(self.run.procedure.states, self.run.state.position.states, strict=True)
        }
        self.person = Both(self.run)
        self.person.terminal = self.child("resume")
        self.person.compare()
        self.person.press("enter", "enter")
        for state in self.run.procedure.states:
            if known[state.name] != UNKNOWN and not state.keeps:
                # looked at: it is as it was; known values are places in its list
                self.person.look(str(known[state.name] + 1))
        assert not self.run.state.unconfirmed, self.person.screen()
        self.person.press("enter")


@pytest.mark.parametrize(("name", "cut_off_at"), [("change-roll", 230), ("slitter-knives", 61), ("web-break", 100)])
def test_the_whole_job_is_done_in_a_terminal_and_survives_a_kill(name: str, cut_off_at: int, tmp_path: Path) -> None:
    worker = Worker(name, tmp_path, cut_off_at)
    worker.work()
    assert worker.run.state.outcome == "finished"
    worker.person.terminal.until("FINISHED")
    worker.person.terminal.press(ENTER, 0.2)
    assert worker.person.terminal.ended(10) == 0
    (journal,) = tmp_path.rglob("*.journal")
    found = verify_bytes(journal.read_bytes())
    assert found.whole
    assert found.outcome == "finished"
    assert found.events >= len(worker.run.events)
