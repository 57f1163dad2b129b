"""The power fails at every step of a whole run with its register: whatever the disk wrote of what was not synced, it goes on.

Un-synced bytes are there or not, or there up to some byte, or by sectors; a name that was not synced with its folder is
gone. The register of heads never knows more than the journal has: it is written after it.
"""

import random
from collections.abc import Callable, Iterator
from typing import Any

from runner.engine import intents as want
from runner.record.clock import SteppedClock
from runner.record.line import Entry
from runner.record.reading import read_journal
from runner.record.refused import Refused
from runner.record.register import Register, against
from runner.record.registering import register_at
from runner.record.run import Run
from runner.record.store import Store
from runner.record.verify import Verification
from tests.record.disks import FaultyDisk, Kept, MemoryDisk
from tests.record.test_faults import SCRIPT
from tests.record.test_run import PROCEDURE, begin_intent, must

FOLDER = "/records"
SECTOR = 512


class PowerCutError(BaseException):
    """Nothing more is done, by nobody."""


def before(real: Callable[..., Any], arguments: tuple[Any, ...]) -> Any:
    """The step is not done."""
    raise PowerCutError


def after(real: Callable[..., Any], arguments: tuple[Any, ...]) -> Any:
    """The step is done."""
    real(*arguments)
    raise PowerCutError


def cut_at(at: int, fault: Callable[..., Any]) -> tuple[MemoryDisk, int, bool]:
    """(the disk, bytes acknowledged, whether the power failed) at the Nth step of a whole run."""
    memory = MemoryDisk()
    disk = FaultyDisk(memory, at, fault)
    acknowledged = 0
    try:
        run = Run.begin(Store(FOLDER, disk), PROCEDURE, begin_intent(), SteppedClock(), disk)
        assert isinstance(run, Run)
        acknowledged = run.journal.end
        for intent in SCRIPT:
            must(run, intent)
            acknowledged = run.journal.end
        run.close()
    except PowerCutError:
        return memory, acknowledged, True
    return memory, acknowledged, False


def on_disk(kept: Kept, chance: random.Random) -> Iterator[bytes]:
    """What may be there of a file: all that was synced, and of the rest nothing, all, a beginning, some sectors."""
    base = kept.synced
    yield base
    if not kept.dirty and len(kept.shown) == len(base):
        return
    full = bytes(kept.shown)
    yield full
    if not kept.dirty:  # only its length was changed
        return
    start = min((begin for begin, _ in kept.dirty), default=len(base))
    end = max((end for _, end in kept.dirty), default=len(full))
    for _ in range(9):
        at = chance.randrange(start, end + 1)
        yield full[:at] + bytes(max(0, len(full) - at))  # room that was given reads as zeros
        yield full[:at] if len(base) <= at else base
    for _ in range(4):
        there = bytearray(base.ljust(len(full), b"\0"))
        for sector in range(start // SECTOR, end // SECTOR + 1):
            if chance.random() < 0.5:
                span = slice(max(start, sector * SECTOR), min(end, (sector + 1) * SECTOR))
                there[span] = full[span]
        yield bytes(there)


def states(memory: MemoryDisk, chance: random.Random) -> Iterator[MemoryDisk]:
    """Disks as they may be when the power is back; at most one file has anything that was not synced."""
    named = {path: kept for path, kept in memory.files.items() if kept.named}
    for path, kept in named.items():
        for content in on_disk(kept, chance):
            disk = MemoryDisk()
            for other, one in named.items():
                disk.put(other, content if other == path else one.synced)
            yield disk


def check(disk: MemoryDisk, acknowledged: int, reference: bytes) -> None:
    """Nothing acknowledged is lost, the register agrees, the run goes on."""
    paths = [path for path in disk.files if path.endswith(".journal")]
    if not paths:
        assert acknowledged == 0
        return
    (path,) = paths
    hashes: list[str] = []
    entries: list[Entry] = []
    found = read_journal(path, entries.append, disk)
    hashes = [entry.hash for entry in entries]
    assert isinstance(found, Verification)
    there = bytes(disk.files[path].shown)
    assert there[:acknowledged] == reference[:acknowledged]
    register = register_at(FOLDER, disk)
    if register is not None:
        assert isinstance(register, Register)
        assert register.flaw == ""
        assert [one for one in against(register.of(found.run), hashes, bool(found.seals)) if one.grave] == []
    again = Run.resume(path, SteppedClock(), disk)
    if isinstance(again, Refused):
        assert found.outcome or (acknowledged == 0 and "never began" in again.words), again.words
        return
    assert again.journal.end >= acknowledged
    if again.interrupted or again.state.halted:
        must(again, want.Resume("Uma"))
    must(again, want.Abandon("Uma", "gone on with"))
    again.close()
    register = register_at(FOLDER, disk)
    assert isinstance(register, Register)
    assert (register.flaw, register.lines[-1].kind) == ("", "closed")


def test_whatever_the_disk_wrote_when_the_power_failed_the_run_goes_on_and_its_register_agrees() -> None:
    chance, seen = random.Random(4), 0
    whole, _, _ = cut_at(0, before)
    reference = next(bytes(kept.shown) for path, kept in whole.files.items() if path.endswith(".journal"))
    for at in range(1, 400):
        failed = False
        for fault in (before, after):
            memory, acknowledged, failed = cut_at(at, fault)
            for disk in states(memory, chance):
                check(disk, acknowledged, reference)
                seen += 1
        if not failed:
            assert at > 30
            assert seen > 500
            return
    raise AssertionError("the power never held")
