"""A correction that comes too late names the steps that went by the old value, and asks for a decision."""

from runner.engine import events as ev
from runner.engine import intents as want
from runner.engine.state import StepStatus

from .bench import Bench, compiled, kinds

STEPS = """
  - phase: Work
    steps:
      - {id: tell, by: unwind, do: "Note the area {area}."}
      - {id: heavy, by: unwind, do: Fetch the crane., when: "width > 1100 [mm]"}
      - {id: sweep, by: unwind, do: Sweep the floor.}
      - {id: last, by: unwind, do: "Hang the web of {width}."}
"""


def after_the_sweep() -> Bench:
    bench = Bench(compiled(STEPS))
    bench.begin(width="1000")
    bench.do("tell")
    bench.do("sweep")
    assert bench.state.record("heavy").status is StepStatus.NOT_APPLICABLE
    return bench


def correct(bench: Bench, typed: str) -> tuple[ev.Event, ...]:
    return bench.must(want.CorrectAnswer("Uma", "", "width", typed, "misread the ticket"))


def test_steps_done_with_the_old_value_and_steps_passed_over_by_it_are_named() -> None:
    bench = after_the_sweep()
    events = correct(bench, "1200")
    assert kinds(events) == ["AnswerCorrected", "WorkedOut", "ExceptionNoted", "OldValueUsed"]
    used = next(event for event in events if isinstance(event, ev.OldValueUsed))
    assert (used.done, used.passed) == (("tell",), ("heavy",))
    noted = bench.state.open_exceptions[-1]
    assert noted.number == used.exception
    assert "done with the old value: step 1.1" in noted.words
    assert "passed over by the old value: step 1.2" in noted.words
    assert bench.state.record("heavy").old == (("width", noted.number),)


def test_a_step_passed_over_can_be_gone_back_to_and_is_done_then() -> None:
    bench = after_the_sweep()
    correct(bench, "1200")
    bench.must(want.GoBack("Uma", "heavy", "the web is wider"))
    assert bench.state.record("heavy").old == ()
    bench.do("heavy")
    assert bench.state.record("heavy").status is StepStatus.DONE


def test_a_step_that_would_still_not_apply_and_one_that_does_not_use_it_are_not_named() -> None:
    bench = after_the_sweep()
    used = next(event for event in correct(bench, "1050") if isinstance(event, ev.OldValueUsed))
    assert (used.done, used.passed) == (("tell",), ())


def test_a_correction_to_the_same_value_or_before_any_use_asks_nothing() -> None:
    bench = after_the_sweep()
    assert kinds(correct(bench, "1000 mm")) == ["AnswerCorrected"]
    early = Bench(compiled(STEPS))
    early.begin(width="1000")
    assert "OldValueUsed" not in kinds(correct(early, "1050"))
