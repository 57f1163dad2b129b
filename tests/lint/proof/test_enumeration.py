"""The proof agrees with plain enumeration on every fault and on the length of the shortest way to it."""

from hypothesis import HealthCheck, given, settings

from runner.lint.proof.faults import Fault, every_step, prove
from runner.procedure.compile import compile_procedure
from runner.procedure.model import Procedure
from tests.lint.examples import whole
from tests.lint.proof.enumeration import enumerate_faults
from tests.lint.proof.written import procedures

GRID = [
    {"width": width / 1000, "gap": gap / 1000}
    for width in (0.0, 2.0, 4.0, 4.7, 6.0, 8.5, 10.0)
    for gap in (0.0, 3.0, 4.5, 8.0)
]
"""Jobs that decide the conditions of `written` in every way that any job does."""


def compiled(text: str) -> Procedure | None:
    """The procedure, None where the language refuses it."""
    return compile_procedure(whole(text), "random.procedure.yaml", lambda _: None).procedure


def ways(faults: tuple[Fault, ...]) -> dict[tuple[object, ...], tuple[int, int]]:
    """(departures, moves) of the way to each fault that does not rest on something assumed."""
    return {fault.key: fault.far for fault in faults if not fault.assumed}


@settings(max_examples=400, deadline=None, suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much])
@given(procedures())
def test_the_proof_finds_what_enumeration_finds_by_as_short_a_way(text: str) -> None:
    procedure = compiled(text)
    if procedure is None:
        return
    found = prove(procedure)
    assert found.finished
    plain, _ = enumerate_faults(procedure, GRID, plain=True)  # type: ignore[arg-type]  # floats are values
    every, begun = enumerate_faults(procedure, GRID, plain=False)  # type: ignore[arg-type]
    assert ways(found.faults) == {**every, **plain}
    if not any(key[0] in ("need", "owner", "deadlock") for key in (*every, *plain)):
        assert {step.id for step in found.never_begun} == {step.id for step in every_step(procedure)} - begun
