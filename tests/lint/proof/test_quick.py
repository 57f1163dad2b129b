"""What is seen without exploring agrees with enumeration and with the walk over all moments, and is seen of ordinary procedures."""

from hypothesis import HealthCheck, given, settings

from runner.engine import flow
from runner.engine.position import Position
from runner.lint.proof.conditions import Conditions
from runner.lint.proof.faults import every_step, prove
from runner.lint.proof.quick import clear, goes_on
from runner.lint.proof.safe import made_safe, moments, no_ways_on, run_on
from runner.procedure.compile import compile_procedure
from runner.procedure.model import Procedure
from tests.bench.written import procedure as measured
from tests.lint.proof.enumeration import enumerate_faults
from tests.lint.proof.test_enumeration import GRID, compiled
from tests.lint.proof.written import procedures

OFTEN = settings(
    max_examples=400, deadline=None, suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much]
)


@OFTEN
@given(procedures(alone=True))
def test_what_is_seen_to_be_clear_has_no_fault_in_any_way_and_every_step_begins(text: str) -> None:
    procedure = compiled(text)
    if procedure is None or clear(procedure, Conditions(procedure)) is None:
        return
    for plain in (True, False):
        faults, begun = enumerate_faults(procedure, GRID, plain=plain)  # type: ignore[arg-type]  # floats are values
        assert not faults
    assert begun == {step.id for step in every_step(procedure)}


@OFTEN
@given(procedures(alone=True))
def test_a_phase_that_is_seen_to_go_on_after_making_safe_does_so_from_every_moment(text: str) -> None:
    procedure = compiled(text)
    entries = None if procedure is None else clear(procedure, Conditions(procedure))
    if procedure is None or entries is None:
        return
    conditions = Conditions(procedure)
    stand = {found.phase.place for found in no_ways_on(procedure, conditions)}
    for at, entry in enumerate(entries):
        if goes_on(procedure, conditions, at, entry):
            assert procedure.phases[at].place not in stand


def goes_on_from(procedure: Procedure, made: Position) -> bool:
    """Whether going on, or going back to some earlier step of a list, leads to the end of the phase; nothing is kept between the tries."""
    tries = [made] + [
        flow.returned(made, lane, earlier) for lane, cursor in enumerate(made.cursors) for earlier in range(cursor.step)
    ]
    return any(run_on(procedure, one, {}).phase != made.phase for one in tries)


@OFTEN
@given(procedures(alone=True))
def test_what_was_found_from_one_moment_never_misleads_about_another(text: str) -> None:
    procedure = compiled(text)
    if procedure is None:
        return
    conditions = Conditions(procedure)
    stand = {found.phase.place for found in no_ways_on(procedure, conditions)}
    expected = set()
    for _, position in moments(procedure, conditions):
        phase = procedure.phases[position.phase]
        made = made_safe(procedure, position, phase.make_safe or procedure.make_safe)
        if made.states != position.states and not goes_on_from(procedure, made):
            expected.add(phase.place)
    assert stand == expected


def test_an_ordinary_procedure_is_seen_to_be_clear_without_exploring() -> None:
    procedure = compile_procedure(measured(60), "measured.procedure.yaml", lambda _: None).procedure
    assert procedure is not None
    proof = prove(procedure)
    assert proof.nodes == 0
    assert len(proof.entries) == len(procedure.phases)
    explored = prove(procedure, reduced=False)
    assert explored.nodes > 0
    assert (explored.faults, explored.never_begun) == ((), ())
