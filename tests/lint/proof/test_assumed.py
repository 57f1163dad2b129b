"""What is told beyond a fault: further faults of their own, never what only follows from what was taken to be so."""

from runner.lint.proof.faults import Proof, prove
from runner.lint.proof.trace import trace
from runner.procedure.model import Procedure
from tests.lint.proof.test_enumeration import compiled

STATES = """
people: {unwind: "Operator, unwind side", rewind: "Operator, rewind side"}
states:
  crane: {of: [free, carrying], at_start: free, one_owner: true}
  trolley: {of: [away, under], at_start: away, one_owner: true}
  chamber: {of: [in, out], at_start: in}
  guard: {of: [open, closed]}
phases:
"""


def proved(phases: str) -> tuple[Procedure, Proof]:
    procedure = compiled(STATES + phases)
    assert procedure is not None
    return procedure, prove(procedure)


def keys(proof: Proof) -> set[tuple[object, ...]]:
    return {fault.key[:2] for fault in proof.faults}


def test_what_follows_from_lists_that_wait_for_each_other_is_not_told() -> None:
    _, proof = proved("""
  - phase: Swap
    park: after
    together:
      unwind:
        - {id: hook, do: Hook the roll., needs: {crane: free}, makes: {crane: carrying}}
        - {id: drive-under, do: Drive the trolley under it., needs: {trolley: away}, makes: {trolley: under}}
        - {id: lower, do: Lower the roll., needs: {crane: carrying, trolley: under}, makes: {crane: free}}
        - {id: drive-away, do: Drive it away., needs: {trolley: under}, makes: {trolley: away}}
      rewind:
        - {id: load, do: Load the core., needs: {trolley: away}, makes: {trolley: under}}
        - {id: lift, do: Lift the core., needs: {crane: free, trolley: under}, makes: {crane: carrying}}
        - {id: set, do: Set the core., needs: {crane: carrying}, makes: {crane: free}}
        - {id: empty, do: Drive the trolley away., needs: {trolley: under}, makes: {trolley: away}}
""")
    assert {fault.kind for fault in proof.faults} == {"deadlock"}


RACE = """
  - phase: Change
    park: after
    together:
      unwind:
        - {id: chamber-out, do: Pull it out., needs: {chamber: in}, makes: {chamber: out}}
        - {id: chamber-in, do: Push it in., needs: {chamber: out}, makes: {chamber: in}}
      rewind:
        - {id: drain, do: Drain the hoses., needs: {chamber: out}}
        - {id: start, do: Start the pump., needs: {chamber: in}}
"""


def test_a_state_that_was_taken_to_be_so_is_no_fault_of_a_later_step() -> None:
    _, proof = proved(RACE)
    assert keys(proof) == {("need", "drain")}


def test_a_fault_beyond_another_is_told_and_its_way_says_what_was_taken_to_begin() -> None:
    procedure, proof = proved("""
  - phase: Start
    park: after
    steps:
      - {id: open, by: unwind, do: Open it., needs: {chamber: out}, makes: {guard: open}}
      - {id: start, by: unwind, do: Start it., needs: {guard: closed}}
""")
    assert keys(proof) == {("need", "open"), ("need", "start")}
    beyond = next(fault for fault in proof.faults if fault.assumed)
    assert trace(procedure, proof.conditions, beyond) == (
        "at the start guard is not known",
        "step 1.1 (open) is taken to begin all the same",
        "step 1.1 (open) makes guard open",
        "step 1.2 (start) comes up: guard must be closed; it is open",
    )


def test_only_the_list_that_waits_without_hope_is_taken_to_go_on() -> None:
    _, proof = proved("""
  - phase: Change
    park: after
    together:
      unwind:
        - {id: close, do: Close it., needs: {chamber: out}, makes: {guard: closed}}
      rewind:
        - {id: start, do: Start it., needs: {guard: closed}, makes: {trolley: under}}
        - {id: stop, do: Stop it., needs: {trolley: under, crane: carrying}}
""")
    assert keys(proof) == {
        ("need", "close"),
        ("need", "stop"),
    }
