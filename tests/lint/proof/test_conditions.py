"""Conditions along a way: what one was on a way it stays until what it rests on is read again, and none contradicts another."""

from runner.lint.proof.conditions import joined
from runner.lint.proof.faults import prove
from tests.lint.proof.test_enumeration import compiled, ways

HEAD = """
people: {unwind: "Operator, unwind side"}
inputs:
  width: {ask: Width, unit: mm, within: [0, 10]}
  gap: {ask: Gap, unit: mm, within: [0, 10]}
states:
  crane: {of: [free, carrying], at_start: free, at_end: free}
phases:
  - phase: Lift
    park: after
    steps:
"""
WEIGH = "- {id: weigh, by: unwind, do: Weigh the roll., read: {mass: {ask: Mass, unit: kg, within: [0, 800]}}}"
LIFT = "- {id: lift, by: unwind, when: 'mass > 25 [kg]', needs: {crane: free}, do: Lift the roll., makes: {crane: carrying}}"
UNHOOK = (
    "- {id: unhook, by: unwind, when: 'mass > 25 [kg]', needs: {crane: carrying}, do: Unhook it., makes: {crane: free}}"
)


def found(*steps: str) -> dict[tuple[object, ...], tuple[int, int]]:
    """The faults of a list of steps, with how far the way to each goes."""
    procedure = compiled(HEAD + "".join(f"      {step}\n" for step in steps))
    assert procedure is not None
    return ways(prove(procedure).faults)


def test_two_steps_under_one_condition_on_a_reading_are_both_done_or_both_passed_over() -> None:
    assert found(WEIGH, LIFT, UNHOOK) == {}


def test_a_narrower_condition_on_the_same_reading_is_found_wanting() -> None:
    assert ("end", "", 0) in found(WEIGH, LIFT, UNHOOK.replace("25", "30"))
    assert ("end", "", 0) not in found(WEIGH, LIFT, UNHOOK.replace("25", "20"))


def test_a_reading_that_is_taken_again_may_come_out_otherwise() -> None:
    back = "trouble: [{sign: The hook is bent, do: Weigh it again., back_to: weigh}]"
    wipe = f"- {{id: wipe, by: unwind, do: Wipe the hook., {back}}}"
    assert found(WEIGH, LIFT, wipe, UNHOOK) == {
        ("need", "lift", 0): (1, 8),
        ("end", "", 0): (1, 12),
    }


def test_conditions_joined_by_a_third_do_not_contradict_one_another() -> None:
    steps = (
        "- {id: a, by: unwind, when: 'width > 3 [mm]', do: Lift it., makes: {crane: carrying}}",
        "- {id: b, by: unwind, when: 'width <= gap', do: Lift it., makes: {crane: carrying}}",
        "- {id: c, by: unwind, when: 'gap > 5 [mm]', needs: {crane: carrying}, do: Turn it.}",
        "- {id: d, by: unwind, do: Lower it., makes: {crane: free}}",
    )
    assert found(*steps) == {}
    assert ("need", "c", 0) in found(steps[0], *steps[2:])


def test_conditions_are_joined_over_any_number_of_shared_values() -> None:
    rests = [frozenset(names) for names in ("a", "bc", "d", "ab", "e")]
    assert joined(rests) == (
        frozenset({0, 1, 3}),
        frozenset({0, 1, 3}),
        frozenset({2}),
        frozenset({0, 1, 3}),
        frozenset({4}),
    )
