"""Two real terminals on one run: what is done at one shows at the other, and either may be killed."""

import os
import signal
from pathlib import Path

import pytest

from runner.engine import events as ev
from runner.record.reading import read_journal
from runner.record.refused import Refused
from tests.screen.terminal import ENTER, F3, F4, Terminal

FIRST, SECOND = "Set the unwind speed to zero.", "step 2 of 2"
FRESH = 0.5
"""Seconds; longer than a key counts as too soon on a real clock."""


def keeping(records: Path) -> Terminal:
    """The terminal that keeps the record."""
    return Terminal("-m", "tests.screen.on_shared", str(records))


def joining(records: Path, *more: str) -> Terminal:
    """A terminal that joins."""
    return Terminal("-m", "runner", "join", "--records", str(records), "--name", "rewind side", *more)


def kept(records: Path) -> list[ev.Event]:
    """All events on the disk."""
    found: list[ev.Event] = []
    path = next(records.rglob("*.journal"))
    assert not isinstance(read_journal(str(path), lambda entry: found.append(entry.event)), Refused)
    return found


def kill(terminal: Terminal) -> None:
    """As a lost process goes."""
    os.kill(terminal.child.pid, signal.SIGKILL)


@pytest.mark.parametrize("way_on", [ENTER, F4])
def test_two_terminals_go_through_steps_together_and_the_one_that_is_left_takes_over(
    tmp_path: Path, way_on: str
) -> None:
    with keeping(tmp_path) as a:
        a.until(FIRST)
        with joining(tmp_path) as b:
            b.until(FIRST)
            a.until("Terminal rewind side has joined this run.")
            b.press(ENTER, FRESH)
            b.until("( ) begun")
            a.until("At the other terminal: step 1.1 begun")
            a.press(ENTER, FRESH)
            a.until(SECOND)
            b.until(SECOND)
            kill(a)
            b.until("NOBODY KEEPS THE RECORD")
            b.press(way_on, FRESH)
            b.until("INTERRUPTED" if way_on == ENTER else "Do these acts now")
            b.press(F3, FRESH)
            b.until("Leave the program")
            b.press("\x1b[A", FRESH)
            b.press(ENTER, FRESH)
            assert b.ended(10) == 4
            assert "changeover resume" in b.text
        a.gone()
    events = kept(tmp_path)
    begun = next(event for event in events if isinstance(event, ev.StepBegun))
    done = next(event for event in events if isinstance(event, ev.StepDone))
    assert (begun.terminal, done.terminal) == ("rewind side", "")
    assert any(isinstance(event, ev.MadeSafe) for event in events) == (way_on == F4)


def test_a_joined_terminal_that_is_killed_is_told_of_and_its_list_can_be_done_at_the_other(tmp_path: Path) -> None:
    with keeping(tmp_path) as a:
        a.until(FIRST)
        with joining(tmp_path) as b:
            b.until(FIRST)
            b.press(ENTER, FRESH)
            b.until("( ) begun")
            kill(b)
            a.until("has left this run; its list can be done here.")
            a.press(ENTER, FRESH)
            a.until(SECOND)
            b.gone()
        with joining(tmp_path) as again:
            again.until(SECOND)


def test_a_run_that_is_open_elsewhere_is_not_resumed_and_says_how_to_join_it(tmp_path: Path) -> None:
    with keeping(tmp_path) as a:
        a.until(FIRST)
        with Terminal("-m", "runner", "resume", "--records", str(tmp_path)) as other:
            other.until("join it from here with: changeover join")
            assert other.ended(10) == 2


def test_what_is_joined_line_by_line_is_told_what_is_done_at_the_screen(tmp_path: Path) -> None:
    with keeping(tmp_path) as a:
        a.until(FIRST)
        with joining(tmp_path, "--plain") as b:
            b.until("type begin")
            a.press(ENTER, FRESH)
            a.until("( ) begun")
            b.until("* At the other terminal: step 1.1 begun")
            b.press("again\r")
            b.press("done\r", FRESH)
            a.until(SECOND)
            b.until("1.2 to do, 2 of 2")
            b.press("\x04", FRESH)
            b.until("This terminal has left")
            a.until("has left this run")


def test_nothing_can_be_joined_where_nothing_is_open(tmp_path: Path) -> None:
    with joining(tmp_path) as b:
        b.until("There is no unfinished run.")
        assert b.ended(10) == 2
