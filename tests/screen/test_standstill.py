"""How long the press stands, and what a wide terminal shows beside and under the step."""

from dataclasses import replace

import pytest

from runner.engine.moment import Moment
from runner.screen.standstill import apart, long_words, standstill
from tests.procedures.shipped import procedure_of
from tests.screen.bench import MemoryRun, Person, compiled
from tests.screen.test_shipped import Operator
from tests.screen.test_view import to_lift

PRESS = ["running", "stopped", "stopped"]


def lifting(run: MemoryRun) -> Person:
    """The first step of the first phase that stops the press has begun."""
    return to_lift(run).press("enter", "enter").type("S. Lind").press("enter", "enter", "f5", "enter")


def test_the_clock_begins_with_the_first_step_of_a_phase_that_stops_the_press() -> None:
    run = MemoryRun(compiled())
    assert [phase.press for phase in run.procedure.phases] == PRESS
    assert standstill(run.procedure, run.state, run.now()) is None
    lifting(run)
    run.tick += 600
    found = standstill(run.procedure, run.state, run.now())
    assert found is not None
    assert 600 <= found.seconds < 610
    assert not found.over
    assert found.since == "09:40"


def test_it_ends_with_the_last_step_of_the_last_phase_that_stops_the_press() -> None:
    run = MemoryRun(compiled())
    lifting(run)
    since = run.tick
    last = replace(run.state, outcome="abandoned")
    run.tick += 600
    found = standstill(run.procedure, last, run.now())
    assert found is not None
    assert found.over
    assert found.seconds <= run.tick - since - 600 + 1


def test_no_clock_before_a_phase_that_stops_the_press() -> None:
    person = Person(MemoryRun(compiled())).press("enter")
    assert person.run.state.records
    assert standstill(person.run.procedure, person.run.state, person.run.now()) is None


@pytest.mark.parametrize(
    ("since", "until", "seconds"),
    [
        (Moment("2026-11-25T09:40:00.000Z", 10.0, "a"), Moment("2026-11-25T08:00:00.000Z", 70.0, "a"), 60.0),
        (Moment("2026-11-25T09:40:00.000Z", 10.0, "a"), Moment("2026-11-25T09:50:00.500Z", 3.0, "b"), 600.5),
        (Moment("2026-11-25T23:59:00.000Z", 10.0, "a"), Moment("2026-11-26T00:01:00.000Z", 3.0, "b"), 120.0),
    ],
)
def test_the_steady_clock_counts_and_after_a_restart_the_time_of_day(
    since: Moment, until: Moment, seconds: float
) -> None:
    assert apart(since, until) == pytest.approx(seconds)


def test_long_times_are_hours_and_minutes() -> None:
    assert [long_words(s) for s in (0, 59, 60, 3599, 3600, 7920)] == [
        "0 min", "0 min", "1 min", "59 min", "1 h 00 min", "2 h 12 min"
    ]  # fmt: skip


def test_at_120_by_40_there_are_clock_steps_values_states_and_the_web_path() -> None:
    person = lifting(MemoryRun(compiled()))
    person.shell.size = (120, 40)
    text = person.screen()
    for part in ("Press stands", "since 09:40 UTC", "Steps", "Values of this step", "The press, as you confirmed it",
                 "Web path"):  # fmt: skip
        assert part in text, part
    assert person.shell.picture().below is False
    person.shell.size = (80, 24)
    for part in ("Press stands", "Values of this step", "Web path"):
        assert part not in person.screen(), part


def test_states_that_nobody_has_looked_at_take_one_paragraph_beside_the_step() -> None:
    operator = Operator(procedure_of("change-roll"), "change-roll")
    operator.person.shell.size = (120, 40)
    text = operator.person.screen()
    assert " ?  unknown: " in text
    assert "press drive: running" in text
    assert "more lines" not in text
