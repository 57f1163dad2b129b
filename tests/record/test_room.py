"""The room a journal is given ahead: it costs no promise where it is not to be had, and is gone when the run has ended."""

import errno
import os
import random
import threading
from io import BufferedReader, RawIOBase
from pathlib import Path

import pytest

from runner.engine import events as ev
from runner.record.disk import DISK
from runner.record.journal import Journal, create_journal
from runner.record.line import ROOM, Kind
from runner.record.opening import open_journal
from runner.record.reading import lines_of, verify_journal
from runner.record.refused import Refused
from runner.record.store import summarise
from runner.record.verify import verify, verify_bytes
from tests.record.disks import FaultyDisk, LazyDisk, MemoryDisk, failing, short
from tests.record.sample import LIVE, Action, actions, begun, content, lines, moment

PATH = "records/live/2026/11/run.journal"


class NoRoom(MemoryDisk):
    """A disk that gives no room, or a part of it, and says why."""

    def __init__(self, code: int, part: int = 0) -> None:
        super().__init__()
        self.code, self.part, self.asked = code, part, 0

    def make_room(self, fd: int, offset: int, size: int) -> None:
        self.asked += 1
        super().make_room(fd, offset, min(size, self.part))
        raise OSError(self.code, os.strerror(self.code))


def created(disk: MemoryDisk | FaultyDisk) -> Journal:
    journal = create_journal(PATH, disk, LIVE)
    assert isinstance(journal, Journal)
    return journal


def played(journal: Journal, done: list[Action]) -> None:
    for action in done:
        assert journal.append(action) is None


def long_run(size: int) -> list[Action]:
    """An open run of at least so many bytes."""
    done: list[Action] = [(begun(),)]
    done += [(ev.Paused("Ada", moment(number), "x" * 900),) for number in range(size // 900 + 1)]
    return done


def test_a_file_has_room_for_what_comes_next_and_is_cut_when_it_is_closed() -> None:
    disk = MemoryDisk()
    log = FaultyDisk(disk, 0, short)
    journal, done = created(log), long_run(3 * ROOM)
    end = 0
    for number, action in enumerate(done, start=1):
        assert journal.append(action) is None
        end += len(disk.files[PATH].synced[end:].rstrip(b"\0"))
        assert len(disk.files[PATH].synced) == (end // ROOM + 1) * ROOM, number
    assert log.log.count("make_room") == end // ROOM + 1
    assert end == len(content(done)) == journal.end
    assert verify_bytes(bytes(disk.files[PATH].shown)).whole
    journal.close()
    assert log.log[-2:] == ["truncate", "sync_whole"]
    assert disk.files[PATH].synced == content(done)


def test_an_action_that_is_longer_than_a_step_has_room_too() -> None:
    disk = MemoryDisk()
    journal, done = created(disk), [(begun(text="x" * (2 * ROOM + 5)),), *actions(1, end=False)[1:]]
    played(journal, [done[0]])
    assert len(disk.files[PATH].synced) == 3 * ROOM


@pytest.mark.parametrize("part", [0, 700, ROOM - 1])
@pytest.mark.parametrize("code", [errno.EOPNOTSUPP, errno.ENOSPC, errno.EDQUOT, errno.EFBIG, errno.EIO, errno.EBADF])
def test_where_no_room_is_given_the_file_grows_and_nothing_is_poisoned(code: int, part: int) -> None:
    disk, done = NoRoom(code, part), long_run(2 * ROOM)
    journal = created(disk)
    for number, action in enumerate(done, start=1):
        assert journal.append(action) is None
        assert disk.files[PATH].synced.rstrip(b"\0") == content(done[:number]) or number % 50
    assert journal.poisoned == ""
    assert disk.asked == len(content(done)) // ROOM + 1  # once for each step, not for each action
    journal.close()
    assert disk.files[PATH].synced == content(done)


def test_a_disk_that_is_full_poisons_when_a_line_does_not_fit_and_not_before() -> None:
    class Full(NoRoom):
        def write(self, fd: int, content: bytes, offset: int) -> int:
            if offset + len(content) > 4000:
                raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))
            return super().write(fd, content, offset)

    disk = Full(errno.ENOSPC)
    journal, done = created(disk), actions(4, end=False)
    answers = [journal.append(action) for action in done]
    kept = answers.index(next(answer for answer in answers if answer is not None))
    assert kept > 1
    assert all(isinstance(answer, Refused) and "No space left" in answer.words for answer in answers[kept:])
    journal.close()
    assert disk.files[PATH].synced == content(done[:kept])


@pytest.mark.parametrize("last", [ev.Finished("Ada", moment(900), 0), ev.Abandoned("Ada", moment(900), "x")])
def test_the_end_of_a_run_cuts_its_file_at_once_and_nothing_is_written_after_it(last: ev.Event) -> None:
    disk = MemoryDisk()
    log = FaultyDisk(disk, 0, short)
    journal, done = created(log), [*actions(2, end=False), (last,)]
    played(journal, done)
    assert log.log[-4:] == ["write", "sync", "truncate", "sync_whole"]
    assert disk.files[PATH].synced == content(done)
    before = list(log.log)
    refused = journal.append([ev.Paused("Ada", moment(901), "x")])
    assert isinstance(refused, Refused)
    assert "has ended" in refused.words
    journal.close()
    assert log.log == before


@pytest.mark.parametrize("step", ["truncate", "sync_whole"])
def test_a_cut_that_fails_is_not_tried_again_and_the_run_has_ended_all_the_same(step: str) -> None:
    disk = MemoryDisk()
    log = FaultyDisk(disk, 1, failing(errno.EIO), (step,))
    journal = created(log)
    played(journal, actions(2))
    journal.close()
    assert journal.poisoned == ""
    assert log.log[-2:] == (["sync", "truncate"] if step == "truncate" else ["truncate", "sync_whole"])
    found = verify_bytes(disk.files[PATH].synced)
    assert (found.whole, found.outcome) == (True, "finished")


@pytest.mark.parametrize("step", ["write", "sync"])
def test_a_poisoned_journal_is_left_as_it_is(step: str) -> None:
    log = FaultyDisk(MemoryDisk(), 2 if step == "write" else 3, failing(errno.EIO), (step,))
    journal = created(log)
    assert journal.append(actions(1)[0]) is None
    assert isinstance(journal.append(actions(1)[1]), Refused)
    before = list(log.log)
    journal.close()
    assert log.log == before


@pytest.mark.parametrize("size", [1, 511, 512, ROOM, 3 * ROOM + 7])
def test_room_that_an_open_run_did_not_use_goes_without_a_word_on_opening(size: int) -> None:
    disk, whole = MemoryDisk(), content(actions(2, end=False))
    disk.put(PATH, whole + bytes(size))
    assert verify_bytes(whole + bytes(size)).whole
    log = FaultyDisk(disk, 0, short)
    journal = open_journal(PATH, log, lambda _: None)
    assert isinstance(journal, Journal)
    assert log.log == ["open_write", "lock", "rewrite", "truncate", "sync_whole"]
    assert journal.asides == ()
    assert list(disk.files) == [PATH]
    assert disk.files[PATH].synced == whole


def test_behind_an_ended_run_there_may_be_its_last_room_and_not_a_byte_more() -> None:
    whole = content(actions(2))
    assert verify_bytes(whole.ljust(ROOM, b"\0")).whole
    flaws = verify_bytes(whole.ljust(ROOM + 1, b"\0")).flaws
    assert [(flaw.line, flaw.kind) for flaw in flaws] == [(len(lines(actions(2))) + 1, Kind.ZEROS)]
    for length, is_cut in ((ROOM, True), (ROOM + 1, False)):
        disk = MemoryDisk()
        disk.put(PATH, whole.ljust(length, b"\0"))
        refused = open_journal(PATH, disk, lambda _: None)
        assert isinstance(refused, Refused)
        assert "was finished" in refused.words
        assert len(disk.files[PATH].synced) == (len(whole) if is_cut else length)


def test_zeros_that_come_in_pieces_are_padding_only_where_nothing_is_behind_them() -> None:
    whole = lines(actions(1, end=False))
    assert verify([*whole, bytes(50), bytes(50)]).whole
    for behind in (b"\1", whole[0]):
        flaws = verify([*whole, bytes(50), behind]).flaws
        assert [(flaw.line, flaw.kind) for flaw in flaws] == [(len(whole) + 1, Kind.ZEROS)]


def test_on_this_disk_an_open_journal_reads_as_whole_and_a_closed_one_has_its_length(tmp_path: Path) -> None:
    path = tmp_path / "live" / "2026" / "11" / f"{LIVE.run}.journal"
    journal, done = create_journal(str(path), DISK, LIVE), actions(2, end=False)
    assert isinstance(journal, Journal)
    played(journal, done)
    assert path.read_bytes().rstrip(b"\0") == content(done)
    found, summary = verify_journal(str(path)), summarise(str(path))
    assert not isinstance(found, Refused)
    assert (found.whole, found.head, found.outcome) == (True, journal.head, "")
    assert summary is not None
    assert (summary.words, summary.events) == ("", len(lines(done)))
    journal.close()
    assert path.read_bytes() == content(done)


class Growing(RawIOBase):
    """A file that another process writes to after so many reads."""

    def __init__(self, before: bytes, after: bytes, reads: int) -> None:
        self.states, self.reads, self.at = (before, after), reads, 0

    def readable(self) -> bool:
        return True

    def seekable(self) -> bool:
        return True

    def seek(self, offset: int, whence: int = 0, /) -> int:
        state = self.states[self.reads <= 0]
        self.at = offset if whence == 0 else len(state) + offset if whence == 2 else self.at + offset
        return self.at

    def readinto(self, buffer: memoryview, /) -> int:  # type: ignore[override] # all that a reader gives it
        state = self.states[self.reads <= 0]
        self.reads -= 1
        piece = state[self.at : self.at + len(buffer)]
        buffer[: len(piece)] = piece
        self.at += len(piece)
        return len(piece)


@pytest.mark.parametrize("reads", [0, 1, 2, 3, 4])
@pytest.mark.parametrize("seed", range(20))
def test_what_is_written_between_two_reads_of_a_reader_is_no_flaw(seed: int, reads: int) -> None:
    done, chance = long_run(3 * ROOM), random.Random(seed)
    ends = [len(content(done[:count])) for count in range(1, len(done) + 1)]
    whole = content(done)
    early, late = sorted(chance.sample(ends, 2))
    before, after = (whole[:end].ljust((end // ROOM + 1) * ROOM, b"\0") for end in (early, late))
    with BufferedReader(Growing(before, after, reads), buffer_size=1 << 16) as file:
        found = verify(lines_of(file))
    assert found.flaws == ()
    assert found.events in (verify_bytes(before).events, verify_bytes(after).events)


def test_a_journal_that_is_being_written_is_read_without_a_flaw_but_an_unfinished_end(tmp_path: Path) -> None:
    path = str(tmp_path / "run.journal")
    journal, done = create_journal(path, LazyDisk(), LIVE), long_run(4 * ROOM)
    assert isinstance(journal, Journal)
    played(journal, done[:1])
    writer = threading.Thread(target=played, args=(journal, done[1:]))
    writer.start()
    events = [0]
    while writer.is_alive() or events[-1] < len(done):
        found = verify_journal(path)
        assert not isinstance(found, Refused)
        assert {flaw.kind for flaw in found.flaws} <= {Kind.INCOMPLETE}
        events.append(found.events)
    writer.join()
    journal.close()
    assert events == sorted(events)
    assert verify_bytes(Path(path).read_bytes()).events == len(done)
