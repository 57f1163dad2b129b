"""What a crash leaves is set aside, to the byte; what was changed is never cut. Over all places, not some."""

import random

import pytest

from runner.engine.events import TailSetAside
from runner.record.journal import Journal
from runner.record.line import ROOM, Damage, Entry, decode
from runner.record.opening import open_journal
from runner.record.refused import Refused
from runner.record.tail import may_be_set_aside
from runner.record.verify import verify, verify_bytes
from tests.record.disks import MemoryDisk
from tests.record.sample import Action, actions, content, lines, moment

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
    whole, ends = lines(actions(6)), ends_of(actions(6))
    assert 40 <= len(whole) <= 60
    text, begin = b"".join(whole), 0
    for number, line in enumerate(whole, start=1):
        good, rest = max(end for end in ends if end <= begin), b"".join(whole[number:])
        before, kept = text[good:begin], text.count(b"\n", 0, good)
        begin += len(line)
        for at in range(len(line)):
            for bit in range(8):
                flipped = line[:at] + bytes([line[at] ^ 1 << bit]) + line[at + 1 :]
                first = flipped[: flipped.find(b"\n") + 1] or flipped + rest[: rest.find(b"\n") + 1]
                assert isinstance(decode(first), Damage), (number, at, bit)
                assert not may_be_set_aside(before + flipped + rest, good, len(before), kept), (number, at, bit)


@pytest.mark.parametrize("room", [0, 600, ROOM], ids="{} bytes of room".format)
@pytest.mark.parametrize("seed", range(60))
def test_verifying_names_the_line_of_a_changed_bit(seed: int, room: int) -> None:
    chance = random.Random(seed)
    whole = content(actions(6, end=not room))
    at = chance.randrange(len(whole)) if seed else whole.rindex(b" ")  # of which one bit makes a zero byte
    flipped = (
        whole[:at] + bytes([whole[at] ^ 1 << (chance.randrange(8) if seed else 5)]) + whole[at + 1 :] + bytes(room)
    )
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
    for tail in (leavings, leavings + b"\0" * size, half + b"\0" * size):
        written = tail.rstrip(b"\0")
        assert verify_bytes(whole + tail).whole == (not written)
        journal, _, disk = opened(whole + tail)
        assert isinstance(journal, Journal), tail[:40]
        assert bytes(disk.files[PATH].synced) == whole
        assert [aside.size for aside in journal.asides] == ([len(written)] if written else [])
        if written:
            assert disk.files[f"{PATH}.torn-1"].synced == written


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
