"""Waiting times on the screen: two at once, until when, and that no key passes one early."""

from hypothesis import given, settings
from hypothesis import strategies as st

from runner.engine.events import StepDone, WaitEnded
from runner.engine.moment import Moment
from runner.procedure.compile import compile_procedure
from runner.procedure.model import Procedure
from runner.screen.waits import until, waits
from tests.screen.bench import MemoryRun, Person

TEXT = """
format: 1
id: two-waits
title: Two waits
revision: 1
status: draft
equipment: Line 3
purpose: Both bladders settle.
people: {unwind: Unwind operator, rewind: Rewind operator}
phases:
  - phase: Settle
    together:
      unwind:
        - {id: left, by: unwind, do: Let the unwind bladder settle., wait: {at_least: 90 s}}
      rewind:
        - {id: right, by: rewind, do: Let the rewind bladder settle., wait: {at_least: 30 s}}
"""
CREW = (("unwind", "N. Petrov"), ("rewind", "T. Oduya"))


def procedure() -> Procedure:
    """Two lists with a wait each."""
    found = compile_procedure(TEXT, "two-waits.procedure.yaml", lambda _: None)
    assert found.procedure is not None, found.findings
    return found.procedure


def both_begun() -> Person:
    """Both waits run."""
    person = Person(MemoryRun(procedure(), CREW, ()))
    return person.press("enter", "tab", "enter", "tab")


def test_two_waits_run_at_once_and_each_list_shows_both() -> None:
    person = both_begun()
    text = person.screen()
    assert "Let the unwind bladder settle." in text
    assert text.count("to go, until") == 2
    found = waits(person.run.procedure, person.run.state, person.run.now())
    assert [wait.lane for wait in found] == [0, 1]
    assert found[0].left_s > found[1].left_s > 0


def test_a_wait_of_the_other_list_that_is_over_is_said() -> None:
    person = both_begun()
    person.run.tick += 40
    assert "the waiting time is over" in person.screen()
    assert "to go, until" in person.screen()


@settings(max_examples=40, deadline=None)
@given(st.lists(st.floats(0.8, 12.0), min_size=1, max_size=30))
def test_no_train_of_keys_passes_a_wait_early(pauses: list[float]) -> None:
    person = both_begun()
    begun = person.run.tick
    for pause in pauses:
        person.pause = pause
        person.press("enter")
        ended = [event for event in person.run.events if isinstance(event, WaitEnded)]
        assert not ended or person.run.tick - begun >= 30 - 10
        for event in ended:
            assert event.waited_s >= (90 if event.step == "left" else 30)
    done = [event.step for event in person.run.events if isinstance(event, StepDone)]
    assert len(done) <= 2


def test_a_wall_clock_that_is_set_on_shortens_no_wait() -> None:
    person = both_begun()
    steady = person.run.now()
    later = Moment("2026-11-26T09:40:14.250Z", steady.tick, steady.boot)
    assert [wait.left_s for wait in waits(person.run.procedure, person.run.state, later)] == [
        wait.left_s for wait in waits(person.run.procedure, person.run.state, steady)
    ]


def test_until_when_is_said_over_midnight_to_the_nearest_second() -> None:
    assert until(Moment("2026-11-25T23:59:30.600Z", 0, ""), 40.0) == "00:00:11"
    assert until(Moment("2026-11-25T09:40:14.250Z", 0, ""), 90.0) == "09:41:44"
