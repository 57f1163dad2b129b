"""The one door to a run: what is told is on the disk, what is refused leaves nothing, what is resumed is the same."""

import errno
import os
import random
import threading
from pathlib import Path

import pytest

from runner.engine import events as ev
from runner.engine import intents as want
from runner.engine.decide import AnyIntent
from runner.engine.evolve import replay
from runner.engine.intents import Refusal
from runner.engine.state import RunState
from runner.procedure.compile import compile_procedure
from runner.procedure.model import Procedure, steps_of
from runner.record.clock import SteppedClock
from runner.record.disk import DISK, Io
from runner.record.refused import Refused
from runner.record.run import Run
from runner.record.store import Store
from runner.record.verify import verify_bytes
from tests.engine.bench import Bench
from tests.engine.wanderer import wish
from tests.record.disks import FaultyDisk, LazyDisk, failing

HERE = Path(__file__).parent
CREW = (("unwind", "Uma"), ("lead", "Lena"))


def compiled() -> Procedure:
    """The small procedure beside this file, with its fragment."""
    path = HERE / "lift.procedure.yaml"
    found = compile_procedure(path.read_text(encoding="utf-8"), str(path), lambda name: Path(name).read_text("utf-8"))
    assert found.procedure is not None, found.findings
    return found.procedure


PROCEDURE = compiled()


def begin_intent(run: str = "20261125-0800-aaaa", mode: str = "live") -> want.BeginRun:
    return want.BeginRun("Uma", run, mode, False, CREW, (("web_width", "1250"), ("grammage", "80")), "changeover 0.1.0")


def begin(
    folder: Path,
    clock: SteppedClock,
    io: Io = DISK,
    intent: want.BeginRun | None = None,
    procedure: Procedure = PROCEDURE,
) -> Run:
    run = Run.begin(Store(str(folder), io), procedure, intent or begin_intent(), clock, io)
    assert isinstance(run, Run), run
    return run


def must(run: Run, *intents: AnyIntent) -> list[ev.Event]:
    """Submit all; a refusal fails the test."""
    found: list[ev.Event] = []
    for intent in intents:
        events = run.submit(intent)
        assert not isinstance(events, Refusal), events
        found += events
    return found


def on_disk(run: Run) -> list[ev.Event]:
    return [entry.event for entry in run.entries()]


TO_THE_HOLD = (want.BeginStep("Uma", "off"), want.EndStep("Uma", "off"), want.BeginStep("Uma", "open"))


def test_what_a_run_was_told_is_on_the_disk_and_in_its_state(tmp_path: Path) -> None:
    clock = SteppedClock()
    run = begin(tmp_path, clock)
    assert run.path == str(tmp_path / "live" / "2026" / "11" / "20261125-0800-aaaa.journal")
    told: list[ev.Event] = []
    run.listen(told.extend)
    clock.advance(10)
    events = must(run, *TO_THE_HOLD)
    assert told == events
    assert all(event.at == run.now() for event in events)
    assert on_disk(run)[-len(events) :] == events
    assert run.state == replay(PROCEDURE, on_disk(run))
    found = verify_bytes(Path(run.path).read_bytes())
    assert (found.whole, found.head, found.outcome) == (True, run.head, "")
    run.close()
    assert isinstance(run.submit(want.Pause("Uma", "x")), Refusal)


def test_a_refused_beginning_leaves_nothing(tmp_path: Path) -> None:
    clock = SteppedClock()
    wrong = want.BeginRun("Uma", "r1", "live", False, CREW, (), "test")
    for intent in (wrong, begin_intent("../x"), begin_intent(mode="practice")):
        assert isinstance(Run.begin(Store(str(tmp_path)), PROCEDURE, intent, clock), Refusal)
    assert list(tmp_path.iterdir()) == []


def test_a_run_is_not_begun_twice_under_one_name(tmp_path: Path) -> None:
    clock = SteppedClock()
    begin(tmp_path, clock).close()
    refused = Run.begin(Store(str(tmp_path)), PROCEDURE, begin_intent(), clock)
    assert isinstance(refused, Refusal)
    assert "never written over" in refused.reason


def test_a_refusal_changes_neither_state_nor_record(tmp_path: Path) -> None:
    run = begin(tmp_path, SteppedClock())
    state, head, told = run.state, run.head, list[ev.Event]()
    run.listen(told.extend)
    before = Path(run.path).read_bytes()
    assert isinstance(run.submit(want.BeginStep("Uma", "lift")), Refusal)
    assert (run.state, run.head, told) == (state, head, [])
    assert Path(run.path).read_bytes() == before


def test_a_resumed_run_is_the_run_that_was_left(tmp_path: Path) -> None:
    clock = SteppedClock()
    run = begin(tmp_path, clock)
    must(run, *TO_THE_HOLD)
    run.close()
    clock.advance(600)
    again = Run.resume(run.path, clock)
    assert isinstance(again, Run)
    assert (again.state, again.head, again.procedure.digest) == (run.state, run.head, PROCEDURE.digest)
    before = again.interrupted
    events = must(again, want.Resume("Uma"))
    assert (before, again.interrupted) == (True, False)
    assert isinstance(events[0], ev.Resumed)
    assert events[0].after == "interruption"
    assert isinstance(Run.resume(run.path, clock), Refused)
    again.close()


def test_a_paused_run_is_not_an_interrupted_one(tmp_path: Path) -> None:
    run = begin(tmp_path, SteppedClock())
    must(run, want.Pause("Uma", "Open the guard"))
    run.close()
    again = Run.resume(run.path, SteppedClock())
    assert isinstance(again, Run)
    assert not again.interrupted
    assert again.state.intention == "Open the guard"
    again.close()


def test_a_resumed_run_follows_the_procedure_that_it_began_with(tmp_path: Path) -> None:
    """Its text and its fragment's are read from the record: neither file need be there any more."""
    run = begin(tmp_path, SteppedClock())
    run.close()
    again = Run.resume(run.path, SteppedClock())
    assert isinstance(again, Run)
    assert [path for path, _ in again.procedure.sources] == ["lift.procedure.yaml", "marks.fragment.yaml"]
    assert again.procedure.sources == PROCEDURE.sources
    assert "mark-unwind" in [step.id for step in steps_of(again.procedure)]
    again.close()


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        ("needs: {drive: stopped}", "neds: {drive: stopped}", "does not take the procedure"),
        ("Open the guard.", "Open it.", "does not fit its digest"),
    ],
)
def test_a_pinned_procedure_that_cannot_be_followed_is_not_followed(
    old: str, new: str, words: str, tmp_path: Path
) -> None:
    text = PROCEDURE.sources[0][1].replace(old, new)
    run = begin(
        tmp_path,
        SteppedClock(),
        procedure=PROCEDURE._replace(sources=((PROCEDURE.sources[0][0], text), *PROCEDURE.sources[1:])),
    )
    run.close()
    before = Path(run.path).read_bytes()
    refused = Run.resume(run.path, SteppedClock())
    assert isinstance(refused, Refused)
    assert words in refused.words
    assert "Go on with changeover 0.1.0" in refused.words
    assert Path(run.path).read_bytes() == before


def test_an_ended_run_is_closed_for_good(tmp_path: Path) -> None:
    run = begin(tmp_path, SteppedClock())
    must(run, want.Abandon("Uma", "The press is needed"))
    ended = Path(run.path).read_bytes()
    assert ended.endswith(b"}\n")  # its room is cut off before anybody closes it
    run.close()
    assert Path(run.path).read_bytes() == ended
    refused = Run.resume(run.path, SteppedClock())
    assert isinstance(refused, Refused)
    assert "abandoned" in refused.words


def test_a_torn_tail_is_on_record_after_resuming(tmp_path: Path) -> None:
    run = begin(tmp_path, SteppedClock())
    run.close()
    with open(run.path, "ab") as file:
        file.write(b"300 0123")
    again = Run.resume(run.path, SteppedClock())
    assert isinstance(again, Run)
    last = on_disk(again)[-1]
    assert isinstance(last, ev.TailSetAside)
    assert (last.bytes_set_aside, last.file) == (8, os.path.basename(run.path) + ".torn-1")
    assert verify_bytes(Path(run.path).read_bytes()).whole
    again.close()


def test_a_dry_run_lies_apart_and_is_not_opened_among_live_ones(tmp_path: Path) -> None:
    run = begin(tmp_path, SteppedClock(), intent=begin_intent(mode="dry"))
    run.close()
    assert f"{os.sep}dry{os.sep}" in run.path
    assert b'"mode":"dry"' in Path(run.path).read_bytes().split(b"\n")[1]
    moved = tmp_path / "live" / "2026" / "11" / os.path.basename(run.path)
    moved.parent.mkdir(parents=True)
    os.rename(run.path, moved)
    refused = Run.resume(str(moved), SteppedClock())
    assert isinstance(refused, Refused)
    assert "lies among the live runs" in refused.words


def test_a_step_of_the_wall_clock_is_on_record_and_time_going_by_is_not(tmp_path: Path) -> None:
    clock = SteppedClock()
    run = begin(tmp_path, clock)
    clock.advance(3600)
    assert not any(isinstance(event, ev.ClockStepped) for event in must(run, want.Pause("Uma", "x")))
    clock.set_wall(-600)
    stepped, resumed = must(run, want.Resume("Uma"))
    assert stepped == ev.ClockStepped("", run.now(), -600)
    assert isinstance(resumed, ev.Resumed)
    assert not any(isinstance(event, ev.ClockStepped) for event in must(run, want.Pause("Uma", "x")))
    run.close()


@pytest.mark.parametrize("step", ["write", "sync"])
def test_when_the_record_cannot_be_written_nothing_is_told_and_nothing_more_is_taken(tmp_path: Path, step: str) -> None:
    disk = FaultyDisk(DISK, {"write": 4, "sync": 5}[step], failing(errno.ENOSPC), (step,))
    run = begin(tmp_path, SteppedClock(), disk)
    must(run, TO_THE_HOLD[0])
    state, head, told = run.state, run.head, list[ev.Event]()
    run.listen(told.extend)
    for intent in TO_THE_HOLD[1:]:
        refused = run.submit(intent)
        assert isinstance(refused, Refusal)
        assert "No space left on device" in refused.reason
        assert "resume the run" in refused.reason
    assert (run.state, run.head, told, run.poisoned) == (state, head, [], "No space left on device")
    run.close()
    again = Run.resume(run.path, SteppedClock())
    assert isinstance(again, Run)
    done = [event for event in on_disk(again) if isinstance(event, ev.StepDone)]
    assert len(done) == (1 if step == "sync" else 0)  # it was written, and is now on the disk; nobody was told before
    assert isinstance(again.submit(want.Pause("Uma", "x")), Refusal)  # it was found open: first it is resumed
    assert not isinstance(again.submit(want.Resume("Uma")), Refusal)
    assert not isinstance(again.submit(want.Pause("Uma", "x")), Refusal)
    again.close()


def test_a_beginning_that_cannot_be_written_is_refused(tmp_path: Path) -> None:
    for at in range(1, 6):  # lock, create, sync, sync of the folder, the first write
        disk = FaultyDisk(DISK, at, failing(errno.EROFS), ("create", "write", "sync", "sync_folder", "lock"))
        refused = Run.begin(Store(str(tmp_path / str(at))), PROCEDURE, begin_intent(), SteppedClock(), disk)
        assert isinstance(refused, Refusal)
        assert "Read-only file system" in refused.reason
        assert Store(str(tmp_path / str(at))).unfinished() == ()


def test_words_that_are_no_text_are_refused_and_the_run_goes_on(tmp_path: Path) -> None:
    run = begin(tmp_path, SteppedClock())
    refused = run.submit(want.Pause("Uma", "half \ud800 a pair"))
    assert isinstance(refused, Refusal)
    assert "other words" in refused.reason
    assert run.poisoned == ""
    must(run, want.Pause("Uma", "whole"))
    run.close()


def test_callers_from_several_threads_take_turns(tmp_path: Path) -> None:
    run = begin(tmp_path, SteppedClock(), LazyDisk())
    notes = [
        threading.Thread(target=run.submit, args=(want.NoteException("Uma", "", "other", "note", str(number)),))
        for number in range(24)
    ]
    for note in notes:
        note.start()
    for note in notes:
        note.join()
    assert [exception.number for exception in run.state.exceptions] == list(range(1, 25))
    assert run.state == replay(PROCEDURE, on_disk(run))
    run.close()


class Wandering(Bench):
    """The engine's random person, before a run with a disk."""

    def __init__(self, run: Run, clock: SteppedClock) -> None:
        self.procedure, self.run, self.clock, self.tick, self.boot = run.procedure, run, clock, 0.0, ""

    @property
    def state(self) -> RunState:  # type: ignore[override] # it is the run's
        return self.run.state


@pytest.mark.parametrize("seed", range(8))
def test_a_run_resumed_after_anything_is_the_run_that_was_left(seed: int, tmp_path: Path) -> None:
    chance, clock = random.Random(seed), SteppedClock()
    run = begin(tmp_path, clock, LazyDisk())
    for _ in range(120):
        person = Wandering(run, clock)
        intent = wish(person, chance)
        clock.advance(person.tick + 1)
        run.submit(intent)
        if run.state.outcome:
            break
        if chance.random() < 0.1:
            run.close()
            again = Run.resume(run.path, clock, LazyDisk())
            assert isinstance(again, Run)
            assert (again.state, again.head) == (run.state, run.head)
            run = again
    assert run.state == replay(PROCEDURE, on_disk(run))
    assert verify_bytes(Path(run.path).read_bytes()).whole
    run.close()
