"""Exceptions of earlier runs: read by name before work begins; those that block are closed or accepted first."""

from dataclasses import replace

from hypothesis import given, settings
from hypothesis import strategies as st

from runner.engine import events as ev
from runner.engine import intents as want
from runner.engine.evolve import replay
from runner.engine.intents import LeftOpen
from tests.engine.bench import HEAD, Bench, compiled, kinds

HELD = """
  - phase: Make safe
    press: stopped
    steps:
      - {id: stop, by: unwind, do: Stop the drive., makes: {drive: stopped}}
      - {id: guard, by: unwind, do: Open the guard., needs: {drive: stopped}, makes: {guard: open},
         hold: {release: lead, confirm: [Nobody is at the web]}}
"""
FREE = """
  - phase: Make safe
    press: stopped
    steps:
      - {id: stop, by: unwind, do: Stop the drive., makes: {drive: stopped}}
"""
AT = "2026-11-24T14:02:11.000Z"
NOTE = LeftOpen("run-7", 2, "Change the roll", "material", "minor", "Core is dented.", "", False, "Ada", AT)
LATCH = LeftOpen("run-8", 1, "Change the roll", "equipment", "serious", "Latch does not close.", "", True, "Ada", AT)


def begun(*left: LeftOpen, phases: str = HELD) -> Bench:
    bench = Bench(compiled(phases))
    bench.must(replace(bench.begin_intent(), left_open=left))
    return bench


def test_a_run_carries_what_earlier_runs_left_open_and_says_where_from() -> None:
    bench = begun(NOTE, LATCH)
    carried = [event for event in bench.events if isinstance(event, ev.ExceptionCarried)]
    assert [(e.number, e.earlier_run, e.earlier_number, e.noted_by, e.noted_at) for e in carried] == [
        (1, "run-7", 2, "Ada", AT), (2, "run-8", 1, "Ada", AT),
    ]  # fmt: skip
    assert [(e.number, e.run, e.of, e.words) for e in bench.state.open_exceptions] == [
        (1, "run-7", 2, "Core is dented."), (2, "run-8", 1, "Latch does not close."),
    ]  # fmt: skip


def test_no_step_begins_before_they_are_read_by_name() -> None:
    bench = begun(NOTE)
    assert "exception 1 of an earlier run must be read first" in bench.refused(want.BeginStep("Uma", "stop"))
    assert "Say who you are" in bench.refused(want.ReadExceptions(" "))
    read = bench.must(want.ReadExceptions("Rolf"))
    assert [(e.by, e.number, e.earlier_run, e.earlier_number) for e in read if isinstance(e, ev.ExceptionRead)] == [
        ("Rolf", 1, "run-7", 2)
    ]
    bench.do("stop")
    assert "left to read" in bench.refused(want.ReadExceptions("Rolf"))


def test_stopping_noting_and_pausing_wait_for_no_reading() -> None:
    bench = begun(LATCH)
    bench.must(want.NoteException("Uma", "", "other", "note", "a draught"))
    bench.must(want.MakeSafe("Uma"))
    assert [e.number for e in bench.state.open_exceptions] == [1, 2]


def test_one_that_blocks_keeps_every_step_from_beginning_until_it_is_closed() -> None:
    bench = begun(LATCH)
    bench.must(want.ReadExceptions("Uma"))
    words = bench.refused(want.BeginStep("Uma", "stop"))
    assert "blocks (Latch does not close): close it, or Shift lead (Lena) accepts it" in words
    bench.must(want.CloseException("Rolf", 1, "Spring changed, tried five times"))
    bench.do("stop")


def test_one_that_blocks_may_be_accepted_by_a_role_that_releases_and_not_by_who_read_it() -> None:
    bench = begun(LATCH)
    assert "must be read first" in bench.refused(want.AcceptException("Lena", 1, "guarded by a second latch"))
    bench.must(want.ReadExceptions("Lena"))
    assert "Only Shift lead (Lena)" in bench.refused(want.AcceptException("Uma", 1, "it will do"))
    assert "another person must accept" in bench.refused(want.AcceptException("Lena", 1, "it will do"))
    other = begun(LATCH)
    other.must(want.ReadExceptions("Uma"))
    assert "Say why" in other.refused(want.AcceptException("Lena", 1, " "))
    accepted = other.must(want.AcceptException("Lena", 1, "a second latch holds"))
    assert kinds(accepted) == ["ExceptionAccepted"]
    assert (accepted[0].by, accepted[0].role) == ("Lena", "lead")  # type: ignore[attr-defined]
    other.do("stop")
    assert "waits to be accepted" in other.refused(want.AcceptException("Lena", 1, "again"))
    assert [e.number for e in other.state.open_exceptions] == [1]  # accepted is not closed


def test_where_no_role_releases_it_must_be_closed() -> None:
    bench = begun(LATCH, phases=FREE)
    bench.must(want.ReadExceptions("Uma"))
    assert "must be closed" in bench.refused(want.AcceptException("Lena", 1, "it will do"))
    bench.must(want.CloseException("Uma", 1, "Mended"))
    bench.do("stop")


def test_an_accepted_one_does_not_keep_the_run_from_finishing_and_one_that_is_not_does() -> None:
    bench = begun(LATCH, phases=HELD)
    bench.must(want.ReadExceptions("Uma"))
    assert "exception 1 is open" in bench.refused(want.Finish("Uma"))
    bench.must(want.AcceptException("Lena", 1, "a second latch holds"))
    assert "exception 1" not in bench.refused(want.Finish("Uma"))


def test_the_same_words_in_an_earlier_run_hide_no_exception_of_this_one() -> None:
    words = "area: 2.6 m^2 (allowed: <= 2.5 m^2)"
    bench = begun(NOTE._replace(words=words))
    assert len(bench.state.exceptions) == 1
    bench.must(want.CorrectAnswer("Uma", "", "width", "1300", "ticket misread"))
    own = [e for e in bench.state.exceptions if not e.run]
    assert [e.words for e in own if e.kind == "value"] == [words]


def test_replay_gives_the_same_state() -> None:
    bench = begun(NOTE, LATCH)
    bench.must(want.ReadExceptions("Uma"))
    bench.must(want.AcceptException("Lena", 2, "a second latch holds"))
    bench.must(want.CloseException("Uma", 1, "New core"))
    assert replay(bench.procedure, bench.events) == bench.state


SAFE = """
make_safe:
  - {do: Stop the drive., makes: {drive: stopped}}
phases:
"""


def test_a_step_that_only_stops_is_never_kept_back() -> None:
    bench = Bench(compiled(HELD, HEAD.replace("phases:\n", "") + SAFE))
    bench.must(replace(bench.begin_intent(), left_open=(LATCH,)))
    bench.do("stop")
    assert "must be read first" in bench.refused(want.BeginStep("Uma", "guard"))
    bench.must(want.ReadExceptions("Uma"))
    assert "blocks" in bench.refused(want.BeginStep("Uma", "guard"))


INTENTS: tuple[want.AnyIntent, ...] = (
    want.ReadExceptions("Uma"), want.ReadExceptions("Lena"), want.AcceptException("Lena", 2, "a second latch holds"),
    want.AcceptException("Uma", 2, "it will do"), want.AcceptException("Lena", 1, "it will do"),
    want.CloseException("Rolf", 2, "Mended"), want.CloseException("Rolf", 1, "New core"),
    want.BeginStep("Uma", "stop"), want.EndStep("Uma", "stop"), want.ReleaseHold("Lena", "guard", ("Nobody is at the web",)),
    want.BeginStep("Uma", "guard"), want.EndStep("Uma", "guard"), want.Pause("Uma", ""), want.Resume("Uma"),
    want.MakeSafe("Uma"), want.NoteException("Uma", "", "other", "note", "a draught"), want.Finish("Uma"),
)  # fmt: skip


@settings(max_examples=120, deadline=None)
@given(st.lists(st.sampled_from(INTENTS), max_size=25))
def test_whatever_is_wanted_no_step_begins_before_all_is_read_and_what_blocks_is_dealt_with(
    wanted: list[want.AnyIntent],
) -> None:
    bench = begun(NOTE, LATCH)
    for intent in wanted:
        before = bench.state.exceptions
        taken = bench.attempt(intent)
        if isinstance(taken, tuple) and any(isinstance(event, ev.StepBegun) for event in taken):
            carried = [e for e in before if e.run]
            assert all(e.read_by or e.closed for e in carried)
            assert all(e.closed or e.accepted_by for e in carried if e.blocking)
        if isinstance(intent, want.MakeSafe) and not bench.state.outcome:
            assert isinstance(taken, tuple)
    readers = {e.number: e.read_by for e in bench.state.exceptions}
    assert all(e.accepted_by != readers[e.number] for e in bench.state.exceptions if e.accepted_by)
    assert replay(bench.procedure, bench.events) == bench.state
