"""Several processes come to what one comes to, and no run of the shipped procedures ends where nothing leads on."""

from pathlib import Path

import pytest

from runner.engine import events as ev
from runner.training.simulate.door import open_kept
from runner.training.simulate.many import Simulation, seeds_of
from runner.training.simulate.parts import BATCH, batches, play_beside
from runner.training.simulate.rates import PLAIN, Rates
from runner.training.simulate.result import as_data, result_of
from tests.training.simulate.lines import small
from tests.training.simulate.test_runs import SHIPPED, shipped

RUNS = 2 * BATCH + 3

OFTEN_HALTED = PLAIN._replace(interrupted=0.12)
"""Nothing goes otherwise but that every eighth act or so a pause or a stop comes before it."""


def test_two_processes_come_to_what_one_comes_to() -> None:
    seeds = tuple(seeds_of(6, RUNS))
    alone = Simulation(small(), Rates()).play(seeds)
    heard: list[int] = []
    beside = play_beside(Simulation(small(), Rates()), seeds, 2, heard.append)
    assert as_data(result_of(beside, 6)) == as_data(result_of(alone, 6))
    assert heard == [BATCH, 2 * BATCH, RUNS]


def test_two_processes_write_the_journals_that_one_writes(tmp_path: Path) -> None:
    seeds = tuple(seeds_of(6, BATCH + 2))
    Simulation(small(), Rates(), open_kept(str(tmp_path / "one"))).play(seeds)
    play_beside(Simulation(small(), Rates(), open_kept(str(tmp_path / "two"))), seeds, 2)
    one, two = ({p.name: p.read_bytes() for p in (tmp_path / n).rglob("*.journal")} for n in ("one", "two"))
    assert len(one) == BATCH + 2
    assert one == two


def test_batches_are_neighbouring_seeds_and_leave_none_out() -> None:
    seeds = tuple(seeds_of(1, RUNS))
    dealt = list(batches(seeds))
    assert [len(one) for one in dealt] == [BATCH, BATCH, 3]
    assert tuple(seed for one in dealt for seed in one) == seeds


@pytest.mark.parametrize("name", SHIPPED)
def test_no_run_of_a_shipped_procedure_ends_where_nothing_leads_on(name: str) -> None:
    simulation = Simulation(shipped(name), Rates()).play(seeds_of(11, 40))
    assert {words: met.seeds for words, met in simulation.dead_ends.items()} == {}
    assert {key: met.seeds for key, met in simulation.refusals.items()} == {}
    assert set(simulation.outcomes) == {"finished"}


@pytest.mark.parametrize("name", SHIPPED)
def test_a_press_made_safe_in_the_last_phase_is_started_again_and_the_run_finishes(name: str) -> None:
    procedure = shipped(name)
    last = {step.id for steps in procedure.phases[-1].lists for step in steps.steps}
    simulation, made_safe = Simulation(procedure, OFTEN_HALTED), 0
    for seed in seeds_of(2, 5):
        walk = simulation.one(seed)
        assert (walk.outcome, walk.dead_end, walk.refused) == ("finished", "", [])
        begun = ""
        for event in walk.events:
            begun = event.step if isinstance(event, ev.StepBegun) else begun
            made_safe += isinstance(event, ev.MadeSafe) and begun in last
    assert made_safe > 0
