"""Stretches of work between two places where it may be interrupted."""

from runner.procedure.compile import compile_procedure
from runner.procedure.parking import Stretch, stretches
from tests.lint.examples import whole


def found(*phases: str) -> tuple[Stretch, ...]:
    text = whole("people: {unwind: Operator, rewind: Operator}\nphases:\n" + "".join(phases))
    procedure = compile_procedure(text, "x.procedure.yaml", lambda _: None).procedure
    assert procedure is not None
    return stretches(procedure)


def phase(name: str, park: str = "", minutes: int = 10) -> str:
    steps = f"[{{id: {name}, by: unwind, do: Wipe the {name}., expect: {minutes} min}}]"
    return f"  - {{phase: {name}, {f'park: {park}, ' if park else ''}steps: {steps}}}\n"


def test_a_stretch_goes_from_one_parking_place_to_the_next() -> None:
    assert found(phase("a"), phase("b", "after"), phase("c", "after")) == (Stretch(0, 1, 1200.0), Stretch(2, 2, 600.0))


def test_a_phase_that_is_a_parking_place_throughout_belongs_to_none_and_ends_the_one_before() -> None:
    assert found(phase("a"), phase("b", "throughout"), phase("c")) == (Stretch(0, 0, 600.0), Stretch(2, 2, 600.0))
    assert found(phase("a", "throughout")) == ()


def test_of_lists_side_by_side_the_longer_one_counts_and_a_step_without_a_time_for_nothing() -> None:
    lists = (
        "  - phase: Thread\n    together:\n"
        "      unwind: [{id: a, do: Thread it., expect: 3 min}, {id: b, do: Look at it.}]\n"
        "      rewind: [{id: c, do: Thread it., expect: 5 min}]\n"
    )
    assert found(lists) == (Stretch(0, 0, 300.0),)
