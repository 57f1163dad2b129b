"""Before a run is abandoned each act of the make-safe list is done, or said to be not needed with a reason."""

from runner.engine import intents as want

from .bench import HEAD, Bench, compiled, kinds

SAFE = HEAD.replace(
    "phases:\n",
    "make_safe:\n  - {do: Stop the drive., makes: {drive: stopped}}\n  - {do: Set the load down.}\nphases:\n",
)
STEPS = """
  - phase: Work
    steps:
      - {id: sweep, by: unwind, do: Sweep the floor.}
"""


def test_a_run_is_not_abandoned_past_the_make_safe_list() -> None:
    bench = Bench(compiled(STEPS, SAFE))
    bench.begin()
    assert "Set the load down." in bench.refused(want.Abandon("Uma", "press is needed"))
    bench.must(want.MakeSafe("Uma"))
    bench.must(want.DoSafeAct("Uma", 0))
    assert "Stop the drive." not in bench.refused(want.Abandon("Uma", "press is needed"))
    assert "Say why" in bench.refused(want.SkipSafeAct("Uma", 1, " "))
    assert kinds(bench.must(want.SkipSafeAct("Uma", 1, "nothing hangs"))) == ["SafeActNotNeeded"]
    assert "dealt with" in bench.refused(want.SkipSafeAct("Uma", 1, "nothing hangs"))
    bench.must(want.Abandon("Uma", "press is needed"))
    assert bench.state.outcome == "abandoned"


def test_an_act_said_to_be_not_needed_changes_no_state() -> None:
    bench = Bench(compiled(STEPS, SAFE))
    bench.begin()
    bench.must(want.MakeSafe("Uma"))
    before = bench.state.position
    bench.must(want.SkipSafeAct("Uma", 0, "it stands"))
    assert bench.state.position == before


def test_without_a_list_a_reason_is_enough() -> None:
    bench = Bench(compiled(STEPS))
    bench.begin()
    bench.must(want.Abandon("Uma", "press is needed"))
