"""Killed at every step of its work with the disk, a program loses nothing that it had acknowledged.

A child process plays a run and says after each action that it was kept; it is killed (SIGKILL) at its first step,
then at its second, until it survives. The page cache outlives a process, so this shows the order of the steps;
`test_tail.py` drops what was not synced.
"""

import os
import signal
from collections.abc import Callable
from pathlib import Path

import pytest

from runner.record.disk import DISK, Io
from runner.record.journal import Journal, create_journal
from runner.record.line import Entry
from runner.record.opening import open_journal
from runner.record.refused import Refused
from runner.record.verify import verify_bytes
from tests.record.disks import Fault, FaultyDisk, dying, dying_after
from tests.record.sample import LIVE, Action, actions, as_kept, content

DONE = actions(2, end=False)
KEPT = as_kept(DONE)

Part = Callable[[str, Io, int], None]
"""What the child does with a journal at a path: it tells of each action kept."""


def play(path: str, io: Io, tell: int) -> None:
    """Make the journal, or go on with it, and append what is not there yet; one byte to `tell` for each action kept."""
    if not os.path.exists(path) or not verify_bytes(Path(path).read_bytes()).events:
        Path(path).unlink(missing_ok=True)
        journal = create_journal(path, io, LIVE)
    else:
        journal = open_journal(path, io, lambda _: None)
    assert isinstance(journal, Journal)
    for action in DONE[kept_actions(path) :]:
        assert journal.append(action) is None
        os.write(tell, b".")


def kept_actions(path: str) -> int:
    """How many whole actions the file has."""
    size = len(Path(path).read_bytes().rstrip(b"\0"))
    return max(count for count in range(len(DONE) + 1) if len(content(DONE[:count]) if count else b"") <= size)


def play_to_the_end(path: str, io: Io, tell: int) -> None:
    """A run that ends, and its journal closed."""
    journal = create_journal(path, io, LIVE)
    assert isinstance(journal, Journal)
    for action in actions(2):
        assert journal.append(action) is None
        os.write(tell, b".")
    journal.close()


def play_in_child(path: str, at: int, fault: Fault, part: Part = play) -> tuple[int, bool]:
    """(actions acknowledged, whether it was killed) of a child that dies at its Nth step with the disk."""
    told, tell = os.pipe()
    child = os.fork()
    if child == 0:
        status = 1
        try:
            part(path, FaultyDisk(DISK, at, fault), tell)
            status = 0
        finally:
            os._exit(status)
    os.close(tell)
    acknowledged = b""
    while piece := os.read(told, 100):
        acknowledged += piece
    os.close(told)
    _, status = os.waitpid(child, 0)
    killed = os.WIFSIGNALED(status) and os.WTERMSIG(status) == signal.SIGKILL
    assert killed or os.waitstatus_to_exitcode(status) == 0
    return len(acknowledged), killed


def open_again(path: Path, acknowledged: int) -> None:
    """All that was acknowledged is there, whole actions only, and appending goes on."""
    entries: list[Entry] = []
    journal = open_journal(str(path), DISK, entries.append)
    if isinstance(journal, Refused):
        assert acknowledged == 0, journal.words
        assert "never began" in journal.words or "No such file" in journal.words
        return
    journal.close()
    events = [entry.event for entry in entries]
    assert events in [flat(KEPT[:count]) for count in range(acknowledged, len(DONE) + 1)]
    assert verify_bytes(path.read_bytes()).whole


def flat(done: list[Action]) -> list[object]:
    """The events of actions."""
    return [event for action in done for event in action]


@pytest.mark.skipif(not hasattr(os, "fork"), reason="no fork here")
@pytest.mark.parametrize("fault", [dying, dying_after], ids=["in the middle of it", "when it is done"])
def test_nothing_acknowledged_is_lost_at_whatever_step_it_is_killed(fault: Fault, tmp_path: Path) -> None:
    for at in range(1, 200):
        path = tmp_path / f"run-{at}" / "run.journal"
        acknowledged, killed = play_in_child(str(path), at, fault)
        open_again(path, acknowledged)
        if not killed:
            assert acknowledged == len(DONE)
            assert at > 2 * len(DONE)
            return
    pytest.fail("it never survived")


@pytest.mark.skipif(not hasattr(os, "fork"), reason="no fork here")
def test_killed_again_and_again_on_opening_it_still_loses_nothing(tmp_path: Path) -> None:
    for torn in (b"", b"123 4567", b"\0" * 50, b"123 4567" + b"\0" * 50):
        for at in range(1, 200):
            path = tmp_path / f"run-{at}-{len(torn)}-{torn.count(0)}.journal"
            path.write_bytes(content(DONE[:3]) + torn)
            _, killed = play_in_child(str(path), at, dying_after)
            open_again(path, 3)
            assert sum(1 for _ in tmp_path.glob(f"{path.name}.torn-*")) == bool(torn.strip(b"\0"))
            if not killed:
                break
        else:
            pytest.fail("it never survived")


@pytest.mark.skipif(not hasattr(os, "fork"), reason="no fork here")
@pytest.mark.parametrize("fault", [dying, dying_after], ids=["in the middle of it", "when it is done"])
def test_killed_between_its_last_action_and_the_cut_a_run_has_ended_all_the_same(fault: Fault, tmp_path: Path) -> None:
    done, seen = actions(2), set[bool]()
    for at in range(1, 200):
        path = tmp_path / f"run-{at}" / "run.journal"
        acknowledged, killed = play_in_child(str(path), at, fault, play_to_the_end)
        if acknowledged < len(done) - 1:
            continue
        there = path.read_bytes()
        found = verify_bytes(there)
        if found.outcome or acknowledged == len(done):
            assert (found.flaws, found.outcome) == ((), "finished")
            seen.add(there == content(done))
            opened = open_journal(str(path), DISK, lambda _: None)
            assert isinstance(opened, Refused)
            assert "closed" in opened.words
            assert path.read_bytes() == content(done)
        if not killed:
            assert seen == {True, False}
            return
    pytest.fail("it never survived")
