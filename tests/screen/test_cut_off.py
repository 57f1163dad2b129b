"""The installed command cut off: by signals, by a kill, by a lost line. The record is whole, the terminal as it was, and
one command goes on."""

import os
import signal
import sys
import time
from pathlib import Path

import pytest

from tests.screen.terminal import ENTER, F4, Terminal
from tests.screen.using import (
    begun,
    command,
    foreign,
    is_restored,
    modes,
    quick,
    records,
    run_arguments,
    verified,
)

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="pseudo-terminals are of Unix")

LAST = "last kept step 1.1 done (N. Petrov"


def one_step(terminal: Terminal) -> None:
    """The first step, begun and done."""
    begun(terminal, 0.05)
    terminal.press(ENTER, 0.05)
    terminal.until("Enter DONE")
    terminal.press(ENTER, 0.05)
    terminal.until("step 2 of 2")


def goes_on(folder: Path) -> None:
    """`changeover resume` and nothing else shows where it was, and leaves the terminal as it was."""
    with command("resume", *records(folder)) as terminal:
        before = modes(terminal)
        terminal.until("INTERRUPTED")
        terminal.until(LAST)
        terminal.child.kill(signal.SIGTERM)
        assert terminal.ended(5) == 128 + signal.SIGTERM
        is_restored(terminal, before)


@pytest.mark.parametrize("name", ["SIGTERM", "SIGHUP", "SIGINT"])
def test_after_a_signal_the_terminal_is_as_it_was_and_one_command_goes_on(name: str, tmp_path: Path) -> None:
    number = getattr(signal, name)
    with quick(*run_arguments(tmp_path)) as terminal:
        before = modes(terminal)
        one_step(terminal)
        began = time.monotonic()
        terminal.child.kill(number)
        assert terminal.ended(5) == 128 + number
        assert time.monotonic() - began < 3
        is_restored(terminal, before)
        assert "go on with: changeover resume" in terminal.text
        assert b"Traceback" not in terminal.raw
        assert not foreign(terminal.raw)
    assert verified(tmp_path).outcome == ""
    goes_on(tmp_path)


def test_after_a_kill_nothing_that_was_told_is_lost_and_one_command_goes_on(tmp_path: Path) -> None:
    with quick(*run_arguments(tmp_path)) as terminal:
        one_step(terminal)
        os.kill(terminal.child.pid, signal.SIGKILL)
        terminal.ended(5)
    verified(tmp_path)
    goes_on(tmp_path)


def test_a_lost_line_ends_the_command_and_one_command_goes_on(tmp_path: Path) -> None:
    with quick(*run_arguments(tmp_path)) as terminal:
        one_step(terminal)
        pid = terminal.child.pid
        os.close(terminal.child.child_fd)
        end = time.monotonic() + 4
        done = 0
        while not done and time.monotonic() < end:
            done, _ = os.waitpid(pid, os.WNOHANG)
            time.sleep(0.05)
        assert done == pid, "still running"
        terminal.gone()
    verified(tmp_path)
    goes_on(tmp_path)


@pytest.mark.long
@pytest.mark.parametrize("keys", range(1, 13))
def test_a_kill_after_any_key_leaves_a_record_that_goes_on(keys: int, tmp_path: Path) -> None:
    with quick(*run_arguments(tmp_path)) as terminal:
        begun(terminal, 0.05)
        for _ in range(keys):
            terminal.press(ENTER, 0.05)
        os.kill(terminal.child.pid, signal.SIGKILL)
        terminal.ended(5)
    before = verified(tmp_path).events
    with quick("resume", *records(tmp_path)) as terminal:
        terminal.until("INTERRUPTED")
        terminal.press(F4, 0.1)
        terminal.until("STOP, MAKE SAFE")
        terminal.child.kill(signal.SIGTERM)
        terminal.ended(5)
    assert verified(tmp_path).events > before
