"""One writer, ordinary files only, and words that say who and what."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

from runner.record.disk import DISK, Lock, holder_words
from runner.record.journal import Journal, create_journal
from runner.record.opening import open_journal
from runner.record.reading import verify_journal
from runner.record.refused import Refused
from tests.record.sample import LIVE, actions, content

WRITER = """
import sys
from runner.record.disk import DISK
from runner.record.opening import open_journal
opened = open_journal(sys.argv[1], DISK, lambda entry: None)
print(getattr(opened, "words", "opened"), flush=True)
sys.stdin.readline()
"""


@pytest.fixture
def path(tmp_path: Path) -> Path:
    made = tmp_path / "run.journal"
    made.write_bytes(content(actions(1, end=False)))
    return made


def writer(path: Path) -> subprocess.Popen[str]:
    """Another program that opens the journal and keeps it open until it is told or killed."""
    command = [sys.executable, "-c", WRITER, str(path)]
    return subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True)


def first_line(process: subprocess.Popen[str]) -> str:
    assert process.stdout is not None
    return process.stdout.readline().strip()


def test_of_two_programs_one_writes_and_the_other_is_told_who(path: Path) -> None:
    other = writer(path)
    try:
        assert first_line(other) == "opened"
        refused = open_journal(str(path), DISK, lambda _: None)
        assert isinstance(refused, Refused)
        assert f"process {other.pid} on " in refused.words
        assert "two terminals never write one run" in refused.words
        assert not isinstance(verify_journal(str(path)), Refused)  # reading needs no lock
    finally:
        other.kill()
        other.communicate()
    opened = open_journal(str(path), DISK, lambda _: None)  # a lock goes with its owner; the file of it stays
    assert isinstance(opened, Journal)
    opened.close()
    assert path.with_name("run.journal.lock").exists()


def test_of_many_at_once_exactly_one_writes(path: Path) -> None:
    writers = [writer(path) for _ in range(4)]
    try:
        answers = [first_line(process) for process in writers]
    finally:
        for process in writers:
            process.kill()
            process.communicate()
    assert sum(answer == "opened" for answer in answers) == 1
    assert sum("open already" in answer for answer in answers) == 3


def test_one_process_does_not_open_a_run_twice(path: Path) -> None:
    first = open_journal(str(path), DISK, lambda _: None)
    assert isinstance(first, Journal)
    assert isinstance(open_journal(str(path), DISK, lambda _: None), Refused)
    first.close()
    again = open_journal(str(path), DISK, lambda _: None)
    assert isinstance(again, Journal)
    again.close()


def test_a_lock_file_that_was_left_over_locks_nothing(path: Path) -> None:
    path.with_name("run.journal.lock").write_text("process 1 on elsewhere, no terminal\n", encoding="ascii")
    opened = open_journal(str(path), DISK, lambda _: None)
    assert isinstance(opened, Journal)
    opened.close()


def test_a_program_started_from_here_does_not_keep_the_lock(path: Path) -> None:
    opened = open_journal(str(path), DISK, lambda _: None)
    assert isinstance(opened, Journal)
    command = [sys.executable, "-c", "print('up', flush=True); input()"]
    child = subprocess.Popen(command, text=True, close_fds=False, stdin=subprocess.PIPE, stdout=subprocess.PIPE)
    try:
        assert first_line(child) == "up"
        opened.close()
        lock = DISK.lock(str(path))
        assert isinstance(lock, Lock)
        DISK.unlock(lock)
    finally:
        child.kill()
        child.communicate()


def test_what_a_lock_file_says_reaches_nobody_as_control_characters() -> None:
    assert "\x1b" not in holder_words(b"\x1b]0;x\x07\xff\x9b process 7")
    assert "another program" in holder_words(b"")


def make_odd(path: Path, what: str, target: Path) -> None:
    """Something that is no ordinary file."""
    if what == "link":
        path.symlink_to(target)
    elif what == "pipe":
        os.mkfifo(path)
    elif what == "folder":
        path.mkdir()
    else:
        path.symlink_to("/dev/full")


@pytest.mark.parametrize("what", ["link", "pipe", "folder", "device"])
def test_links_pipes_folders_and_devices_are_refused(what: str, path: Path, tmp_path: Path) -> None:
    odd = tmp_path / "odd.journal"
    make_odd(odd, what, path)
    before = path.read_bytes()
    for refused in (
        open_journal(str(odd), DISK, lambda _: None),
        create_journal(str(odd), DISK, LIVE),
        verify_journal(str(odd)),
    ):
        assert isinstance(refused, Refused)
        assert any(words in refused.words for words in ("it is a link", "no ordinary file", "a record at"))
    assert path.read_bytes() == before


@pytest.mark.parametrize("what", ["link", "pipe", "folder"])
def test_a_lock_that_is_no_ordinary_file_is_refused(what: str, path: Path, tmp_path: Path) -> None:
    make_odd(path.with_name("run.journal.lock"), what, tmp_path / "elsewhere")
    refused = open_journal(str(path), DISK, lambda _: None)
    assert isinstance(refused, Refused)
    assert not (tmp_path / "elsewhere").exists()


def test_a_journal_that_is_not_there_is_said_not_to_be(tmp_path: Path) -> None:
    refused = open_journal(str(tmp_path / "none.journal"), DISK, lambda _: None)
    assert isinstance(refused, Refused)
    assert "No such file" in refused.words
    assert list(tmp_path.iterdir()) == []


def test_a_folder_under_a_file_is_refused(path: Path) -> None:
    refused = create_journal(str(path / "live" / "run.journal"), DISK, LIVE)
    assert isinstance(refused, Refused)
    assert "Cannot begin a record" in refused.words
