"""The full screen through Textual's pilot, over a real record on the disk."""

import asyncio
import threading
from collections.abc import Iterable
from pathlib import Path

import pytest
from textual.pilot import Pilot

from runner.engine import events as ev
from runner.engine.intents import BeginRun, Refusal, Wanted
from runner.record.clock import SteppedClock
from runner.record.run import Run
from runner.record.store import Store
from runner.record.verify import verify_bytes
from runner.screen import words
from runner.screen.app import Terminal
from runner.screen.desk import Begin
from runner.screen.guard import QUIET_S
from runner.screen.keys import KEYS
from runner.screen.shell import Shell
from runner.screen.widgets.lines import text_of
from tests.screen.bench import CREW, INPUTS, MemoryRun, compiled


def text(app: Terminal) -> str:
    """What the surface shows."""
    return "\n".join(text_of(line) for line in app.canvas.lines)


async def press(pilot: Pilot[None], clock: SteppedClock, keys: Iterable[str]) -> None:
    """Keys, a second apart, each followed until it is kept."""
    app = pilot.app
    assert isinstance(app, Terminal)
    for key in keys:
        clock.advance(1)
        await pilot.press("full_stop" if key == "." else "space" if key == " " else key)
        for _ in range(400):
            if app.shell.pending is None:
                break
            await asyncio.sleep(0.005)
        await pilot.pause()


def typed(words_: str) -> list[str]:
    """A text and Enter as keys."""
    return [*words_, "enter"]


async def test_a_whole_run_over_a_real_record_that_verifies(tmp_path: Path) -> None:
    clock = SteppedClock()
    begin = BeginRun(CREW[0][1], "run-1", "live", False, CREW, INPUTS, "test")
    run = Run.begin(Store(str(tmp_path)), compiled(), begin, clock)
    assert not isinstance(run, Refusal), run
    app = Terminal(Shell.over(run))
    async with app.run_test(size=(80, 24)) as pilot:
        await press(pilot, clock, ["enter"] * 8)
        await press(pilot, clock, typed("N. Petrov"))
        await press(pilot, clock, ["f5"])
        assert "Only Shift lead (S. Lind) releases this hold" in text(app)
        await press(pilot, clock, [*typed("S. Lind"), "enter", "enter", "f5", "enter"])
        await press(pilot, clock, ["f2", "1", "enter", "enter"])  # the roll swings: the step is done again
        assert "[ ]" not in text(app)
        await press(pilot, clock, ["enter", "enter", *typed("S. Lind"), "enter", "enter", "f5", "enter", "enter"])
        await press(pilot, clock, ["f3", "1", "enter", *typed("inflate"), "enter", "enter"])  # pause, resume
        await press(pilot, clock, ["enter"])
        for seen in ("1", "2", "1"):  # drive, guard, crane: looked at by a digit alone, once it has stayed quiet
            assert "what do you see?" in text(app), text(app)
            await press(pilot, clock, [seen])
            clock.advance(1)
            await asyncio.sleep(QUIET_S + 0.1)
            await pilot.pause()
        assert "unwind guard: closed" in text(app), text(app)
        await press(pilot, clock, ["enter", "enter", *typed("7.4")])
        assert "OUT OF LIMITS: 7.4 bar" in text(app)
        await press(pilot, clock, [*typed("6.2"), "1", "enter", "enter", "enter", "enter"])
        await press(pilot, clock, ["enter"] * 7)
        await press(pilot, clock, ["enter", "enter", "1", "enter", "enter", *typed("S. Lind"), "1", "enter", "enter"])
        await press(pilot, clock, ["enter"])
        clock.advance(30)
        await press(pilot, clock, ["enter"])
        assert "FINISH" in text(app), text(app)
        await press(pilot, clock, ["enter"])
        assert "FINISHED" in text(app), text(app)
        await press(pilot, clock, ["enter"])
    assert app.left.outcome == "finished"
    run.close()
    with open(run.path, "rb") as file:
        verified = verify_bytes(file.read())
    assert not verified.flaws
    assert verified.head == run.head


class SlowRun(MemoryRun):
    """A disk that takes its time."""

    let_go = threading.Event()

    def submit(self, intent: Wanted) -> tuple[ev.Event, ...] | Refusal:
        """Waits until it is let go."""
        if self.events:
            self.let_go.wait(5)
        return super().submit(intent)


async def test_while_saving_keys_wait_and_nothing_shows_as_accepted() -> None:
    run = SlowRun(compiled())
    app = Terminal(Shell.over(run))
    async with app.run_test(size=(80, 24)) as pilot:
        run.tick += 5
        await pilot.press("enter")
        await asyncio.sleep(0.45)
        await pilot.pause()
        assert words.SAVING in text(app)
        assert "begun" not in text(app)
        run.tick += 5
        await pilot.press("enter", "f4", "f2")
        run.let_go.set()
        for _ in range(200):
            if app.shell.pending is None:
                break
            await asyncio.sleep(0.005)
        await pilot.pause()
        assert "begun" in text(app)
        assert words.SAVING not in text(app)
    assert run.count(ev.StepBegun) == 1
    assert run.count(ev.StepDone) == 0


class FaultyRun(MemoryRun):
    """A fault of ours in the middle of a run."""

    def submit(self, intent: Wanted) -> tuple[ev.Event, ...] | Refusal:
        """Raises once the run has begun."""
        if self.events:
            raise KeyError("planted")
        return super().submit(intent)


async def test_a_fault_of_ours_is_words_on_the_screen_and_never_a_traceback() -> None:
    run = FaultyRun(compiled())
    app = Terminal(Shell.over(run))
    async with app.run_test(size=(80, 24)) as pilot:
        run.tick += 5
        await pilot.press("enter")
        await pilot.pause(0.1)
        assert "a fault of this program" in text(app)
        assert "Traceback" not in text(app)


@pytest.mark.parametrize("size", [(1, 1), (20, 5), (60, 18), (80, 24), (110, 30), (500, 200)])
async def test_any_size_is_drawn_and_redrawn(size: tuple[int, int]) -> None:
    run = MemoryRun(compiled())
    app = Terminal(Shell.over(run))
    async with app.run_test(size=size) as pilot:
        await pilot.pause()
        assert len(app.canvas.lines) == size[1]
        await pilot.resize_terminal(80, 24)
        await pilot.pause()
        assert "Set the unwind speed to zero." in text(app)


async def test_ctrl_c_and_ctrl_q_ask_and_do_not_end_the_program() -> None:
    run = MemoryRun(compiled())
    app = Terminal(Shell.over(run))
    async with app.run_test(size=(80, 24)) as pilot:
        for key in ("ctrl+c", "ctrl+q"):
            await pilot.press(key)
            await pilot.pause()
            assert "Leave the program" in text(app)
            await pilot.press("escape")


async def test_a_held_key_on_a_real_app_passes_one_stage() -> None:
    run = MemoryRun(compiled())
    app = Terminal(Shell.over(run))
    async with app.run_test(size=(80, 24)) as pilot:
        run.tick += 5
        for _ in range(40):
            run.tick += 0.03
            await pilot.press("enter")
        await pilot.pause(0.1)
    assert run.count(ev.StepBegun) == 1
    assert run.count(ev.StepDone) == 0


async def test_every_key_of_the_table_reaches_the_page() -> None:
    run = MemoryRun(compiled())
    app = Terminal(Shell.over(run))
    got: list[str] = []
    async with app.run_test(size=(80, 24)) as pilot:
        listen = app.shell.key

        def heard(name: str, character: str | None) -> "Wanted | Begin | None":
            got.append(name)
            return listen(name, character)

        app.shell.key = heard  # type: ignore[method-assign]
        for key in KEYS:
            run.tick += 2
            await pilot.press(key.key)
            await pilot.pause()
    assert got == [key.key for key in KEYS]


class Faulty(Shell):
    """A shell with a fault in it."""

    def key(self, name: str, character: str | None) -> Wanted | Begin | None:
        """Never gets so far."""
        raise ValueError(f"\x1b]52;c;x {name}{character}")


async def test_a_fault_on_the_screen_is_told_in_one_line_without_what_is_in_memory(
    capsys: pytest.CaptureFixture[str],
) -> None:
    app = Terminal(Faulty.over(MemoryRun(compiled())))
    with pytest.raises(ValueError, match="52;c"):
        async with app.run_test(size=(80, 24)) as pilot:
            await pilot.press("enter")
    (told,) = capsys.readouterr().err.strip().split("\n")
    assert "a fault of this program: ValueError: ␛]52;c;x enter" in told
    assert app.left.outcome == "open"
