"""What a crash leaves is set aside, to the byte; what was changed is never cut. Over all places, not some."""

import random

import pytest

from runner.engine.events import TailSetAside
from runner.record.journal import Journal, create_journal
from runner.record.line import Damage, Entry, decode
from runner.record.opening import open_journal
from runner.record.refused import Refused
from runner.record.tail import may_be_set_aside
from runner.record.verify import verify, verify_bytes
from tests.record.disks import MemoryDisk
from tests.record.sample import LIVE, Action, actions, content, lines, moment

PATH = "records/live/2026/11/run.journal"


def opened(text: bytes) -> tuple[Journal | Refused, list[Entry], MemoryDisk]:
    """Open a journal with these bytes, in memory."""
    disk, seen = MemoryDisk(), list[Entry]()
    disk.put(PATH, text)
    return open_journal(PATH, disk, seen.append), seen, disk


def ends_of(done: list[Action]) -> list[int]:
    """The offsets at which actions end."""
    return [0, *(len(content(done[:count])) for count in range(1, len(done) + 1))]


def test_a_journal_cut_at_any_byte_opens_at_its_last_whole_action() -> None:
    done = actions(4, end=False)
    whole, ends = content(done), ends_of(done)
    for cut in range(len(whole) + 1):
        journal, seen, disk = opened(whole[:cut])
        good = max(end for end in ends if end <= cut)
        if good == 0:
            assert isinstance(journal, Refused)
            assert "never began" in journal.words
            assert bytes(disk.files[PATH].shown) == whole[:cut]
            continue
        assert isinstance(journal, Journal), (cut, journal)
        assert [entry.event for entry in seen] == [event for action in done[: ends.index(good)] for event in action]
        assert bytes(disk.files[PATH].synced) == whole[:good]
        assert [aside.size for aside in journal.asides] == ([cut - good] if cut > good else [])
        if cut > good:
            assert disk.files[f"{PATH}.torn-1"].synced == whole[good:cut]
            assert disk.files[f"{PATH}.torn-1"].named


def test_every_changed_bit_is_found_in_its_line_and_never_cut() -> None:
    whole = lines(actions(6))
    assert 40 <= len(whole) <= 60
    for number, line in enumerate(whole, start=1):
        rest = b"".join(whole[number:])
        for at in range(len(line)):
            for bit in range(8):
                flipped = line[:at] + bytes([line[at] ^ 1 << bit]) + line[at + 1 :]
                first = flipped[: flipped.find(b"\n") + 1] or flipped + rest[: rest.find(b"\n") + 1]
                assert isinstance(decode(first), Damage), (number, at, bit)
                assert not may_be_set_aside(flipped + rest), (number, at, bit)


@pytest.mark.parametrize("seed", range(60))
def test_verifying_names_the_line_of_a_changed_bit(seed: int) -> None:
    chance = random.Random(seed)
    whole = content(actions(6))
    at = chance.randrange(len(whole))
    flipped = whole[:at] + bytes([whole[at] ^ 1 << chance.randrange(8)]) + whole[at + 1 :]
    flaws = verify_bytes(flipped).flaws
    assert flaws[0].line == whole[:at].count(b"\n") + 1
    journal, _, disk = opened(flipped)
    assert isinstance(journal, Refused)
    assert f"line {flaws[0].line}" in journal.words
    assert bytes(disk.files[PATH].shown) == flipped


@pytest.mark.parametrize("size", [1, 2, 3, 511, 512, 513, 4095, 4096, 4097, 8192])
def test_zeros_and_leavings_after_the_end_are_set_aside(size: int) -> None:
    whole = content(actions(2, end=False))
    leavings = random.Random(size).randbytes(size)
    half = lines(actions(2, end=False))[-1][: size % 300]
    for tail in (b"\0" * size, leavings, leavings + b"\0" * size, half + b"\0" * size):
        assert not verify_bytes(whole + tail).whole
        journal, _, disk = opened(whole + tail)
        assert isinstance(journal, Journal), tail[:40]
        assert bytes(disk.files[PATH].synced) == whole
        assert disk.files[f"{PATH}.torn-1"].synced == tail


def test_zeros_never_verify() -> None:
    for size in (0, 1, 4096, 100_000):
        assert not verify_bytes(b"\0" * size).whole
        assert not verify([b"\0" * size + b"\n"]).whole


def test_a_tail_is_set_aside_once_whatever_interrupts_it() -> None:
    whole = content(actions(1, end=False))
    disk = MemoryDisk()
    disk.put(PATH, whole + b"12")
    disk.put(f"{PATH}.torn-1", b"12")  # the copy was made, and the program killed before the cut
    journal = open_journal(PATH, disk, lambda _: None)
    assert isinstance(journal, Journal)
    assert [aside.file for aside in journal.asides] == ["run.journal.torn-1"]
    journal.append([TailSetAside("", moment(300), aside.size, aside.file) for aside in journal.asides])
    journal.close()
    disk.files[PATH].shown += b"34"
    again = open_journal(PATH, disk, lambda _: None)
    assert isinstance(again, Journal)
    assert [aside.file for aside in again.asides] == ["run.journal.torn-2"]
    assert disk.files[f"{PATH}.torn-2"].synced == b"34"


def test_after_a_power_cut_all_that_was_acknowledged_is_there() -> None:
    """Every state that the disk may be in while an action is written: its bytes cut anywhere, or zeros in their place."""
    done = actions(2)
    disk = MemoryDisk()
    journal = create_journal(PATH, disk, LIVE)
    assert isinstance(journal, Journal)
    for number, action in enumerate(done):
        before = disk.files[PATH].synced
        assert disk.files[PATH].named
        assert journal.append(action) is None
        written = disk.files[PATH].synced[len(before) :]
        assert written, "append returned before its lines were synced"
        for cut in range(0, len(written) + 1, 7):
            for tail in (written[:cut], written[:cut] + bytes(len(written) - cut), bytes(cut)):
                again, seen, _ = opened(before + tail)
                kept = [entry.event for entry in seen]
                expected = [event for earlier in done[:number] for event in earlier]
                assert kept in (expected, [*expected, *action])
                assert isinstance(again, Journal) or number == 0 or number == len(done) - 1
