"""Any size of the terminal, and sizes that change all the time: nothing is lost, nothing unseen is acted upon."""

import random
import sys
from pathlib import Path

import pytest

from tests.screen.bench import MemoryRun, Person, compiled
from tests.screen.terminal import ENTER, F4
from tests.screen.test_view import to_lift
from tests.screen.using import FIRST, begun, foreign, quick, run_arguments, verified

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="pseudo-terminals are of Unix")


@pytest.mark.parametrize("size", [(20, 5), (30, 8), (59, 24), (80, 17)])
def test_a_size_that_shows_no_page_says_so_and_acts_on_nothing_but_stop(size: tuple[int, int]) -> None:
    run = MemoryRun(compiled())
    to_lift(run)
    count = len(run.events)
    small = Person(run, size)
    said = " ".join(small.screen().split())
    assert "TOO SMALL" in said
    assert "2.1" in said, "which step is up is said at any size"
    assert len(small.screen().split("\n")) == size[1]
    small.press("enter", "f5", "f2", "1", "enter", "escape")
    assert len(run.events) == count
    small.shell.size = (80, 24)
    assert small.screen() == Person(run).screen()
    small.shell.size = size
    small.press("f4")
    assert run.state.halted == "make-safe"


def test_at_twenty_by_five_all_of_it_is_read() -> None:
    said = " ".join(Person(MemoryRun(compiled()), (20, 5)).screen().split())
    assert "needs 60x18; only F4 acts" in said


def test_a_tiny_terminal_says_so_and_shows_the_page_again_when_it_grows(tmp_path: Path) -> None:
    with quick(*run_arguments(tmp_path)) as terminal:
        begun(terminal, 0.05)
        before = terminal.text
        terminal.resize(20, 5)
        terminal.until("TOO SMALL")
        terminal.press(ENTER * 3)
        terminal.read(0.3)
        terminal.resize(80, 24)
        terminal.until(FIRST)
        assert [line.split("UTC")[0][:70] for line in terminal.text.split("\n")] == [
            line.split("UTC")[0][:70] for line in before.split("\n")
        ]
        terminal.resize(20, 5)
        terminal.until("TOO SMALL")
        terminal.press(F4)
        terminal.read(0.4)
        terminal.resize(120, 40)
        terminal.until("STOP, MAKE SAFE")
    verified(tmp_path)


def storm(folder: Path, count: int, seed: int) -> None:
    """The window is pulled about, keys in between; then it is as if nothing had been."""
    chance = random.Random(seed)
    with quick(*run_arguments(folder)) as terminal:
        begun(terminal, 0.05)
        for _ in range(count):
            terminal.resize(chance.randint(10, 200), chance.randint(3, 60))
            if chance.random() < 0.2:
                terminal.child.send(chance.choice([ENTER, "\x1b[A", "\x1b[B", "\t", "\x1bOP", "\x1b"]))
            terminal.read(0.005)
        terminal.resize(80, 24)
        terminal.read(0.5)
        terminal.press("\x1b", 0.3)
        terminal.press("\x1b", 0.3)
        terminal.until("STOP, make safe")
        assert terminal.screen.lines == 24
        terminal.press(F4)
        terminal.until("STOP, MAKE SAFE")
        assert b"Traceback" not in terminal.raw
        assert not foreign(terminal.raw)
    verified(folder)


def test_a_storm_of_sizes_leaves_the_page_as_it_was(tmp_path: Path) -> None:
    storm(tmp_path, 60, 5)


@pytest.mark.long
@pytest.mark.parametrize("seed", range(4))
def test_long_storms_of_sizes(seed: int, tmp_path: Path) -> None:
    storm(tmp_path, 600, seed)
