"""No clock that moves makes a wait shorter: the wall clock set, midnight, daylight saving, sleep, a restart of the machine."""

from pathlib import Path

import pytest

from runner.engine import events as ev
from runner.engine import intents as want
from runner.engine.intents import BeginRun, Refusal
from runner.record.clock import SteppedClock
from runner.record.run import Run
from runner.record.store import Store
from tests.engine.bench import compiled
from tests.record.test_run import must

WAIT = """
  - phase: One
    steps:
      - {id: settle, by: unwind, do: Let it settle., wait: {at_least: 90 s, at_most: 5 min}}
      - {id: stop, by: unwind, do: Stop the drive., makes: {drive: stopped}}
"""
CREW = (("unwind", "Uma"), ("rewind", "Rob"), ("lead", "Lena"))
HOUR, YEAR = 3600.0, 365.25 * 86400.0
END = want.EndStep("Uma", "settle")


def waiting(folder: Path, start: str = "2026-11-25T08:00:00.000Z") -> tuple[Run, SteppedClock]:
    """A run in which the wait of 90 s has just begun."""
    clock = SteppedClock(start)
    inputs = (("width", "1250"), ("film", "kraft"))
    intent = BeginRun("Uma", "20261125-0800-aaaa", "live", False, CREW, inputs, "changeover 0.1.0")
    run = Run.begin(Store(str(folder)), compiled(WAIT), intent, clock)
    assert isinstance(run, Run), run
    must(run, want.BeginStep("Uma", "settle"))
    return run, clock


def waited(run: Run) -> float:
    """The wait is over; how long it was by the record."""
    events = must(run, END)
    (ended,) = [event for event in events if isinstance(event, ev.WaitEnded)]
    return ended.waited_s


@pytest.mark.parametrize("step", [HOUR, -HOUR, 10 * YEAR, -10 * YEAR, 2.5, -2.5, 89.0, 1e5])
@pytest.mark.parametrize("when", [0.0, 45.0, 89.9])
def test_a_wall_clock_that_is_set_makes_no_wait_shorter_or_longer(tmp_path: Path, step: float, when: float) -> None:
    run, clock = waiting(tmp_path)
    clock.advance(when)
    clock.set_wall(step)
    assert isinstance(run.submit(END), Refusal)
    clock.advance(89.95 - when)
    assert isinstance(run.submit(END), Refusal)
    clock.advance(0.05)
    assert waited(run) == pytest.approx(90.0, abs=0.01)
    run.close()


@pytest.mark.parametrize(
    "start",
    [
        "2026-11-25T23:59:00.000Z",  # midnight, UTC
        "2026-12-31T23:59:30.000Z",  # the year
        # summer time in the European Union begins and ends at 01:00 UTC of the last Sunday of March and October
        # (Directive 2000/84/EC, articles 2 and 3)
        "2026-03-29T00:59:30.000Z",
        "2026-10-25T00:59:30.000Z",
        "2028-02-28T23:59:30.000Z",  # a leap day follows
        "2016-12-31T23:59:30.000Z",  # a leap second was put in after 23:59:59 (IERS Bulletin C 52)
    ],
)
def test_midnight_and_summer_time_make_no_wait_shorter(
    tmp_path: Path, start: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("TZ", "Europe/Berlin")
    run, clock = waiting(tmp_path, start)
    clock.advance(89.9)
    assert isinstance(run.submit(END), Refusal)
    clock.advance(0.1)
    assert waited(run) == pytest.approx(90.0, abs=0.01)
    run.close()


def test_sleep_counts_by_a_steady_clock_that_counts_it_and_is_late_then(tmp_path: Path) -> None:
    run, clock = waiting(tmp_path)
    clock.advance(HOUR)  # the boot clock goes on while the machine sleeps, and so does the wall clock
    events = must(run, END)
    assert [event.late for event in events if isinstance(event, ev.WaitEnded)] == [True]
    run.close()


def test_sleep_that_the_steady_clock_does_not_count_makes_the_wait_longer_and_is_on_record(tmp_path: Path) -> None:
    run, clock = waiting(tmp_path)
    clock.set_wall(HOUR)
    clock.advance(10)
    assert isinstance(run.submit(END), Refusal)
    clock.advance(80)
    events = must(run, END)
    assert [event.seconds for event in events if isinstance(event, ev.ClockStepped)] == [HOUR]
    run.close()


def test_after_a_restart_of_the_machine_the_whole_wait_runs_again(tmp_path: Path) -> None:
    run, _clock = waiting(tmp_path)
    run.close()
    later = SteppedClock("2026-11-25T09:00:00.000Z", boot="another")
    later.tick = 1e6  # another boot's clock says nothing about this one's
    again = Run.resume(run.path, later)
    assert isinstance(again, Run)
    must(again, want.Resume("Uma"))
    answer = again.submit(END)
    assert not isinstance(answer, Refusal)
    assert [type(event) for event in answer] == [ev.WaitBegun]
    later.advance(89)
    assert isinstance(again.submit(END), Refusal)
    later.advance(1)
    assert waited(again) == pytest.approx(90.0, abs=0.01)
    again.close()


def test_leaving_and_coming_back_makes_no_wait_shorter(tmp_path: Path) -> None:
    run, clock = waiting(tmp_path)
    run.close()
    clock.advance(30)
    clock.set_wall(-HOUR)
    again = Run.resume(run.path, clock)
    assert isinstance(again, Run)
    must(again, want.Resume("Uma"))
    clock.advance(59)
    assert isinstance(again.submit(END), Refusal)
    clock.advance(1)
    assert waited(again) >= 90.0
    again.close()
