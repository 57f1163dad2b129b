"""What the engine keeps between two questions is what it would find anew, along whole simulated runs."""

import pytest

from runner.engine import flow
from runner.engine.evolve import begin_state, evolve
from runner.engine.held import own_values, rests_on, splits
from runner.engine.lookup import MOST_KEPT, changed_by, index
from runner.engine.shown import values_now
from runner.procedure.model import Procedure, steps_of
from runner.training.simulate.many import Simulation
from runner.training.simulate.rates import Rates
from tests.engine.bench import compiled
from tests.training.simulate.lines import PAIRED
from tests.training.simulate.test_runs import SHIPPED, shipped


def found_anew(procedure: Procedure, phase: int, step_id: str) -> tuple[int, int] | None:
    for lane, steps in enumerate(procedure.phases[phase].lists):
        for at, step in enumerate(steps.steps):
            if step.id == step_id:
                return lane, at
    return None


@pytest.mark.parametrize("name", SHIPPED)
def test_values_and_places_are_those_of_the_state_at_every_event(name: str) -> None:
    procedure = shipped(name)
    simulation = Simulation(procedure, Rates())
    for seed in ("3-0", "3-1"):
        state = begin_state(procedure)
        for event in simulation.one(seed).events:
            state = evolve(procedure, state, event)
            assert values_now(state) == {name: known.value for name, known in state.values.items() if known.counts}
            step = getattr(event, "step", "")
            if not flow.ended(procedure, state.position):
                assert flow.find(procedure, state.position, step) == found_anew(procedure, state.position.phase, step)


@pytest.mark.parametrize("name", SHIPPED)
def test_what_a_step_rests_on_is_the_same_the_second_time(name: str) -> None:
    procedure = shipped(name)
    for step in steps_of(procedure):
        own = {n for ask in step.asks for n in (ask.name, *changed_by(procedure, ask.name))}
        used = step.uses - own
        wanted = tuple(
            split.name for split in splits(procedure) if used & {split.name, *changed_by(procedure, split.name)}
        )
        for _ in range(2):
            assert own_values(procedure, step) == own
            assert rests_on(procedure, step) == wanted


def test_each_procedure_has_its_own_index_however_many_there_are() -> None:
    procedures = [compiled(PAIRED) for _ in range(3 * MOST_KEPT)]
    assert all(index(one).procedure is one for one in procedures)
    assert all(index(one).procedure is one for one in procedures)
    assert index(procedures[-1]) is index(procedures[-1])


def test_two_phases_with_the_same_steps_have_their_own_places() -> None:
    procedure = compiled(PAIRED)
    (phase,) = procedure.phases
    turned = phase._replace(lists=tuple(reversed(phase.lists)))
    assert flow.places(phase)["short"] == (1, 0)
    assert flow.places(turned)["short"] == (0, 0)
    assert flow.places(phase)["short"] == (1, 0)
