"""The same from outside: system calls of a real process are made to fail or to kill it, and are counted.

This proves that nothing goes past `runner.record.disk`. It needs strace and the right to use it, and takes a while.
"""

import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from runner.record.disk import DISK
from runner.record.journal import Journal
from runner.record.line import Entry
from runner.record.opening import open_journal
from runner.record.refused import Refused
from tests.record.sample import actions, content

ROOT = Path(__file__).parents[2]
CODE = """
import os, sys
from runner.record.disk import DISK
from runner.record.journal import create_journal
from tests.record.sample import LIVE, actions
journal = create_journal(sys.argv[1], DISK, LIVE)
for action in actions(3, end=sys.argv[2] == "to the end"):
    refused = journal.append(action)
    os.write(1, b"no\\n" if refused else b"kept\\n")
"""
DONE = actions(3, end=False)


CALLS = "fallocate|pwrite64|write|fdatasync|fsync|ftruncate"


def traced(path: Path, *inject: str, play: str = "and leave") -> tuple[int, int, list[str], int]:
    """(kept, refused, system calls on the journal, exit) of a process under strace."""
    path.parent.mkdir(exist_ok=True)
    log = path.with_suffix(".trace")
    options = [part for one in inject for part in ("-e", f"inject={one}")]
    command = ["strace", "-f", "-o", str(log), "-P", str(path), "-e", f"trace={CALLS.replace('|', ',')}", *options]
    child = [sys.executable, "-c", CODE, str(path), play]
    done = subprocess.run([*command, *child], cwd=ROOT, capture_output=True, text=True, check=False)
    calls = re.findall(rf"({CALLS})\(", log.read_text(encoding="utf-8", errors="replace"))
    return done.stdout.count("kept"), done.stdout.count("no\n"), calls, done.returncode


def may_trace() -> bool:
    """Whether strace is here and works."""
    if shutil.which("strace") is None:
        return False
    return subprocess.run(["strace", "-o", "/dev/null", "true"], capture_output=True, check=False).returncode == 0


pytestmark = [pytest.mark.long, pytest.mark.skipif(not may_trace(), reason="no strace, or no right to use it")]


def test_every_action_is_one_write_and_one_sync_of_the_system(tmp_path: Path) -> None:
    kept, _, calls, code = traced(tmp_path / "run.journal")
    assert (kept, code) == (len(DONE), 0)
    assert calls == ["fdatasync", "fallocate", *["pwrite64", "fdatasync"] * len(DONE)]


def test_the_end_of_a_run_cuts_its_file(tmp_path: Path) -> None:
    kept, _, calls, _ = traced(tmp_path / "run.journal", play="to the end")
    assert kept == len(DONE) + 1
    assert calls[-4:] == ["pwrite64", "fdatasync", "ftruncate", "fsync"]
    assert (tmp_path / "run.journal").read_bytes() == content(actions(3))


@pytest.mark.parametrize("error", ["EOPNOTSUPP", "ENOSPC", "EDQUOT", "EIO", "ENOSYS"])
def test_where_no_room_is_given_every_action_is_kept_all_the_same(error: str, tmp_path: Path) -> None:
    path = tmp_path / "run.journal"
    kept, refused, calls, _ = traced(path, f"fallocate:error={error}", play="to the end")
    assert (kept, refused) == (len(DONE) + 1, 0)
    assert calls.count("fallocate") == 1
    assert calls.count("fdatasync") == 1 + kept
    assert path.read_bytes() == content(actions(3))


@pytest.mark.parametrize("at", [2, 3, 7])
def test_after_a_sync_that_fails_there_is_no_second_one(at: int, tmp_path: Path) -> None:
    kept, refused, calls, _ = traced(tmp_path / "run.journal", f"fdatasync:error=EIO:when={at}")
    assert kept == at - 2  # the first sync is that of the empty file
    assert refused == len(DONE) - kept
    assert calls == ["fdatasync", "fallocate", *["pwrite64", "fdatasync"] * (kept + 1)]


@pytest.mark.parametrize("call", ["pwrite64", "fdatasync"])
def test_killed_at_any_call_it_loses_nothing_acknowledged(call: str, tmp_path: Path) -> None:
    for at in range(1, 100):
        path = tmp_path / f"run-{at}" / "run.journal"
        kept, _, _, code = traced(path, f"{call}:signal=KILL:when={at}")
        entries: list[Entry] = []
        opened = open_journal(str(path), DISK, entries.append)
        assert isinstance(opened, Journal) or kept == 0, opened
        events = [entry.event for entry in entries]
        assert events in [[event for action in DONE[:n] for event in action] for n in range(kept, len(DONE) + 1)]
        if not isinstance(opened, Refused):
            opened.close()
        if code == 0:
            assert at > len(DONE)
            return
    pytest.fail("it never survived")
