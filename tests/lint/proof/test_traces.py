"""A way that is told is one that can be gone: played again over the order rules it ends where the fault is."""

from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings

from runner.engine import flow
from runner.engine.position import Position
from runner.lint.proof.faults import Fault, prove
from runner.lint.proof.moves import Move
from runner.lint.proof.trace import trace
from runner.procedure.compile import compile_procedure
from runner.procedure.model import Procedure
from tests.bench.proof_scale import written
from tests.lint.proof.test_enumeration import compiled, ways
from tests.lint.proof.written import procedures

FOLDER = Path(__file__).parent.parent.parent.parent / "procedures"
SHIPPED = sorted(FOLDER.glob("*.procedure.yaml"))


def played(procedure: Procedure, moves: tuple[Move, ...]) -> Position:
    """The position after the moves, each of which is allowed where it stands."""
    position = flow.start(procedure)
    for move in moves:
        assert flow.current(procedure, position, move.lane) is move.step
        match move.kind:
            case "begins":
                assert not flow.blocks(procedure, position, move.lane)
                position = flow.begun(procedure, position, move.lane)
            case "is done":
                assert position.cursors[move.lane].begun
                position = flow.done(procedure, position, move.lane)
            case "meets its trouble":
                assert move.trouble in move.step.troubles
                assert move.trouble is not None
                position = flow.troubled(procedure, position, move.lane, move.trouble)
            case "is done once more":
                position = flow.repeated(position, move.lane)
            case "is left out":
                assert move.step.optional
                position = flow.passed(procedure, position, move.lane)
            case "does not apply":
                assert move.step.when is not None
                position = flow.passed(procedure, position, move.lane)
            case kind:
                raise AssertionError(kind)
    return position


def stands(procedure: Procedure, fault: Fault) -> bool:
    """Whether a fault is there at the end of its way."""
    position = played(procedure, fault.moves)
    match fault.kind:
        case "end":
            return flow.ended(procedure, position) and position.states[fault.state] != fault.value
        case "kept":
            return flow.ended(procedure, position) and position.owners[fault.state] == fault.words
        case "deadlock":
            return all(flow.blocks(procedure, position, wait.lane) for wait in fault.waits)
        case _:
            lanes = range(len(position.cursors))
            lane = next(lane for lane in lanes if flow.current(procedure, position, lane) is fault.step)
            return any(block.state == fault.state for block in flow.blocks(procedure, position, lane))


@settings(max_examples=200, deadline=None, suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much])
@given(procedures())
def test_every_way_ends_where_its_fault_is(text: str) -> None:
    procedure = compiled(text)
    if procedure is None:
        return
    proof = prove(procedure)
    for fault in proof.faults:
        assert fault.assumed or stands(procedure, fault), fault
        lines = trace(procedure, proof.conditions, fault)
        assert lines
        assert all(line == line.strip() and line for line in lines)


@pytest.mark.parametrize("path", SHIPPED, ids=[path.stem for path in SHIPPED])
def test_shipped_procedures_are_proved_and_reduction_changes_nothing(path: Path) -> None:
    found = compile_procedure(
        path.read_text("utf-8"), path.name, lambda name: (FOLDER / Path(name).name).read_text("utf-8")
    )
    assert found.procedure is not None
    proof = prove(found.procedure)
    assert (proof.faults, proof.never_begun, proof.finished) == ((), (), True)
    faulty = 0
    for left_out in (3, 8, 15):
        broken = without_make(found.procedure, left_out)
        reduced, whole = prove(broken), prove(broken, reduced=False, most=200_000)
        assert whole.finished
        faulty += bool(reduced.faults)
        assert ways(reduced.faults) == ways(whole.faults)
    assert faulty


def without_make(procedure: Procedure, left_out: int) -> Procedure:
    """The procedure with one of its steps that make something, counted from 0, making nothing."""
    for number, phase in enumerate(procedure.phases):
        for lane, steps in enumerate(phase.lists):
            for place, step in enumerate(steps.steps):
                left_out -= bool(step.makes)
                if left_out < 0:
                    changed = steps._replace(
                        steps=(*steps.steps[:place], step._replace(makes=()), *steps.steps[place + 1 :])
                    )
                    lists = (*phase.lists[:lane], changed, *phase.lists[lane + 1 :])
                    phases = (
                        *procedure.phases[:number],
                        phase._replace(lists=lists),
                        *procedure.phases[number + 1 :],
                    )
                    return procedure._replace(phases=phases)
    raise AssertionError("nothing is made")


def test_two_long_lists_that_meet_are_proved_the_same_without_reduction() -> None:
    found = compile_procedure(written(60), "scale.procedure.yaml", lambda _: None)
    assert found.procedure is not None
    broken = without_make(found.procedure, 5)
    whole = prove(broken, reduced=False, most=200_000)
    assert whole.finished
    assert ways(prove(broken).faults) == ways(whole.faults)
