"""The PIN on the screen and line by line: asked where it is due, shown nowhere, and the place is kept."""

from pathlib import Path

from runner.engine import events as ev
from runner.engine.intents import BeginRun
from runner.procedure.site import Person, Site
from runner.record.clock import SteppedClock
from runner.record.pins import hash_of
from runner.record.run import Run
from runner.record.store import Store
from runner.screen.desk import Begin
from runner.screen.plain import run_plain
from runner.screen.shell import Shell
from runner.screen.widgets.lines import text_of
from tests.screen.bench import CREW, INPUTS, compiled

PIN, LEAD_PIN = "pxq7w", "zzk2v"
SITE = Site(
    (
        Person("N. Petrov", ("unwind",), hash_of(PIN), None),
        Person("T. Oduya", ("rewind",), hash_of("other1"), None),
        Person("S. Lind", ("lead",), hash_of(LEAD_PIN), None),
    ),
    "refused",
)


class AtKeys:
    """Somebody at the keys of a run that lies on the disk."""

    def __init__(self, folder: Path) -> None:
        self.clock = SteppedClock()
        intent = BeginRun(CREW[0][1], "run-1", "live", False, CREW, INPUTS, "test")
        run = Run.begin(Store(str(folder)), compiled(), intent, self.clock, site=SITE)
        assert isinstance(run, Run), run
        self.run = run
        self.shell = Shell.over(run)
        self.shell.picture()
        self.seen: list[str] = []

    def press(self, *keys: str) -> None:
        for key in keys:
            self.clock.advance(1)
            wanted = self.shell.key(key, key if len(key) == 1 else None)
            assert not isinstance(wanted, Begin)
            if wanted is not None:
                self.shell.took(self.run.submit(wanted))
            self.seen.append(self.screen())

    def screen(self) -> str:
        return "\n".join(text_of(line) for line in self.shell.picture().lines)

    def kept(self, kind: type[ev.Event]) -> list[ev.Event]:
        return [entry.event for entry in self.run.entries() if isinstance(entry.event, kind)]


def test_the_pin_is_asked_for_at_the_first_act_and_the_act_is_done_with_it(tmp_path: Path) -> None:
    person = AtKeys(tmp_path)
    person.press("enter")
    assert "PIN of N. Petrov" in person.screen()
    assert person.kept(ev.StepBegun) == []
    person.press(*PIN, "enter")
    assert "PIN of" not in person.screen()
    assert len(person.kept(ev.StepBegun)) == 1
    person.press("enter")
    assert len(person.kept(ev.StepDone)) == 1


def test_what_is_typed_as_a_pin_shows_as_stars(tmp_path: Path) -> None:
    person = AtKeys(tmp_path)
    person.press("enter", *PIN)
    assert "> *****" in person.screen()
    person.press("enter")
    for screen in person.seen:
        assert "pxq" not in screen


def test_a_wrong_pin_is_said_and_typed_anew_on_an_empty_line(tmp_path: Path) -> None:
    person = AtKeys(tmp_path)
    person.press("enter", *"wrong", "enter")
    assert "That is not the PIN of N. Petrov" in " ".join(person.screen().split())
    assert "***" not in person.screen()
    assert len(person.kept(ev.PinRefused)) == 1
    person.press(*PIN, "enter")
    assert len(person.kept(ev.StepBegun)) == 1


def test_the_act_is_given_up_with_the_pin(tmp_path: Path) -> None:
    person = AtKeys(tmp_path)
    before = person.screen()
    person.press("enter", "escape")
    assert person.screen().splitlines()[3:] == before.splitlines()[3:]
    assert person.kept(ev.StepBegun) == []


def test_stopping_needs_no_pin_even_where_one_is_asked_for(tmp_path: Path) -> None:
    person = AtKeys(tmp_path)
    person.press("enter", "f4")
    assert len(person.kept(ev.MadeSafe)) == 1
    assert "PIN of" not in person.screen()


def test_line_by_line_the_pin_is_asked_for_without_echo(tmp_path: Path) -> None:
    person = AtKeys(tmp_path)
    given, hidden = iter(["begin", "done", "pause"]), iter(["wrong", PIN])
    asked: list[str] = []
    written: list[str] = []

    def ask(_: str) -> str:
        person.clock.advance(1)
        line = next(given, None)
        if line is None:
            raise EOFError
        return line

    def ask_hidden(question: str) -> str:
        asked.append(question)
        return next(hidden)

    run_plain(person.run, ask, written.append, ask_hidden)
    assert len(asked) == 2
    assert all("PIN of N. Petrov" in question for question in asked)
    assert not any(PIN in text for text in written)
    assert len(person.kept(ev.StepDone)) == 1
