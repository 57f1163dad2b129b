"""What happens around a run: killed anywhere with its register, a full disk, a folder taken away, two at once.

The long form kills a thousand times and races a thousand times; the fast one does some of it.
"""

import errno
import itertools
import multiprocessing
import os
import random
import shutil
import struct
from collections.abc import Callable
from multiprocessing.synchronize import Barrier
from pathlib import Path

import pytest

from runner.engine import intents as want
from runner.engine.intents import Refusal
from runner.record.clock import SteppedClock
from runner.record.disk import DISK, Io
from runner.record.journal import Journal
from runner.record.opening import open_journal
from runner.record.reading import read_journal
from runner.record.refused import Refused
from runner.record.register import Register, against
from runner.record.registering import register_at
from runner.record.run import Run
from runner.record.store import Store
from runner.record.verify import Verification, verify_bytes
from tests.record.disks import Fault, FaultyDisk, dying, dying_after, failing
from tests.record.sample import actions, content
from tests.record.test_run import PROCEDURE, TO_THE_HOLD, begin, begin_intent, must

pytestmark = pytest.mark.skipif(not hasattr(os, "fork"), reason="no fork here")

SCRIPT = (*TO_THE_HOLD, want.Pause("Uma", "shift ends"), want.Resume("Uma"), want.Abandon("Uma", "the roll is damaged"))


def play(folder: Path, io: Io, tell: Callable[[int], object]) -> Run:
    """Begin and end a run; what is kept is told as a number of bytes, once that is known to the person."""
    run = begin(folder, SteppedClock(), io)
    tell(run.journal.end)
    for intent in SCRIPT:
        must(run, intent)
        tell(run.journal.end)
    run.close()
    return run


@pytest.fixture(scope="module")
def reference(tmp_path_factory: pytest.TempPathFactory) -> bytes:
    """The journal as it is when nothing goes wrong; the clock stands still, so it is the same each time."""
    run = play(tmp_path_factory.mktemp("reference"), DISK, lambda _: None)
    return Path(run.path).read_bytes()


def killed_at(folder: Path, at: int, fault: Fault) -> tuple[int, bool]:
    """(bytes acknowledged, whether it was killed) of a child that dies at its Nth step with the disk."""
    reads, writes = os.pipe()
    child = os.fork()
    if child == 0:
        os.close(reads)
        play(folder, FaultyDisk(DISK, at, fault), lambda end: os.write(writes, struct.pack("<q", end)))
        os._exit(0)
    os.close(writes)
    with open(reads, "rb") as pipe:
        told = pipe.read()
    _, status = os.waitpid(child, 0)
    last = struct.unpack("<q", told[-8:])[0] if told else 0
    return last, os.WIFSIGNALED(status)


def check_after(folder: Path, acknowledged: int, reference: bytes) -> None:
    """Nothing acknowledged is lost or doubled, the register agrees, and the run goes on where it stood."""
    paths = list(folder.glob("live/*/*/*.journal"))
    if not paths:
        assert acknowledged == 0
        return
    (path,) = paths
    hashes: list[str] = []
    found = read_journal(str(path), lambda entry: hashes.append(entry.hash))
    assert isinstance(found, Verification)
    there = path.read_bytes().rstrip(b"\0")
    assert reference.startswith(there[: len(reference)])
    assert len(there) >= acknowledged
    register = register_at(str(folder))
    if register is not None:
        assert isinstance(register, Register)
        assert register.flaw == ""
        assert [one for one in against(register.of(found.run), hashes, bool(found.seals)) if one.grave] == []
    again = Run.resume(str(path), SteppedClock())
    if isinstance(again, Refused):
        assert found.outcome == "abandoned" or (acknowledged == 0 and "never began" in again.words), again.words
        return
    assert again.journal.end >= acknowledged
    if again.interrupted or again.state.halted:
        must(again, want.Resume("Uma"))
    must(again, want.Abandon("Uma", "gone on with"))
    again.close()
    assert verify_bytes(path.read_bytes()).whole
    register = register_at(str(folder))
    assert isinstance(register, Register)
    assert (register.flaw, register.lines[-1].kind) == ("", "closed")


def test_killed_at_every_step_a_run_and_its_register_lose_nothing(tmp_path: Path, reference: bytes) -> None:
    for at in range(1, 400):
        acknowledged, killed = killed_at(tmp_path / str(at), at, dying if at % 2 else dying_after)
        check_after(tmp_path / str(at), acknowledged, reference)
        if not killed:
            assert acknowledged == len(reference)
            assert at > 30
            return
    pytest.fail("it never survived")


@pytest.mark.long
def test_of_a_thousand_kills_none_loses_or_doubles_what_was_acknowledged(tmp_path: Path, reference: bytes) -> None:
    chance, kills = random.Random(6), 0
    for trial in itertools.count():
        folder = tmp_path / str(trial)
        acknowledged, killed = killed_at(folder, chance.randrange(1, 42), chance.choice([dying, dying_after]))
        check_after(folder, acknowledged, reference)
        shutil.rmtree(folder, ignore_errors=True)
        kills += killed
        if kills == 1000:
            return


@pytest.mark.parametrize("spare", [0, 1, 60, 300, 700])
def test_a_disk_that_is_full_holds_the_run_with_words_and_it_goes_on_when_there_is_room(
    tmp_path: Path, spare: int
) -> None:
    """A limit on the size of files makes a true short write, then EFBIG (setrlimit(2), RLIMIT_FSIZE)."""
    import resource  # not on every system

    run = begin(tmp_path, SteppedClock())
    must(run, TO_THE_HOLD[0])
    kept = run.journal.end
    run.close()
    reads, writes = os.pipe()
    child = os.fork()
    if child == 0:
        os.close(reads)
        resource.setrlimit(resource.RLIMIT_FSIZE, (kept + spare, resource.RLIM_INFINITY))
        again = Run.resume(run.path, SteppedClock())
        said: list[str] = []
        if isinstance(again, Run):
            for intent in (want.Resume("Uma"), *TO_THE_HOLD[1:], want.Pause("Uma", "x")):
                answer = again.submit(intent)
                if isinstance(answer, Refusal):
                    said.append(answer.reason)
        os.write(writes, "\n".join(said or ["nothing was refused"]).encode())
        os._exit(0)
    os.close(writes)
    with open(reads, "rb") as pipe:
        words = pipe.read().decode()
    os.waitpid(child, 0)
    assert "could not be written" in words
    assert "resume the run" in words
    assert "Traceback" not in words
    opened = Run.resume(run.path, SteppedClock())
    assert isinstance(opened, Run)
    must(opened, want.Resume("Uma"), want.Abandon("Uma", "there is room again"))
    opened.close()
    assert verify_bytes(Path(run.path).read_bytes()).whole


@pytest.mark.parametrize("code", [errno.ENOSPC, errno.EDQUOT, errno.EROFS, errno.EIO])
def test_a_journal_that_cannot_be_written_is_said_with_its_reason_and_taken_up_again(tmp_path: Path, code: int) -> None:
    disk = FaultyDisk(DISK, 5, failing(code), ("write",))
    run = begin(tmp_path, SteppedClock(), disk)
    answers = [run.submit(intent) for intent in TO_THE_HOLD]
    assert os.strerror(code) in " ".join(answer.reason for answer in answers if isinstance(answer, Refusal))
    run.close()
    assert disk.log[disk.log.index("write") :].count("truncate") == 0  # what was poisoned is left as it is
    opened = Run.resume(run.path, SteppedClock())
    assert isinstance(opened, Run)
    must(opened, want.Resume("Uma"))
    opened.close()


def test_a_folder_that_is_read_only_refuses_a_beginning_and_leaves_nothing(tmp_path: Path) -> None:
    store = Store(str(tmp_path))
    disk = FaultyDisk(DISK, 1, failing(errno.EROFS), ("create",))
    refused = Run.begin(store, PROCEDURE, begin_intent(), SteppedClock(), disk)
    assert isinstance(refused, Refusal)
    assert "Read-only file system" in refused.reason
    assert list(tmp_path.glob("**/*.journal")) == []


def test_a_run_whose_folder_was_taken_away_is_held_at_the_next_act(tmp_path: Path) -> None:
    run = begin(tmp_path / "records", SteppedClock())
    must(run, TO_THE_HOLD[0])
    shutil.rmtree(tmp_path / "records")
    refused = run.submit(TO_THE_HOLD[1])
    assert isinstance(refused, Refusal)
    assert "taken away" in refused.reason
    assert isinstance(run.submit(want.Pause("Uma", "x")), Refusal)
    run.close()
    again = Run.resume(run.path, SteppedClock())
    assert isinstance(again, Refused)
    assert "No such file" in again.words
    anew = begin(tmp_path / "records", SteppedClock())
    must(anew, TO_THE_HOLD[0])
    anew.close()


def race(path: str, rounds: int, line: Barrier, opened: "multiprocessing.SimpleQueue[int]") -> None:
    """Open the same journal as the other at the same time, so many times; say in which rounds it was had."""
    for number in range(rounds):
        line.wait(30)
        journal = open_journal(path, DISK, lambda _: None)
        if isinstance(journal, Journal):
            opened.put(number)
        line.wait(30)
        if isinstance(journal, Journal):
            journal.close()


@pytest.mark.parametrize("rounds", [40, pytest.param(1000, marks=pytest.mark.long)])
def test_of_two_terminals_that_open_a_run_at_once_one_writes_each_time(tmp_path: Path, rounds: int) -> None:
    path = tmp_path / "run.journal"
    path.write_bytes(content(actions(1, end=False)))
    spawn = multiprocessing.get_context("fork")
    line, opened = spawn.Barrier(2), spawn.SimpleQueue()
    both = [spawn.Process(target=race, args=(str(path), rounds, line, opened)) for _ in range(2)]
    for one in both:
        one.start()
    had: list[int] = []
    while any(one.is_alive() for one in both) or not opened.empty():
        if opened.empty():
            both[0].join(0.01)
        else:
            had.append(opened.get())
    assert [one.exitcode for one in both] == [0, 0]
    assert sorted(had) == list(range(rounds))
