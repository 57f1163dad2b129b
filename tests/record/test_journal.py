"""Appending: one write and one sync an action, nothing acknowledged before, nothing more after a failure."""

import errno
import os
import stat
from pathlib import Path

import pytest

from runner.record.disk import DISK
from runner.record.journal import Journal, create_journal
from runner.record.opening import open_journal
from runner.record.reading import read_journal
from runner.record.refused import Refused
from runner.record.verify import Verification, verify_bytes
from tests.record.disks import FaultyDisk, MemoryDisk, dropping, failing, short
from tests.record.sample import LIVE, actions, content

PATH = "records/live/2026/11/run.journal"


def test_an_action_is_one_write_and_one_sync() -> None:
    memory = MemoryDisk()
    disk = FaultyDisk(memory, 0, short)
    journal = create_journal(PATH, disk, LIVE)
    assert isinstance(journal, Journal)
    disk.log.clear()
    for action in actions(2):
        assert journal.append(action) is None
    assert disk.log == ["make_room", *["write", "sync"] * len(actions(2)), "truncate", "sync_whole"]
    assert memory.files[PATH].synced == content(actions(2))


def test_a_new_journal_has_its_name_on_the_disk_before_its_first_line() -> None:
    disk = FaultyDisk(MemoryDisk(), 0, short)
    create_journal(PATH, disk, LIVE)
    assert disk.log == ["make_folder", "lock", "create", "sync", "sync_folder"]


def test_the_mode_is_the_same_whatever_the_umask(tmp_path: Path) -> None:
    for umask in (0o000, 0o077, 0o777):
        path = tmp_path / f"records-{umask:o}" / "live" / "run.journal"
        before = os.umask(umask)
        try:
            journal = create_journal(str(path), DISK, LIVE)
        finally:
            os.umask(before)
        assert isinstance(journal, Journal)
        journal.close()
        assert stat.S_IMODE(path.stat().st_mode) == 0o640
        assert stat.S_IMODE(path.with_name("run.journal.lock").stat().st_mode) == 0o640
        assert stat.S_IMODE(path.parent.stat().st_mode) == 0o750
        assert stat.S_IMODE(path.parent.parent.stat().st_mode) == 0o750


def test_a_record_is_never_written_over(tmp_path: Path) -> None:
    path = tmp_path / "run.journal"
    path.write_bytes(b"something")
    refused = create_journal(str(path), DISK, LIVE)
    assert isinstance(refused, Refused)
    assert "never written over" in refused.words
    assert path.read_bytes() == b"something"


@pytest.mark.parametrize("step", ["write", "sync"])
@pytest.mark.parametrize("code", [errno.EIO, errno.ENOSPC, errno.EDQUOT])
@pytest.mark.parametrize("at", [1, 2, 3, 4, 5])
def test_after_one_failed_write_or_sync_nothing_is_written_or_synced_again(step: str, code: int, at: int) -> None:
    making = 1 if step == "sync" else 0  # a new file is synced once before its first line
    disk = FaultyDisk(MemoryDisk(), at + making, failing(code), (step,))
    journal = create_journal(PATH, disk, LIVE)
    assert isinstance(journal, Journal)
    disk.log.clear()
    for number, action in enumerate(actions(3), start=1):
        answer = journal.append(action)
        assert (answer is None) == (number < at)
        if answer is not None:
            assert answer.words == os.strerror(code) == journal.poisoned
    journal.close()
    assert disk.log == ["make_room", *["write", "sync"] * (at - 1), *["write", "sync"][: 1 if step == "write" else 2]]


def test_a_short_write_is_a_failed_one() -> None:
    memory = MemoryDisk()
    journal = create_journal(PATH, FaultyDisk(memory, 2, short, ("write",)), LIVE)
    assert isinstance(journal, Journal)
    first, second, third = actions(1)[:3]
    assert journal.append(first) is None
    assert isinstance(journal.append(second), Refused)
    assert isinstance(journal.append(third), Refused)
    journal.close()
    again = open_journal(PATH, memory, lambda _: None)
    assert isinstance(again, Journal)
    assert memory.files[PATH].synced == content([first])
    assert len(again.asides) == 1


def test_what_reads_as_kept_after_a_failed_sync_is_on_the_disk_once_the_run_is_open_again() -> None:
    memory = MemoryDisk()
    disk = FaultyDisk(memory, 3, dropping, ("sync",))
    journal = create_journal(PATH, disk, LIVE)
    assert isinstance(journal, Journal)
    done = actions(2)
    assert journal.append(done[0]) is None
    assert isinstance(journal.append(done[1]), Refused)
    journal.close()
    assert bytes(memory.files[PATH].shown).rstrip(b"\0") == content(done[:2])
    assert memory.files[PATH].synced.rstrip(b"\0") == content(done[:1])
    again = open_journal(PATH, memory, lambda _: None)
    assert isinstance(again, Journal)
    assert again.append(done[2]) is None
    assert memory.files[PATH].synced.rstrip(b"\0") == content(done[:3])


@pytest.mark.parametrize("at", range(1, 12))
def test_a_step_of_opening_that_fails_loses_nothing_and_can_be_done_again(at: int) -> None:
    whole = content(actions(2, end=False))
    memory = MemoryDisk()
    memory.put(PATH, whole + b"torn")
    opened = open_journal(PATH, FaultyDisk(memory, at, failing(errno.EIO)), lambda _: None)
    if isinstance(opened, Journal):
        opened.close()
        assert at > 8
    else:
        assert "Input/output error" in opened.words
    again = open_journal(PATH, memory, lambda _: None)
    assert isinstance(again, Journal)
    assert memory.files[PATH].synced == whole
    assert [aside.file for aside in again.asides if aside.size == 4][-1].startswith("run.journal.torn-")


def test_reading_changes_nothing_and_stops_at_the_first_flaw(tmp_path: Path) -> None:
    path = tmp_path / "run.journal"
    whole = content(actions(2, end=False))
    path.write_bytes(whole.replace(b"412 kg", b"999 kg", 1))
    entries: list = []
    found = read_journal(str(path), entries.append)
    assert isinstance(found, Verification)
    assert found == verify_bytes(path.read_bytes())
    assert [entry.number for entry in entries] == [1, 2, 3, 4, 5]
    assert isinstance(read_journal(str(tmp_path / "none"), entries.append), Refused)
