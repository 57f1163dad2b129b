"""Answers: limits, re-entry, the author's way on, corrections, waits, repeats and second looks."""

from runner.engine import events as ev
from runner.engine import intents as want
from runner.engine.state import StepStatus

from .bench import FED, Bench, compiled, kinds

READ = """
  - phase: One
    steps:
      - {id: stop, by: unwind, do: Stop the drive., makes: {drive: stopped}}
      - id: press
        by: unwind
        do: Inflate the chuck.
        read: {pressure: {ask: Pressure on the gauge, unit: bar, within: [5.5, 7], else: leaks}}
        trouble:
          - {id: leaks, sign: The chuck leaks., do: Change the chuck., back_to: press}
      - id: feed
        by: unwind
        do: Feed the web.
        read: {fed: {ask: Length fed, unit: m, within: [0, 20]}}
      - {id: note, by: unwind, do: "Write down {fed_share:.1f} and {pressure:.1f}."}
"""


def at_press() -> Bench:
    bench = Bench(compiled(READ, FED))
    bench.begin()
    bench.do("stop")
    bench.must(want.BeginStep("Uma", "press"))
    return bench


def test_a_step_does_not_end_before_it_is_answered() -> None:
    bench = at_press()
    assert "Pressure on the gauge" in bench.refused(want.EndStep("Uma", "press"))


def test_an_answer_in_limits_is_kept_as_typed_with_its_unit_and_si_value() -> None:
    bench = at_press()
    answered = bench.must(want.GiveAnswer("Uma", "press", "pressure", " 6.2 "))[0]
    assert isinstance(answered, ev.Answered)
    assert (answered.typed, answered.unit, answered.verdict) == (" 6.2 ", "bar", "in")
    assert answered.magnitude == 6.2
    assert answered.value == 620000.0
    bench.must(want.EndStep("Uma", "press"))


def test_a_comma_is_asked_about_and_never_guessed() -> None:
    assert "," in at_press().refused(want.GiveAnswer("Uma", "press", "pressure", "6,2"))


def test_out_of_limits_is_entered_once_more_and_then_the_way_on_is_taken() -> None:
    bench = at_press()
    first = bench.must(want.GiveAnswer("Uma", "press", "pressure", "3"))
    assert [getattr(event, "verdict", "") for event in first] == ["out"]
    assert "not answered" in bench.refused(want.EndStep("Uma", "press"))
    second = bench.must(want.GiveAnswer("Uma", "press", "pressure", "3.1"))
    assert kinds(second)[:4] == ["Answered", "TroubleMet", "ExceptionNoted", "WentBack"]
    assert bench.state.record("press").status is StepStatus.AGAIN
    assert "pressure" not in bench.state.values


def test_a_re_entry_within_limits_counts() -> None:
    bench = at_press()
    bench.must(want.GiveAnswer("Uma", "press", "pressure", "62"))
    bench.must(want.GiveAnswer("Uma", "press", "pressure", "6.2"))
    bench.must(want.EndStep("Uma", "press"))
    assert bench.state.values["pressure"].shown == "6.2 bar"


def fed() -> Bench:
    bench = at_press()
    bench.must(want.GiveAnswer("Uma", "press", "pressure", "6"))
    bench.must(want.EndStep("Uma", "press"))
    bench.must(want.BeginStep("Uma", "feed"))
    bench.must(want.GiveAnswer("Uma", "feed", "fed", "5"))
    bench.must(want.EndStep("Uma", "feed"))
    return bench


def test_a_value_is_worked_out_once_its_reading_is_there() -> None:
    bench = fed()
    worked = [event for event in bench.events if isinstance(event, ev.WorkedOut) and event.name == "fed_share"]
    assert len(worked) == 1
    assert worked[0].value == 5.0
    assert "1000 mm" in worked[0].working


def test_going_back_makes_values_stale_and_what_rests_on_them() -> None:
    bench = fed()
    events = bench.must(want.GoBack("Uma", "feed", "The counter slipped."))
    went = next(event for event in events if isinstance(event, ev.WentBack))
    assert went.again == ("feed",)
    assert set(went.stale) == {"fed", "fed_share"}
    assert bench.state.values["fed_share"].stale
    assert not bench.state.values["pressure"].stale


def test_a_correction_keeps_the_old_answer_and_works_out_again() -> None:
    bench = fed()
    events = bench.must(want.CorrectAnswer("Uma", "feed", "fed", "6", "Misread."))
    assert kinds(events) == ["AnswerCorrected", "WorkedOut"]
    corrected = events[0]
    assert isinstance(corrected, ev.AnswerCorrected)
    assert (corrected.old, corrected.shown, corrected.reason) == ("5 m", "6 m", "Misread.")
    assert bench.state.values["fed_share"].value == 6.0
    bench.must(want.BeginStep("Uma", "note"))
    begun = bench.events[-1]
    assert isinstance(begun, ev.StepBegun)
    assert begun.act == "Write down 6.0 and 6.0 bar."


def test_a_job_outside_the_limits_does_not_begin() -> None:
    bench = Bench(compiled(READ, FED))
    assert "outside what the procedure allows" in bench.refused(bench.begin_intent(width="1400"))
    assert "area: 2.6 m^2" in bench.refused(bench.begin_intent(width="1300"))
    assert "kraft, foil" in bench.refused(bench.begin_intent(film="wool"))


def test_an_unlikely_input_is_on_record_as_such() -> None:
    events = Bench(compiled(READ, FED)).begin(width="500")
    given = next(event for event in events if isinstance(event, ev.InputGiven))
    assert given.verdict == "unlikely"


WAIT = """
  - phase: One
    steps:
      - {id: settle, by: unwind, do: Let it settle., wait: {at_least: 90 s, at_most: 5 min}}
      - {id: stop, by: unwind, do: Stop the drive., makes: {drive: stopped}}
"""


def test_a_wait_cannot_be_passed_early() -> None:
    bench = Bench(compiled(WAIT))
    bench.begin()
    bench.must(want.BeginStep("Uma", "settle"))
    assert "to go of 90 s" in bench.refused(want.EndStep("Uma", "settle"))
    bench.tick += 90
    assert kinds(bench.must(want.EndStep("Uma", "settle")))[:2] == ["WaitEnded", "StepDone"]


def test_after_another_boot_the_wait_runs_again() -> None:
    bench = Bench(compiled(WAIT))
    bench.begin()
    bench.must(want.BeginStep("Uma", "settle"))
    bench.tick += 1000
    bench.boot = "another"
    assert kinds(bench.must(want.EndStep("Uma", "settle"))) == ["WaitBegun"]
    assert "to go" in bench.refused(want.EndStep("Uma", "settle"))


def test_a_wait_that_lasted_too_long_is_an_exception() -> None:
    bench = Bench(compiled(WAIT))
    bench.begin()
    bench.must(want.BeginStep("Uma", "settle"))
    bench.tick += 301
    assert kinds(bench.must(want.EndStep("Uma", "settle"))) == ["WaitEnded", "ExceptionNoted", "StepDone"]


REPEAT = """
  - phase: One
    steps:
      - {id: stop, by: unwind, do: Stop the drive., makes: {drive: stopped}}
      - id: bleed
        by: unwind
        do: Bleed the line.
        read: {left: {ask: Pressure left, unit: bar, within: [0, 7]}}
        repeat: {until: "left <= 0.1 [bar]", at_most: 3, else: stuck}
        trouble:
          - {id: stuck, sign: The pressure stays., do: Call maintenance., then: stop, blocking: true}
"""


def bleed(bench: Bench, left: str) -> list[str]:
    bench.must(want.BeginStep("Uma", "bleed"))
    bench.must(want.GiveAnswer("Uma", "bleed", "left", left))
    return kinds(bench.must(want.EndStep("Uma", "bleed")))


def test_a_step_is_repeated_until_its_condition_holds() -> None:
    bench = Bench(compiled(REPEAT))
    bench.begin()
    bench.do("stop")
    assert bleed(bench, "2") == ["StepRepeated"]
    assert bleed(bench, "0.1") == ["StepDone"]


def test_a_repeat_that_does_not_get_there_takes_the_way_on() -> None:
    bench = Bench(compiled(REPEAT))
    bench.begin()
    bench.do("stop")
    assert bleed(bench, "3") == ["StepRepeated"]
    assert bleed(bench, "2") == ["StepRepeated"]
    assert bleed(bench, "1") == ["TroubleMet", "ExceptionNoted", "MadeSafe"]
    bench.must(want.Resume("Uma"))
    bench.must(want.LookAt("Uma", "drive", "stopped"))
    assert bleed(bench, "0") == ["StepDone"]
    assert "exception 1 is open" in bench.refused(want.Finish("Uma"))
    bench.must(want.CloseException("Lena", 1, "Valve changed."))
    bench.must(want.Finish("Uma"))


SECOND = """
  - phase: One
    steps:
      - {id: stop, by: unwind, do: Stop the drive., makes: {drive: stopped}}
      - id: gauge
        by: unwind
        do: Read the gauge.
        read: {pressure: {ask: Pressure, unit: bar, within: [5, 7]}}
        second: {by: lead, how: independent}
"""


def test_an_independent_second_look_is_answered_by_another_and_compared() -> None:
    bench = Bench(compiled(SECOND))
    bench.begin()
    bench.do("stop")
    bench.must(want.BeginStep("Uma", "gauge"))
    bench.must(want.GiveAnswer("Uma", "gauge", "pressure", "6"))
    assert "Shift lead must look too" in bench.refused(want.EndStep("Uma", "gauge"))
    assert "is for Shift lead" in bench.refused(want.GiveSecondLook("Uma", "gauge", (("pressure", "6"),)))
    apart = bench.must(want.GiveSecondLook("Lena", "gauge", (("pressure", "6.5"),)))
    assert kinds(apart) == ["Answered", "LookedTwice", "ExceptionNoted"]
    assert "not answered" in bench.refused(want.EndStep("Uma", "gauge"))
    bench.must(want.GiveAnswer("Uma", "gauge", "pressure", "6.5"))
    bench.must(want.GiveSecondLook("Lena", "gauge", (("pressure", "6.5"),)))
    bench.must(want.EndStep("Uma", "gauge"))


OPTIONAL = """
  - phase: One
    steps:
      - {id: stop, by: unwind, do: Stop the drive., makes: {drive: stopped}}
      - {id: wipe, by: unwind, do: Wipe the rollers., optional: reason}
      - {id: swap, by: unwind, do: Swap the blade., optional: lead}
"""


def test_an_optional_step_is_left_out_with_a_reason_or_with_authority() -> None:
    bench = Bench(compiled(OPTIONAL))
    bench.begin()
    assert "may not be left out" in bench.refused(want.LeaveOut("Uma", "stop", "hurry"))
    bench.do("stop")
    assert "Say why" in bench.refused(want.LeaveOut("Uma", "wipe", " "))
    bench.must(want.LeaveOut("Uma", "wipe", "clean already"))
    assert "Shift lead must agree" in bench.refused(want.LeaveOut("Uma", "swap", "new blade"))
    bench.must(want.LeaveOut("Uma", "swap", "new blade", "Lena"))
    assert bench.state.record("swap").status is StepStatus.LEFT_OUT


def test_after_a_pause_states_must_be_looked_at_again_unless_they_keep() -> None:
    bench = Bench(
        compiled(
            READ.replace("do: Inflate the chuck.", "do: Inflate the chuck.\n        needs: {drive: stopped, web: in}"),
            FED,
        )
    )
    bench.begin()
    bench.do("stop")
    bench.must(want.Pause("Uma", "inflate the chuck"))
    resumed = bench.must(want.Resume("Uma"))[0]
    assert isinstance(resumed, ev.Resumed)
    assert ("drive", "stopped") in resumed.unconfirmed
    assert "web" not in dict(resumed.unconfirmed)
    assert resumed.intention == "inflate the chuck"
    assert "look at it again (it was stopped before)" in bench.refused(want.BeginStep("Uma", "press"))
    assert kinds(bench.must(want.LookAt("Uma", "drive", "stopped"))) == ["StateSeen"]
    bench.must(want.BeginStep("Uma", "press"))


def test_a_look_that_finds_something_else_is_an_exception() -> None:
    bench = Bench(compiled(READ, FED))
    bench.begin()
    bench.do("stop")
    assert kinds(bench.must(want.LookAt("Rolf", "drive", "running"))) == ["StateSeen", "ExceptionNoted"]
