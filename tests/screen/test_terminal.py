"""On a real terminal of 80x24: what a person sees, what a signal leaves behind, and which bytes go out."""

import os
import re
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from runner.record.verify import verify_bytes
from tests.screen.terminal import ENTER, F4, F5, F6, ROOT, Terminal

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="pseudo-terminals are of Unix")

OURS = re.compile(rb"\x1b\[[0-9;:?>=<$ ]*[A-Za-z]|\x1b[=>]|\x1b\][0-9]+;[^\x07\x1b]*(?:\x07|\x1b\\)|\x1b[()][A-Z0-9]")
"""What a terminal program itself sends: CSI sequences, keypad modes, titles, character sets."""


def started(records: Path, mode: str = "live", times: int = 10, **environment: str) -> Terminal:
    """The screen over a new run."""
    return Terminal("-m", "tests.screen.on_terminal", str(records), mode, str(times), **environment)


def journal(records: Path) -> bytes:
    """The one record under a folder."""
    (found,) = records.rglob("*.journal")
    return found.read_bytes()


def test_a_step_with_its_hold_on_a_real_terminal_with_no_line_lost(tmp_path: Path) -> None:
    with started(tmp_path) as terminal:
        terminal.until("Set the unwind speed to zero.")
        for seen in ("DONE", "Open the unwind guard.", "DONE", "DANGER"):
            terminal.press(ENTER)
            terminal.until(seen)
        text = terminal.until("Stay clear of the drop zone.")
        for line in (
            "LIVE RUN",
            "Phase 2 of 3",
            "Crushing.",
            "Lift the roll of 785 kg",
            "Enter cautions read",
            "F4 STOP, make safe",
        ):
            assert line in text
        assert len(terminal.screen.display) == 24
        for seen in ("must release this step", "Name of the releasing"):
            terminal.press(ENTER)
            terminal.until(seen)
        terminal.press("S. Lind" + ENTER)
        terminal.until("to release")
        for seen in ("[x] Both chucks are open", "[x] Drop zone is clear"):
            terminal.press(ENTER)
            terminal.until(seen)
        terminal.until("F5 releases the hold.")
        terminal.press(F5)
        terminal.until("Released by S. Lind.")
        terminal.press(F6)
        terminal.until("Looking about changes nothing")
        terminal.press(F4)
        terminal.until("[ ] Set down what hangs on the crane.")


def test_keys_that_are_hammered_or_glued_to_a_scan_pass_no_step(tmp_path: Path) -> None:
    with started(tmp_path, times=1) as terminal:
        terminal.until("Enter begin")
        terminal.press(ENTER, 0.8)
        terminal.until("Enter DONE")
        terminal.read(0.8)
        terminal.child.send("4012345678901" + ENTER)
        terminal.read(0.5)
        assert "Enter DONE" in terminal.text
        terminal.read(0.8)
        terminal.child.send(ENTER * 40)
        terminal.read(0.6)
        assert "1.2" in terminal.text
        assert "Enter begin" in terminal.text


@pytest.mark.parametrize("name", ["SIGTERM", "SIGHUP", "SIGINT", "SIGQUIT"])
def test_a_signal_restores_the_terminal_and_exits_within_two_seconds(tmp_path: Path, name: str) -> None:
    number = getattr(signal, name)
    with started(tmp_path) as terminal:
        terminal.until("Set the unwind speed to zero.")
        began = time.monotonic()
        terminal.child.kill(number)
        assert terminal.ended(4) == 128 + number
        assert time.monotonic() - began < 2
        after = terminal.raw.rsplit(b"\x1b[?1049h", 1)[1]
        assert b"\x1b[?1049l" in after, "the alternate screen is left"
        assert b"\x1b[?25h" in after, "the cursor is shown again"
        assert b"Traceback" not in terminal.raw
    verified = verify_bytes(journal(tmp_path))
    assert verified.whole
    assert verified.outcome == ""


def test_a_closed_terminal_ends_the_program_within_two_seconds(tmp_path: Path) -> None:
    with started(tmp_path) as terminal:
        terminal.until("Set the unwind speed to zero.")
        pid = terminal.child.pid
        os.close(terminal.child.child_fd)
        end = time.monotonic() + 3
        while time.monotonic() < end:
            done, _ = os.waitpid(pid, os.WNOHANG)
            if done:
                break
            time.sleep(0.05)
        assert done == pid, "still running"
        terminal.gone()
    assert verify_bytes(journal(tmp_path)).whole


def test_nothing_reaches_the_terminal_but_our_own_control_sequences(tmp_path: Path) -> None:
    with started(tmp_path) as terminal:
        terminal.until("Set the unwind speed to zero.")
        terminal.press("\x1bOQ")
        terminal.until("What is it about?")
        for keys in ("1" + ENTER, "1" + ENTER):
            terminal.press(keys[0])
            terminal.press(keys[1])
        terminal.until("in a few words")
        terminal.press("\x1b[200~[/b] \x9b31m \x1b]52;c;ZWNobw==\x07 \u202eesrever\x1b[201~")
        terminal.press(ENTER)
        terminal.until("1 open")
        terminal.press("\x1bOQ")
        terminal.until("[/b]")
        left = OURS.sub(b"", terminal.raw)
        strange = re.findall(rb"[\x00-\x07\x0b\x0c\x0e-\x1f\x7f]|\xc2[\x80-\x9f]|\xe2\x80[\xae\x8b]", left)
        assert not strange
        assert b"]52;c" not in b"".join(re.findall(rb"\x1b\][^\x07\x1b]*", terminal.raw))


@pytest.mark.parametrize("term", ["vt100", "linux", "xterm"])
def test_simple_terminals_show_the_page(tmp_path: Path, term: str) -> None:
    with started(tmp_path, "dry", TERM=term) as terminal:
        terminal.until("Set the unwind speed to zero.")
        assert "DRY RUN" in terminal.text


def test_without_colour_nothing_is_lost(tmp_path: Path) -> None:
    with started(tmp_path, "dry", NO_COLOR="1") as terminal:
        text = terminal.until("F7 values, states")
        assert text.count("DRY RUN") >= 3
        assert b"38;2;" not in terminal.raw
        assert b"38;5;" not in terminal.raw


def test_importing_the_pages_and_plain_mode_loads_no_textual() -> None:
    script = "import sys, runner.screen.plain; print(sorted(m for m in sys.modules if m.split('.')[0] == 'textual'))"
    done = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=True, cwd=ROOT)
    assert done.stdout.strip() == "[]"
