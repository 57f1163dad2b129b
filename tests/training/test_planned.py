"""Which faults come: the same seed draws the same, every seeded fault comes for some seed, and time that is stepped is no jump."""

from pathlib import Path

from runner.procedure.scenarios.model import Scenario
from runner.procedure.scenarios.reading import read_scenario
from runner.record.clock import ShiftedClock, clock_step
from runner.training.planned import criteria, planned

FILE = Path(__file__).parents[2] / "procedures" / "training" / "assessment-mount.scenario.yaml"


def scenario() -> Scenario:
    read = read_scenario(FILE.read_text(encoding="utf-8"), FILE.name)
    assert read.scenario is not None
    return read.scenario


def test_the_same_seed_draws_the_same() -> None:
    assert [planned(scenario(), seed) for seed in range(20)] == [planned(scenario(), seed) for seed in range(20)]


def test_so_many_come_as_are_drawn_and_each_comes_for_some_seed_at_each_of_its_steps() -> None:
    drawn = [planned(scenario(), seed) for seed in range(60)]
    assert {len(come) for come in drawn} == {scenario().draw}
    every = {(fault.id, step) for fault in scenario().faults for step in fault.at}
    assert {pair for come in drawn for pair in come} == every


def test_what_is_shown_beforehand_does_not_tell_which_faults_come() -> None:
    shown = dict(criteria(scenario()))
    assert {fault.id for fault in scenario().faults} <= shown.keys()
    assert len(shown) == len(scenario().criteria)


def test_stepping_the_time_moves_both_clocks_and_is_no_jump_of_one() -> None:
    clock = ShiftedClock()
    before = clock.now()
    clock.advance(118.0)
    clock.advance(-5.0)
    after = clock.now()
    assert clock_step(before, after) is None
    assert 118.0 <= after.tick - before.tick < 128.0
    assert ShiftedClock(60.0).now().tick - ShiftedClock().now().tick > 59.0
