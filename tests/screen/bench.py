"""A run in memory for screen tests: the real engine, no disk, a clock moved by hand, and a person at the keys."""

import os
from collections.abc import Iterator
from dataclasses import replace
from typing import NamedTuple

from runner.engine import events as ev
from runner.engine.decide import decide
from runner.engine.evolve import begin_state, evolve
from runner.engine.intents import BeginRun, LeftOpen, Refusal, Wanted, WithPin
from runner.engine.moment import Moment
from runner.engine.state import RunState
from runner.procedure.compile import compile_procedure
from runner.procedure.model import Procedure
from runner.screen.desk import Begin
from runner.screen.guard import QUIET_S
from runner.screen.shell import Shell
from runner.screen.widgets.lines import text_of

FOLDER = os.path.dirname(__file__)
CREW = (("unwind", "N. Petrov"), ("rewind", "T. Oduya"), ("lead", "S. Lind"))
INPUTS = (("web_width", "1250"), ("roll_od", "1000 mm"), ("substrate", "kraft paper"))


def compiled(name: str = "small", change: tuple[tuple[str, str], ...] = ()) -> Procedure:
    """A procedure of this folder, with texts in it changed."""
    with open(os.path.join(FOLDER, f"{name}.procedure.yaml"), encoding="utf-8") as file:
        text = file.read()
    for old, new in change:
        assert old in text
        text = text.replace(old, new)
    found = compile_procedure(text, f"{name}.procedure.yaml", lambda _: None)
    assert found.procedure is not None, found.findings
    return found.procedure


class Entry(NamedTuple):
    """A line of the record."""

    event: ev.Event


class MemoryRun:
    """`runner.screen.shell.Door` without a disk."""

    def __init__(
        self,
        procedure: Procedure,
        crew: tuple[tuple[str, str], ...] = CREW,
        inputs: tuple[tuple[str, str], ...] = INPUTS,
        mode: str = "live",
        left_open: tuple[LeftOpen, ...] = (),
    ) -> None:
        self.procedure = procedure
        self.state: RunState = begin_state(procedure)
        self.events: list[ev.Event] = []
        self.tick = 1000.0
        self.boot = "boot"
        self.interrupted = False
        self.path = "a/run.journal"
        self.head = "0123456789abcdef" * 4
        self.poisoned = ""
        begun = self.submit(BeginRun(crew[0][1], "run-1", mode, False, crew, inputs, "test", left_open=left_open))
        assert not isinstance(begun, Refusal), begun

    def now(self) -> Moment:
        """The clock by hand."""
        return Moment("2026-11-25T09:40:14.250Z", self.tick, self.boot)

    def submit(self, intent: Wanted) -> tuple[ev.Event, ...] | Refusal:
        """Decide and evolve; no PIN is looked at."""
        if isinstance(intent, WithPin):
            intent = intent.intent
        if self.poisoned:
            return Refusal("not written")
        decided = decide(self.procedure, self.state, replace(intent, at=self.now()))
        if isinstance(decided, Refusal):
            self._keep(decided.kept)
            return decided
        self._keep(decided)
        return decided

    def _keep(self, events: tuple[ev.Event, ...]) -> None:
        for event in events:
            self.events.append(event)
            self.state = evolve(self.procedure, self.state, event)
            if isinstance(event, ev.Resumed):
                self.interrupted = False

    def entries(self) -> Iterator[Entry]:
        """As if read back from the disk."""
        return (Entry(event) for event in self.events)

    def last(self, kind: type[ev.Event]) -> ev.Event:
        """The newest event of a kind."""
        return next(event for event in reversed(self.events) if type(event) is kind)

    def count(self, kind: type[ev.Event]) -> int:
        """How many events of a kind there are."""
        return sum(type(event) is kind for event in self.events)


class Person:
    """Somebody at the keys, who takes a second for each."""

    def __init__(self, run: MemoryRun, size: tuple[int, int] = (80, 24)) -> None:
        self.run = run
        self.shell = Shell.over(run)
        self.shell.size = size
        self.shell.picture()
        self.pause = 1.0

    def press(self, *keys: str) -> "Person":
        """Keys by their names; one letter is typed."""
        for key in keys:
            self.run.tick += self.pause
            self.take(self.shell.due())
            self.take(self.shell.key(key, key if len(key) == 1 else None))
        if self.shell.waits is not None and self.pause >= QUIET_S:
            self.run.tick += self.pause
            self.take(self.shell.due())
        return self

    def take(self, wanted: Wanted | Begin | None) -> None:
        """Keep what a key asked for."""
        assert not isinstance(wanted, Begin)
        if wanted is not None:
            self.shell.took(self.run.submit(wanted))

    def type(self, text: str) -> "Person":
        """A text, and Enter."""
        return self.press(*text, "enter")

    def screen(self) -> str:
        """What is on the screen."""
        return "\n".join(text_of(line) for line in self.shell.picture().lines)
