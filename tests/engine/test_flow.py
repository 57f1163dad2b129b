"""The order rules of `engine.flow`, through a run."""

from runner.engine import events as ev
from runner.engine import flow
from runner.engine import intents as want
from runner.engine.state import StepStatus

from .bench import Bench, compiled, kinds

STOP = """
  - phase: One
    steps:
      - {id: stop, by: unwind, do: Stop the drive., makes: {drive: stopped}}
      - {id: open, by: unwind, do: Open the guard., needs: {drive: stopped}, makes: {guard: open}}
"""
TWO = """
  - phase: Both
    together:
      unwind:
        - {id: lift, do: Lift the roll., makes: {crane: carrying}}
        - {id: lower, do: Lower the roll., needs: {crane: carrying}, makes: {crane: free}}
      rewind:
        - {id: reach, do: Reach in., needs: {guard: closed}}
        - {id: hook, do: Hook the shaft., needs: {crane: free}, makes: {crane: carrying}}
        - {id: unhook, do: Unhook the shaft., needs: {crane: carrying}, makes: {crane: free}}
  - phase: After
    steps:
      - {id: last, by: unwind, do: Stop the drive., makes: {drive: stopped}}
"""


def test_unknown_meets_no_need() -> None:
    bench = Bench(compiled(STOP.replace("makes: {drive: stopped}", "makes: {web: out}")))
    bench.begin()
    bench.do("stop")
    assert "drive must be stopped; it is not known" in bench.refused(want.BeginStep("Uma", "open"))


def test_steps_of_a_list_come_one_after_the_other() -> None:
    bench = Bench(compiled(STOP))
    bench.begin()
    assert "not the one that is up" in bench.refused(want.BeginStep("Uma", "open"))
    bench.do("stop")
    bench.do("open")
    assert flow.ended(bench.procedure, bench.state.position)


def test_what_a_step_makes_is_unknown_while_it_is_in_progress() -> None:
    bench = Bench(compiled(STOP))
    bench.begin()
    bench.do("stop")
    bench.must(want.BeginStep("Uma", "open"))
    assert bench.state.position.states[1] == -1
    bench.must(want.EndStep("Uma", "open"))
    assert bench.procedure.states[1].of[bench.state.position.states[1]] == "open"


def test_a_phase_ends_when_both_lists_have_ended() -> None:
    bench = Bench(compiled(TWO))
    bench.begin()
    bench.do("lift")
    bench.do("lower")
    assert bench.state.position.phase == 0
    for step in ("reach", "hook", "unhook"):
        bench.do(step, "Rolf")
    assert bench.state.position.phase == 1


def test_only_the_list_that_took_the_crane_may_use_it() -> None:
    bench = Bench(compiled(TWO))
    bench.begin()
    bench.do("reach", "Rolf")
    bench.do("lift")
    assert "Operator has it" in bench.refused(want.BeginStep("Rolf", "hook"))
    bench.do("lower")
    bench.do("hook", "Rolf")


def test_a_step_that_would_change_what_the_other_relies_on_waits() -> None:
    phases = """
  - phase: Both
    together:
      unwind:
        - {id: open, do: Open the guard., makes: {guard: open}}
      rewind:
        - {id: reach, do: Reach in., needs: {guard: closed}}
"""
    bench = Bench(compiled(phases))
    bench.begin()
    bench.must(want.BeginStep("Rolf", "reach"))
    assert "in progress and relies on guard" in bench.refused(want.BeginStep("Uma", "open"))
    bench.must(want.EndStep("Rolf", "reach"))
    bench.do("open")


def test_a_step_whose_condition_is_false_does_not_apply_and_is_on_record() -> None:
    phases = """
  - phase: One
    steps:
      - {id: foil, by: unwind, do: Earth the foil., when: film == 'foil'}
      - {id: next, by: unwind, do: Go on.}
"""
    bench = Bench(compiled(phases))
    events = bench.begin()
    skipped = [event for event in events if isinstance(event, ev.StepNotApplicable)]
    assert [event.step for event in skipped] == ["foil"]
    assert "film = kraft" in skipped[0].why
    assert bench.state.record("foil").status is StepStatus.NOT_APPLICABLE
    bench.do("next")


def test_another_person_does_not_do_the_step() -> None:
    bench = Bench(compiled(STOP))
    bench.begin()
    assert "is for Operator (Uma)" in bench.refused(want.BeginStep("Rolf", "stop"))


def test_the_run_is_not_finished_while_a_state_is_wrong_or_a_step_open() -> None:
    bench = Bench(compiled(STOP))
    bench.begin()
    words = bench.refused(want.Finish("Uma"))
    assert "step 1.1 is open" in words
    assert "drive must be stopped" in words
    bench.do("stop")
    bench.do("open")
    assert kinds(bench.must(want.Finish("Uma"))) == ["Finished"]
    assert "nothing is added" in bench.refused(want.LookAt("Uma", "guard", "open"))
