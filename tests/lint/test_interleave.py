"""Every mixing of lists side by side: found against a search that leaves nothing out, and told with the way to it."""

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from runner.engine import flow
from runner.engine.position import Position
from runner.lint import interleave
from runner.lint.samples import PLAIN
from runner.procedure.model import Procedure
from tests.lint.test_order import at, found
from tests.lint.test_walk_laws import FACTS, STATES, compiled

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
        "step 1a.2 (lift) begins and is done",
        "step 1b.1 (load-core) begins and is done",
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
        "step 1a.1 (shut) begins and is done",
        "step 1b.1 (join) begins and is done",
        "step 1a.2 (inch) waits: web must be cut; it is joined",
        "step 1b.2 (wipe) waits: guard must be open; it is closed",
    )


def test_a_fault_of_the_plain_order_is_told_once() -> None:
    example = UNMADE.replace("at_start: cut", "at_start: joined")
    assert found(example, "needs-unmet")
    assert found(example, RULE) == []


def search(procedure: Procedure) -> bool:
    """Whether the lists of the first phase can come to where none goes on, searched with nothing left out."""
    first = flow.start(procedure)
    seen: set[Position] = {first}
    waiting = [first]
    while waiting:
        position = waiting.pop()
        if position.phase != first.phase:
            continue
        after = []
        for lane, cursor in enumerate(position.cursors):
            step = flow.current(procedure, position, lane)
            if step is None:
                continue
            if cursor.begun and not flow.unmet_in_progress(position, step):
                after.append(flow.done(procedure, position, lane))
            if not cursor.begun and not flow.blocks(procedure, position, lane):
                after.append(flow.begun(procedure, position, lane))
        if not after:
            return True
        waiting += [one for one in after if one not in seen]
        seen.update(after)
    return False


STEPS = st.lists(st.tuples(FACTS, FACTS, st.just(False)), min_size=1, max_size=4)


@settings(max_examples=150, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(st.lists(STEPS, min_size=2, max_size=2), st.sets(st.sampled_from(sorted(STATES))))
def test_leaving_out_what_goes_on_alone_loses_no_position_and_brings_none(
    lists: list[list[tuple[dict[str, int], dict[str, int], bool]]], owned: set[str]
) -> None:
    procedure = compiled([lists])
    states = tuple(state._replace(at_start=0, one_owner=state.name in owned) for state in procedure.states)
    procedure = procedure._replace(states=states)
    looked = interleave.Search(procedure, procedure.phases[0], PLAIN, 10**6).first(flow.start(procedure))
    assert (looked is not None) == search(procedure)


def test_a_phase_that_is_too_large_is_not_judged(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(interleave, "MOST_POSITIONS", 3)
    assert found(TAKEN, RULE) == []


def test_a_phase_with_many_steps_that_touch_the_same_state_ends_within_the_bound() -> None:
    procedure = compiled([[[({}, {"web": at % 2}, False) for at in range(40)] for _ in range(2)]])
    search = interleave.Search(procedure, procedure.phases[0], PLAIN, interleave.MOST_POSITIONS)
    assert search.first(flow.start(procedure)) is None
    assert len(search.came) < interleave.MOST_POSITIONS
