"""Lists side by side that can wait for each other for ever, told with the way to it."""

from runner.lint.proof.faults import prove
from runner.procedure.compile import compile_procedure
from tests.lint.examples import whole
from tests.lint.test_order import at, found

RULE = "lists-wait-for-each-other"
PEOPLE = 'people: {unwind: "Operator, unwind side", rewind: "Operator, rewind side"}\n'
TAKEN = (
    PEOPLE
    + """\
states:
  crane: {of: [free, carrying], at_start: free, one_owner: true}
  trolley: {of: [free, loaded], at_start: free, one_owner: true}
phases:
  - phase: Lift
    park: after
    together:
      unwind:
        - {id: wipe, do: Wipe the idlers.}
        - {id: lift, do: Lift the roll., needs: {crane: free}, makes: {crane: carrying}}
        - {id: load, do: Load the roll., needs: {trolley: free}, makes: {trolley: loaded}}
        - {id: clear, do: Clear both., makes: {crane: free, trolley: free}}
      rewind:
        - {id: load-core, do: Load the core., needs: {trolley: free}, makes: {trolley: loaded}}
        - {id: lift-core, do: Lift the core., needs: {crane: free}, makes: {crane: carrying}}
        - {id: clear-all, do: Clear all., makes: {crane: free, trolley: free}}
"""
)
UNMADE = (
    PEOPLE
    + """\
states:
  guard: {of: [open, closed], at_start: open}
  web: {of: [cut, joined], at_start: cut}
phases:
  - phase: Join
    park: after
    together:
      unwind:
        - {id: shut, do: Close the guard., makes: {guard: closed}}
        - {id: inch, do: Inch the unwind., needs: {web: cut}}
        - {id: open, do: Open the guard., makes: {guard: open}}
      rewind:
        - {id: join, do: Join the web., makes: {web: joined}}
        - {id: wipe, do: Wipe the idlers., needs: {guard: open}}
        - {id: cut, do: Cut the web., makes: {web: cut}}
"""
)


def test_two_lists_that_each_hold_what_the_other_waits_for_are_found_with_the_way_there() -> None:
    (finding,) = found(TAKEN, RULE)
    assert at(finding, TAKEN).startswith("trolley: free}, makes")
    assert finding.trace == (
        "step 1a.2 (lift) makes crane carrying",
        "step 1b.1 (load-core) makes trolley loaded",
        "step 1a.3 (load) waits: trolley must be free; it is loaded; trolley: Operator, rewind side has it",
        "step 1b.2 (lift-core) waits: crane must be free; it is carrying; crane: Operator, unwind side has it",
    )


def test_lists_that_take_things_in_the_same_order_are_silent() -> None:
    load, lift = [line for line in TAKEN.splitlines(keepends=True) if "-core" in line]
    assert found(TAKEN.replace(load + lift, lift + load), RULE) == []


def test_lists_that_each_unmake_what_the_other_waits_for_are_found() -> None:
    (finding,) = found(UNMADE, RULE)
    assert at(finding, UNMADE).startswith("web: cut")
    assert finding.trace == (
        "step 1a.1 (shut) makes guard closed",
        "step 1b.1 (join) makes web joined",
        "step 1a.2 (inch) waits: web must be cut; it is joined",
        "step 1b.2 (wipe) waits: guard must be open; it is closed",
    )


def test_lists_of_which_one_can_go_first_and_not_the_other_are_told_once() -> None:
    example = UNMADE.replace("at_start: cut", "at_start: joined")
    assert found(example, "needs-unmet") == []
    assert len(found(example, RULE)) == 1


def test_what_is_too_large_is_not_finished_and_says_so() -> None:
    compiled = compile_procedure(whole(TAKEN), "example.procedure.yaml", lambda _: None)
    assert compiled.procedure is not None
    assert prove(compiled.procedure, most=5).finished is False
    assert prove(compiled.procedure).finished
