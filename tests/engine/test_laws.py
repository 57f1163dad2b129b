"""Laws of the engine over the shipped procedures: thousands of random intents never break them."""

import random
from pathlib import Path

import pytest

from runner.engine import events as ev
from runner.engine import flow
from runner.engine import intents as want
from runner.engine.decide import decide
from runner.engine.evolve import begin_state, evolve, replay
from runner.engine.intents import Refusal
from runner.engine.lookup import step_named
from runner.procedure.compile import compile_procedure
from runner.procedure.job import read_job
from runner.procedure.model import Procedure
from runner.record.line import GENESIS, Entry, Mark, decode, encode

from .bench import Bench
from .wanderer import crew_of, sensible, wish

FOLDER = Path(__file__).parent.parent.parent / "procedures"
SHIPPED = sorted(FOLDER.glob("*.procedure.yaml"))
WISHES = 1500
"""Random intents for each procedure and seed."""


def shipped(path: Path) -> Procedure:
    def fetch(name: str) -> str | None:
        beside = FOLDER / name
        return beside.read_text(encoding="utf-8") if beside.is_file() else None

    compiled = compile_procedure(path.read_text(encoding="utf-8"), path.name, fetch)
    assert compiled.procedure is not None, compiled.findings
    return compiled.procedure


def begun(procedure: Procedure, path: Path) -> Bench:
    bench = Bench(procedure)
    inputs = tuple(typed_inputs(path, procedure))
    begin = want.BeginRun("Someone", "R1", "live", True, crew_of(procedure), inputs, "test")
    bench.must(begin)
    return bench


def typed_inputs(path: Path, procedure: Procedure) -> list[tuple[str, str]]:
    """The shipped job's values."""
    job_path = path.with_name(path.name.replace(".procedure.", ".job."))
    job = read_job(job_path.read_text(encoding="utf-8"), job_path.name).job
    assert job is not None
    assert {given.name for given in procedure.inputs} == {given.name for given in job.inputs}
    return [(given.name, given.typed) for given in job.inputs]


@pytest.mark.parametrize("path", SHIPPED, ids=lambda path: path.name)
@pytest.mark.parametrize("seed", range(3))
def test_replay_equals_the_live_state_after_every_event(path: Path, seed: int) -> None:
    chance = random.Random(seed)
    procedure = shipped(path)
    bench = begun(procedure, path)
    folded, seen = begin_state(procedure), 0
    for wishes in range(WISHES):
        if bench.state.outcome:
            break
        bench.attempt(wish(bench, chance))
        for event in bench.events[seen:]:
            folded = evolve(procedure, folded, read_back(event))
        seen = len(bench.events)
        assert folded == bench.state, f"after {wishes} wishes"
    assert replay(procedure, map(read_back, bench.events)) == bench.state
    assert len(bench.events) > 50


def read_back(event: ev.Event) -> ev.Event:
    """The event as a journal gives it back."""
    line, _ = encode(event, 1, GENESIS, Mark("law", "live"))
    entry = decode(line)
    assert isinstance(entry, Entry), entry
    return entry.event


@pytest.mark.parametrize("path", SHIPPED, ids=lambda path: path.name)
def test_a_step_begins_exactly_where_flow_lets_it(path: Path) -> None:
    """With cautions read, holds released and values known, `decide` and `flow` say the same."""
    chance = random.Random(7)
    procedure = shipped(path)
    bench = begun(procedure, path)
    compared = 0
    for _ in range(WISHES):
        if bench.state.outcome:
            break
        for lane in range(len(bench.state.position.cursors)):
            step = flow.current(procedure, bench.state.position, lane)
            if step is None or bench.state.position.cursors[lane].begun or bench.state.halted:
                continue
            wanted = sensible(bench, step, random.Random(1))
            if not isinstance(wanted, want.BeginStep):
                continue
            decided = decide(procedure, bench.state, wanted)
            stands_against = flow.blocks(procedure, bench.state.position, lane)
            if stands_against:
                assert isinstance(decided, Refusal), step.id
            elif not isinstance(decided, Refusal):
                assert isinstance(decided[0], ev.StepBegun)
            else:
                assert "values" in decided.reason or "released" in decided.reason, decided
            compared += 1
        bench.attempt(wish(bench, chance))
    assert compared > 20


@pytest.mark.parametrize("path", SHIPPED, ids=lambda path: path.name)
@pytest.mark.parametrize("seed", range(3))
def test_no_step_was_ever_done_against_the_rules(path: Path, seed: int) -> None:
    """Read from the events alone: needs held at begin, holds were released for the attempt by another person."""
    chance = random.Random(100 + seed)
    procedure = shipped(path)
    bench = begun(procedure, path)
    released: dict[str, str] = {}
    state = begin_state(procedure)
    done = 0
    for _ in range(WISHES):
        if bench.state.outcome:
            break
        bench.attempt(wish(bench, chance))
    for event in bench.events:
        match event:
            case ev.HoldReleased():
                released[event.step] = event.by
            case ev.HoldRevoked():
                released.pop(event.step, None)
            case ev.StepBegun():
                step = step_named(procedure, event.step)
                assert step is not None
                assert flow.unmet(state.position, step) == ()
                assert not state.halted
                if step.hold is not None:
                    assert released.get(event.step, event.by) != event.by
            case ev.StepDone():
                step = step_named(procedure, event.step)
                assert step is not None
                assert flow.unmet_in_progress(state.position, step) == ()
                assert step.hold is None or event.step in released
                released.pop(event.step, None)
                done += 1
            case ev.TroubleMet() | ev.StepRepeated():
                released.pop(event.step, None)
            case ev.WentBack():
                for name in event.again:
                    released.pop(name, None)
            case _:
                pass
        state = evolve(procedure, state, event)
    assert done > 10


def test_there_are_procedures_to_try_the_laws_on() -> None:
    assert {path.name.split(".")[0] for path in SHIPPED} >= {"change-roll", "web-break", "slitter-knives"}
