"""After a power cut all that was acknowledged is there, whatever sectors of the last write are missing.

A disk writes a sector (512 bytes) or does not, in any order. Where it has not, room that was given before reads as
zeros. Every subset of the sectors of every action is looked at, at several places of the actions in the sectors.
"""

import itertools
from collections.abc import Iterator

import pytest

from runner.record.journal import Journal, create_journal
from runner.record.line import ROOM, Entry
from runner.record.opening import open_journal
from runner.record.refused import Refused
from runner.record.verify import verify_bytes
from tests.record.disks import MemoryDisk
from tests.record.sample import LIVE, Action, actions, as_kept, begun, content, lines

PATH = "records/live/2026/11/run.journal"
SECTOR = 512


def shifted(by: int) -> list[Action]:
    """A run of which all that comes after the first line lies so many bytes further on."""
    first, *rest = actions(2)
    return [(begun(text="# " + "x" * by + "\n"), *first[1:]), *rest]


def reopened(there: bytes) -> tuple[Journal | Refused, list[object], MemoryDisk]:
    """What opening makes of these bytes."""
    disk, seen = MemoryDisk(), list[Entry]()
    disk.put(PATH, there)
    return open_journal(PATH, disk, seen.append), [entry.event for entry in seen], disk


def with_sectors_missing(written: bytes, start: int) -> Iterator[bytes]:
    """What is on the disk of a write at `start`, for every subset of its sectors; zeros are where the others were."""
    first, last = start // SECTOR, (start + len(written) - 1) // SECTOR
    spans = [(max(0, k * SECTOR - start), (k + 1) * SECTOR - start) for k in range(first, last + 1)]
    for there in itertools.product((True, False), repeat=len(spans)):
        yield b"".join(
            written[a:b] if kept else bytes(len(written[a:b])) for (a, b), kept in zip(spans, there, strict=True)
        )


@pytest.mark.parametrize("by", range(0, SECTOR, 73))
def test_nothing_acknowledged_is_lost_whatever_sectors_are_missing(by: int) -> None:
    done, opened = as_kept(shifted(by)), 0
    each = lines(shifted(by))
    for number, action in enumerate(done):
        count = sum(len(earlier) for earlier in done[:number])
        before = b"".join(each[:count])
        of_action = each[count : count + len(action)]
        kept = [event for earlier in done[:number] for event in earlier]
        for state in with_sectors_missing(b"".join(of_action), len(before)):
            there = (before + state).ljust(ROOM, b"\0")
            journal, seen, disk = reopened(there)
            whole = state == b"".join(of_action)
            assert seen == (kept + list(action) if whole else kept)
            if number == 0 and not whole:
                assert isinstance(journal, Refused)
                assert "never began" in journal.words
            elif number == len(done) - 1 and whole:
                assert isinstance(journal, Refused)
                assert "closed" in journal.words
            else:
                assert isinstance(journal, Journal), (number, journal)
                good = before + (state if whole else b"")
                written = there.rstrip(b"\0")[len(good) :]
                assert disk.files[PATH].synced == good
                assert [aside.size for aside in journal.asides] == ([len(written)] if written else [])
                opened += 1
    assert opened > 30


def test_a_hole_in_an_action_that_others_follow_is_never_cut() -> None:
    """Zeros where sectors lie, in an action that was acknowledged: another whole action stands behind it."""
    done = shifted(0)
    text, refused = content(done[:-1]), 0
    ends = [len(content(done[:count])) for count in range(1, len(done))]
    for start in range(SECTOR * (ends[0] // SECTOR + 1), ends[-2] - SECTOR, SECTOR):
        there = (text[:start] + bytes(SECTOR) + text[start + SECTOR :]).ljust(ROOM, b"\0")
        journal, _, disk = reopened(there)
        if start + SECTOR <= ends[-2]:
            assert isinstance(journal, Refused), start
            assert bytes(disk.files[PATH].shown) == there
            refused += 1
    assert refused > 5


def test_a_write_into_room_that_was_cut_anywhere_is_set_aside_and_no_more() -> None:
    done = actions(2, end=False)
    whole = content(done)
    ends = [0, *(len(content(done[:count])) for count in range(1, len(done) + 1))]
    for cut in range(ends[1], len(whole) + 1):
        good = max(end for end in ends if end <= cut)
        there = whole[:cut].ljust(ROOM, b"\0")
        assert verify_bytes(there).whole == (cut == good)
        journal, _, disk = reopened(there)
        assert isinstance(journal, Journal), cut
        assert disk.files[PATH].synced == whole[:good]
        assert [aside.size for aside in journal.asides] == ([cut - good] if cut > good else [])
        if cut > good:
            assert disk.files[f"{PATH}.torn-1"].synced == whole[good:cut]


def test_a_journal_cut_in_its_first_action_never_began() -> None:
    first = content(actions(1)[:1])
    for cut in range(len(first)):
        journal, _, disk = reopened(first[:cut].ljust(ROOM, b"\0"))
        assert isinstance(journal, Refused)
        assert "never began" in journal.words
        assert list(disk.files) == [PATH]


def test_an_action_is_on_the_disk_when_append_returns() -> None:
    done, disk = actions(2), MemoryDisk()
    journal = create_journal(PATH, disk, LIVE)
    assert isinstance(journal, Journal)
    for number, action in enumerate(done, start=1):
        assert journal.append(action) is None
        assert disk.files[PATH].named
        assert disk.files[PATH].synced.rstrip(b"\0") == content(done[:number])


def test_a_hole_of_another_shape_than_missing_sectors_is_a_change() -> None:
    whole = content(actions(2, end=False))
    last = len(content(actions(2, end=False)[:-1]))
    sector = -last % SECTOR + last
    assert sector + SECTOR < len(whole)
    for start, end in (
        (sector + 1, sector + SECTOR),
        (sector, sector + SECTOR - 1),
        (last + 1, sector),
        (last, last + 1),
    ):
        there = (whole[:start] + bytes(end - start) + whole[end:]).ljust(ROOM, b"\0")
        journal, _, disk = reopened(there)
        assert isinstance(journal, Refused), (start, end)
        assert "is damaged in line" in journal.words
        assert bytes(disk.files[PATH].shown) == there


@pytest.mark.parametrize("end", [False, True], ids=["open", "ended"])
def test_every_bit_of_the_padding_that_is_not_zero_is_a_flaw(end: bool) -> None:
    done = actions(1, end=end)
    whole = content(done)
    for at in range(300):
        for bit in range(8):
            there = whole + bytes(at) + bytes([1 << bit]) + bytes(299 - at)
            found = verify_bytes(there)
            assert found.flaws[0].line == len(lines(done)) + 1
            assert found.events == len(lines(done))
            if at % 37:
                continue
            journal, seen, disk = reopened(there)
            assert seen == [event for action in as_kept(done) for event in action]
            if end:
                assert isinstance(journal, Refused)
                assert bytes(disk.files[PATH].shown) == there
            else:
                assert isinstance(journal, Journal)
                assert [aside.size for aside in journal.asides] == [at + 1]
