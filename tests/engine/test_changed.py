"""A record with fields changed is what `dataclasses.replace` of the standard library makes of it."""

from dataclasses import replace

import pytest

from runner.engine.changed import changed
from runner.engine.decide import take
from runner.engine.evolve import begin_state, evolve
from runner.engine.intents import BeginRun, Refusal
from runner.engine.moment import Moment
from runner.engine.position import Position
from runner.engine.state import KnownValue, RunState, StepRecord, StepStatus
from tests.engine.bench import compiled

STEPS = "  - phase: One\n    steps:\n      - {id: stop, by: unwind, do: Stop.}\n"


def test_it_is_what_replace_makes() -> None:
    known = KnownValue("width", 1.2, "1.2 m", "ticket")
    state = RunState(Position(0, (), (), ()), run="one")
    assert changed(known, stale=True) == replace(known, stale=True)
    assert changed(state, halted="pause", intention="go on") == replace(state, halted="pause", intention="go on")
    assert changed(StepRecord(), status=StepStatus.DONE) == replace(StepRecord(), status=StepStatus.DONE)
    assert (known.stale, state.halted) == (False, "")


def test_a_field_that_there_is_not_is_an_error_as_with_replace() -> None:
    with pytest.raises(TypeError, match="staale"):
        changed(KnownValue("width", 1.2, "1.2 m", "ticket"), staale=True)


def test_the_state_that_comes_with_events_is_their_fold() -> None:
    procedure = compiled(STEPS)
    crew = (("unwind", "Uma"), ("rewind", "Rolf"), ("lead", "Lena"))
    inputs = (("width", "1000"), ("film", "kraft"))
    begin = BeginRun("Uma", "try", "dry", True, crew, inputs, "test", at=Moment("2026-11-25T08:00:00.000Z", 0.0, "b"))
    taken = take(procedure, begin_state(procedure), begin)
    assert not isinstance(taken, Refusal)
    folded = begin_state(procedure)
    for event in taken.events:
        folded = evolve(procedure, folded, event)
    assert taken.state == folded
