"""Simulated runs: the seed says it all, the engine is the real one, and what sticks is told with its seed."""

from pathlib import Path

import pytest

from runner.engine.evolve import replay
from runner.engine.intents import BeginRun, Refusal
from runner.procedure.compile import compile_procedure
from runner.procedure.model import Procedure, steps_of
from runner.record.verify import verify_bytes
from runner.training.simulate.coverage import LEFT_OUT, STEP, WORKED, Spot
from runner.training.simulate.door import SimulatedClock, open_kept, open_unkept
from runner.training.simulate.jobs import Jobs
from runner.training.simulate.many import Simulation, seeds_of
from runner.training.simulate.possible import CAN, says
from runner.training.simulate.rates import PLAIN, Rates
from runner.training.simulate.result import as_data, result_of
from runner.training.simulate.text import lines_of
from tests.cli.command import PROCEDURES
from tests.engine.bench import compiled
from tests.training.simulate.lines import PAIRED, STUCK, small

SHIPPED = ("change-roll", "web-break", "slitter-knives")


def shipped(name: str) -> Procedure:
    path = PROCEDURES / f"{name}.procedure.yaml"
    compiled_ = compile_procedure(path.read_text(encoding="utf-8"), path.name, lambda p: (PROCEDURES / p).read_text())
    assert compiled_.procedure is not None
    return compiled_.procedure


def journals(folder: Path, seeds: tuple[str, ...]) -> dict[str, bytes]:
    Simulation(shipped("web-break"), Rates(), open_kept(str(folder))).play(seeds)
    return {path.name: path.read_bytes() for path in folder.rglob("*.journal")}


def test_the_same_seed_gives_the_same_journals_byte_for_byte(tmp_path: Path) -> None:
    first = journals(tmp_path / "one", ("1-0", "1-1"))
    assert len(first) == 2
    assert first == journals(tmp_path / "two", ("1-1", "1-0"))
    assert all(verify_bytes(content).whole for content in first.values())


def test_another_seed_gives_another_run() -> None:
    simulation = Simulation(small(), Rates())
    assert simulation.one("1-0").events != simulation.one("1-1").events


@pytest.mark.parametrize("name", SHIPPED)
def test_the_state_of_a_run_is_the_fold_of_its_events(name: str) -> None:
    procedure = shipped(name)
    walk = Simulation(procedure, Rates()).one("5-1")
    assert replay(procedure, walk.events) == walk.state
    assert walk.state.mode == "dry"
    assert walk.state.played


@pytest.mark.parametrize("name", SHIPPED)
def test_where_nothing_goes_otherwise_each_run_finishes_and_nothing_is_refused(name: str) -> None:
    simulation = Simulation(shipped(name), PLAIN).play(seeds_of(3, 4))
    sticking = [met.words for met in simulation.dead_ends.values() if "values that do not count" not in met.words]
    assert not sticking, sticking
    assert simulation.outcomes["finished"] + sum(met.count for met in simulation.dead_ends.values()) == 4


def test_jobs_that_are_drawn_may_begin() -> None:
    procedure, jobs = shipped("change-roll"), Jobs(shipped("change-roll"))
    simulation = Simulation(procedure, PLAIN)
    refused = [simulation.one(seed).job_refused for seed in seeds_of(2, 3)]
    assert refused == [(), (), ()]
    typed = jobs.typed(jobs.anchors[0])
    crew = tuple((role, role) for role, _ in procedure.people)
    clock = SimulatedClock()
    intent = BeginRun("unwind", "simulated-x", "dry", True, crew, typed, "try", at=clock.now())
    assert not isinstance(open_unkept(procedure, intent, clock, lambda _: None), Refusal)


def test_everybody_is_a_role_and_nobody_has_a_name() -> None:
    walk = Simulation(small(), PLAIN).one("1-0")
    assert set(walk.state.crew.values()) == {"simulated unwind", "simulated rewind", "simulated lead"}


def test_enough_runs_of_a_small_procedure_come_to_everything() -> None:
    simulation = Simulation(small(), Rates()).play(seeds_of(1, 400))
    assert [spot.words for spot in simulation.coverage.unreached] == []
    assert simulation.outcomes["finished"] == 400


def test_a_dead_end_is_told_with_its_seed_and_comes_again() -> None:
    simulation = Simulation(compiled(STUCK), PLAIN).play(seeds_of(7, 2))
    (met,) = simulation.dead_ends.values()
    assert met.count == 2
    assert met.seeds == ["7-0", "7-1"]
    assert "drive must be running; it is stopped" in met.words
    again = simulation.one(met.seeds[1])
    assert again.dead_end == met.words
    assert again.outcome == "abandoned"


def test_what_is_never_reached_is_named_with_what_the_proof_says() -> None:
    procedure = compiled(STUCK)
    simulation = Simulation(procedure, PLAIN).play(seeds_of(1, 3))
    assert [spot.where for spot in simulation.coverage.unreached if spot.kind == STEP] == ["open", "after"]
    words = says(procedure, simulation.coverage.unreached)
    assert "step 1.2 (open) may not begin" in words[Spot(STEP, "open")]
    assert "step 1.2 (open) may not begin" in words[Spot(STEP, "after")]
    plain = Simulation(small(), PLAIN).play(seeds_of(1, 3))
    left = Spot(LEFT_OUT, "wipe")
    assert left in plain.coverage.unreached
    assert says(small(), (left,)) == {left: CAN}


def test_of_a_limit_it_is_said_whether_an_allowed_job_breaks_it() -> None:
    procedure = compiled(STUCK)
    found = says(procedure, (Spot(WORKED, "area"),))
    assert (
        found[Spot(WORKED, "area")] == "an allowed job breaks it: width 1300 mm"
    )  # 1.3 m by 2 m is 2.6 m², over 2.5 m²


def test_two_lists_go_on_side_by_side() -> None:
    walk = Simulation(compiled(PAIRED), PLAIN).one("1-0")
    begun = {attempt.step: attempt for attempt in walk.schedule.attempts}
    assert begun["short"].start == begun["long"].start
    assert begun["short"].end < begun["long"].end
    assert begun["put-down"].start == pytest.approx(begun["long"].end, abs=10.0)


def test_the_report_is_no_wider_than_80_columns_and_says_that_it_is_simulated() -> None:
    result = result_of(Simulation(small(), Rates()).play(seeds_of(1, 30)), 1)
    lines = list(lines_of(result))
    assert max(map(len, lines)) <= 80
    assert any(line.startswith("Simulated: no press") for line in lines)
    assert as_data(result)["runs"] == 30


def test_every_step_of_a_procedure_has_its_spot() -> None:
    procedure = shipped("change-roll")
    known = {spot.where for spot in Simulation(procedure, PLAIN).coverage.all if spot.kind == STEP}
    assert known == {step.id for step in steps_of(procedure)}
