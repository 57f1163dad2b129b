"""The register of heads: what it shows of a folder, what a crash may leave in it, two terminals at once, lost and rebuilt."""

import errno
import itertools
import multiprocessing
from pathlib import Path

import pytest

from runner.engine import events as ev
from runner.record.disk import DISK
from runner.record.line import Mark
from runner.record.refused import Refused
from runner.record.register import (
    GENESIS,
    KINDS,
    NAME,
    Known,
    Register,
    against,
    lines_of,
    read_register,
    start_words,
    unknown,
)
from runner.record.registering import Registrar, enter, folder_of, kind_of, rebuild, register_at, strays
from tests.record.disks import FaultyDisk, MemoryDisk, failing
from tests.record.sample import RUN, actions, content, lines, moment

FOLDER = "records"
PATH = f"{FOLDER}/{NAME}"
UTC = moment(0).utc


def known(count: int, kind: str = "reached", run: str = RUN) -> Known:
    return Known(kind, run, "live", f"{count:064x}", count, moment(count).utc)


def entered(disk: MemoryDisk, *entries: Known) -> None:
    for one in entries:
        assert enter(FOLDER, (one,), disk) is None


def there(disk: MemoryDisk) -> Register:
    register = register_at(FOLDER, disk)
    assert isinstance(register, Register)
    return register


def strip(register: Register) -> list[tuple[str, int]]:
    return [(one.kind, one.count) for one in register.lines]


def test_a_register_begins_with_the_first_entry_and_grows() -> None:
    disk = MemoryDisk()
    assert register_at(FOLDER, disk) is None
    entered(disk, known(2, "opened"), known(5))
    register = there(disk)
    assert strip(register) == [("begun", 0), ("opened", 2), ("reached", 5)]
    assert (register.flaw, start_words(register)) == ("", "")
    assert [one.number for one in register.lines] == [1, 2, 3]
    assert disk.files[PATH].synced == bytes(disk.files[PATH].shown)
    assert {one.kind for one in register.lines} <= set(KINDS)


def test_an_entry_is_on_the_disk_when_it_is_entered() -> None:
    # the steps of one entry, in order: nothing is written behind what was not synced
    disk = FaultyDisk(MemoryDisk(), 0, failing(errno.EIO))
    assert enter(FOLDER, (known(2),), disk) is None
    assert disk.log[-4:] == ["create", "write", "sync", "sync_folder"]
    disk.log.clear()
    assert enter(FOLDER, (known(3),), disk) is None
    assert [step for step in disk.log if step in ("write", "sync", "truncate")] == ["write", "sync"]


WHOLE, _ = lines_of([Known("begun", "", "", "", 0, UTC), known(2, "opened"), known(5), known(9, "closed")], 0, GENESIS)


def test_cut_at_any_byte_a_register_goes_on_from_its_last_whole_line() -> None:
    for size in range(len(WHOLE) + 1):
        disk = MemoryDisk()
        disk.put(PATH, WHOLE[:size])
        entered(disk, known(20))
        register = there(disk)
        kept = WHOLE[:size].count(b"\n")
        assert register.flaw == ""
        assert len(register.lines) == max(1, kept) + 1
        assert register.lines[-1].count == 20


def test_any_flipped_bit_of_a_register_is_found_and_nothing_after_it_counts() -> None:
    for at, bit in itertools.product(range(0, len(WHOLE) - 1, 3), range(8)):
        changed = WHOLE[:at] + bytes([WHOLE[at] ^ 1 << bit]) + WHOLE[at + 1 :]
        register = read_register(changed)
        line = WHOLE.count(b"\n", 0, at) + 1
        # a zero byte in the last line, or in the two that begin it, may be a sector that was not written
        assert register.flaw or b"\0" in changed, (at, bit)
        assert len(register.lines) < line


def test_sectors_of_the_last_line_that_were_not_written_are_set_right() -> None:
    for hole in range(len(WHOLE) - 300, len(WHOLE), 37):
        disk = MemoryDisk()
        last = WHOLE.rstrip(b"\n").rfind(b"\n") + 1
        begin = max(last, hole)
        disk.put(PATH, WHOLE[:begin] + bytes(len(WHOLE) - 1 - begin) + b"\n")
        entered(disk, known(20))
        assert strip(there(disk))[-2:] == [("reached", 5), ("reached", 20)]


def test_a_register_that_was_changed_at_its_end_is_not_written_on() -> None:
    disk = MemoryDisk()
    disk.put(PATH, WHOLE.replace(b'"count":9', b'"count":8'))
    refused = enter(FOLDER, (known(20),), disk)
    assert isinstance(refused, Refused)
    assert "--rebuild" in refused.words
    assert there(disk).flaw.startswith("line 4")


@pytest.mark.parametrize("step", ["open_write", "write", "sync", "lock"])
def test_what_cannot_be_entered_hinders_nothing_and_is_not_tried_again(step: str, tmp_path: Path) -> None:
    journal = tmp_path / "live" / "2026" / "11" / f"{RUN}.journal"
    assert enter(str(tmp_path), (known(1),), DISK) is None
    disk = FaultyDisk(DISK, 1, failing(errno.EIO), (step,))
    registrar = Registrar(str(journal), RUN, "live", disk)
    registrar.enter("opened", "a" * 64, 2, UTC)
    assert "Input/output error" in registrar.trouble
    asked = len(disk.log)
    registrar.enter("reached", "b" * 64, 5, UTC)
    assert len(disk.log) == asked


def test_a_link_in_place_of_the_register_is_not_followed(tmp_path: Path) -> None:
    other = tmp_path / "other"
    other.write_bytes(b"")
    (tmp_path / "records").mkdir()
    (tmp_path / "records" / NAME).symlink_to(other)
    refused = enter(str(tmp_path / "records"), (known(2),), DISK)
    assert isinstance(refused, Refused)
    assert "link" in refused.words
    assert other.read_bytes() == b""


def test_nothing_new_is_not_entered_and_a_record_outside_a_store_never_is(tmp_path: Path) -> None:
    assert folder_of(str(tmp_path / "run.journal")) == ""
    outside = Registrar(str(tmp_path / "run.journal"), RUN, "live", DISK)
    outside.enter("opened", "a" * 64, 2, UTC)
    assert register_at(str(tmp_path)) is None
    journal = str(tmp_path / "live" / "2026" / "11" / f"{RUN}.journal")
    assert folder_of(journal) == str(tmp_path)
    registrar = Registrar(journal, RUN, "live", DISK)
    for count in (2, 2, 1, 5):
        registrar.enter("reached", "a" * 64, count, UTC)
    register = register_at(str(tmp_path))
    assert isinstance(register, Register)
    assert strip(register) == [("begun", 0), ("reached", 2), ("reached", 5)]
    again = Registrar.of(journal, DISK)
    assert [one.count for one in again.known()] == [2, 5]
    assert again.count == 5


def test_what_an_action_is_entered_as() -> None:
    released = ev.HoldReleased("Ben", moment(0), "s", "lead", (), ())
    answered = actions(1)[4][0]
    assert kind_of((answered,), first=True, ended=False) == "opened"
    assert kind_of((answered,), first=False, ended=False) == ""
    assert kind_of((answered, released), first=False, ended=False) == "reached"
    assert kind_of((answered,), first=False, ended=True) == "closed"


def put(folder: Path, name: str, written: bytes) -> None:
    path = folder / "live" / "2026" / "11" / f"{name}.journal"
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_bytes(written)


def test_a_lost_register_begins_anew_and_says_what_lay_there(tmp_path: Path) -> None:
    put(tmp_path, RUN, content(actions(1)))
    put(tmp_path, "20261125-0900-abcd", content(actions(1, mark=Mark("20261125-0900-abcd", "live"))))
    assert enter(str(tmp_path), (known(2, run="20261125-0900-abcd"),), DISK) is None
    register = register_at(str(tmp_path))
    assert isinstance(register, Register)
    assert register.lines[0].count == 1  # the run that is entered now does not count as lying there before
    assert "when 1 record lay there" in start_words(register)


def test_a_register_is_rebuilt_from_the_records_with_a_mark_and_the_old_one_is_kept(tmp_path: Path) -> None:
    each = lines(actions(1))
    put(tmp_path, RUN, b"".join(each))
    put(tmp_path, "20261125-0900-abcd", b"no journal at all\n")
    (tmp_path / NAME).write_bytes(b"damaged")
    assert rebuild(str(tmp_path), UTC) == 1
    assert (tmp_path / f"{NAME}.old-1").read_bytes() == b"damaged"
    register = register_at(str(tmp_path))
    assert isinstance(register, Register)
    assert strip(register) == [("rebuilt", 1), ("found", len(each))]
    assert register.lines[1].head.encode() == each[-1].split(b" ")[1]
    assert "lost and rebuilt" in start_words(register)
    assert enter(str(tmp_path), (known(20),), DISK) is None
    assert rebuild(str(tmp_path), UTC) == 1
    assert (tmp_path / f"{NAME}.old-2").exists()


def writes(folder: str, name: int, count: int) -> None:
    for number in range(1, count + 1):
        assert enter(folder, (known(number, run=f"run-{name}"),), DISK) is None


def test_terminals_that_write_at_once_write_every_line_once(tmp_path: Path) -> None:
    spawn = multiprocessing.get_context("fork")
    count = 40
    writers = [spawn.Process(target=writes, args=(str(tmp_path), name, count)) for name in range(3)]
    for writer in writers:
        writer.start()
    for writer in writers:
        writer.join(60)
    assert [writer.exitcode for writer in writers] == [0, 0, 0]
    register = register_at(str(tmp_path))
    assert isinstance(register, Register)
    assert register.flaw == ""
    for name in range(3):
        assert [one.count for one in register.of(f"run-{name}")] == list(range(1, count + 1))


def test_a_run_that_the_register_cannot_have_missed_was_put_in() -> None:
    def judged(first: Known, began: str) -> bool:
        written, _ = lines_of([first], 0, GENESIS)
        return unknown(read_register(written), began).grave

    before, after = "2026-11-25T07:00:00.000Z", "2026-11-25T09:00:00.000Z"
    assert judged(Known("begun", "", "", "", 0, UTC), before)  # no record lay there
    assert not judged(Known("begun", "", "", "", 3, UTC), before)  # it may be one of the three
    assert judged(Known("begun", "", "", "", 3, UTC), after)
    assert judged(Known("rebuilt", "", "", "", 3, UTC), before)  # each that lay there has a line
    assert not unknown(read_register(b""), after).grave
    assert "empty" in start_words(read_register(b""))


def test_of_each_kind_of_contradiction_the_first_is_said() -> None:
    entries = [known(count) for count in range(1, 9)]
    hashes = [one.head for one in entries]
    assert list(against(entries, hashes, sealed=False)) == []
    assert [one.kind for one in against(entries, hashes[:3], sealed=False)] == ["cut"]
    assert "knows 8 lines" in next(against(entries, hashes[:3], sealed=False)).words
    other = ["f" * 64, *hashes[1:4], "e" * 64, *hashes[5:]]
    assert [one.words[-60:] for one in against(entries, other, sealed=False)] == [
        f"line 0 of the register knows another line 1 ({moment(1).utc})"[-60:]
    ]


def test_behind_damage_nothing_is_called_cut() -> None:
    entries = [known(count) for count in (2, 5)]
    found = list(against(entries, ["f" * 64] * 3, sealed=False, whole=False))
    assert [(one.kind, one.grave) for one in found] == [("register", False), ("written anew", True)]
    assert "of which 3 stand before the damage" in found[0].words


def test_a_journal_where_no_record_lies_is_found(tmp_path: Path) -> None:
    put(tmp_path, RUN, content(actions(1)))
    assert strays(str(tmp_path)) == []
    for place in (
        "x.journal",
        "live/x.journal",
        "live/2026/x.journal",
        "live/2026/11/copy/x.journal",
        "away/x.journal",
    ):
        path = tmp_path / place
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(b"")
        assert strays(str(tmp_path)) == [str(path)]
        path.unlink()
