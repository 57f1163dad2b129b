"""Ways round the rules that are closed: each of these once let a step begin, end or count that should not have."""

from runner.engine import events as ev
from runner.engine import intents as want
from runner.engine.state import StepStatus

from .bench import HEAD, Bench, compiled, kinds
from .test_holds import BOTH, HELD, at_the_hold

LIFT = """
  - phase: Both
    together:
      unwind:
        - {id: lift, do: Lift the roll., makes: {crane: carrying}}
        - {id: lower, do: Lower the roll., needs: {crane: carrying}, makes: {crane: free}}
      rewind:
        - {id: hook, do: Hook the shaft., needs: {crane: carrying}}
"""
GUARD = """
  - phase: Both
    together:
      unwind:
        - {id: open, do: Open the guard., makes: {guard: open}}
      rewind:
        - {id: reach, do: Reach in., needs: {guard: closed}}
"""
GAUGE = """
  - phase: One
    steps:
      - id: gauge
        by: unwind
        do: Read the gauge.
        read: {heat: {ask: Heat, unit: degC, within: [0, 90], likely: [10, 60], else: hot}}
        SECOND
        trouble:
          - {id: hot, sign: It is hot., do: "Let it cool from {heat:.0f}.", then: go_on}
      - {id: note, by: unwind, do: "Write {heat:.0f}."}
"""


def gauge(second: str = "") -> Bench:
    bench = Bench(compiled(GAUGE.replace("SECOND\n", f"{second}\n" if second else "why: It is read here.\n")))
    bench.begin()
    bench.must(want.BeginStep("Uma", "gauge"))
    return bench


def test_going_back_takes_the_release_of_the_step_that_was_up() -> None:
    bench = at_the_hold()
    bench.must(want.ReleaseHold("Lena", "lift", BOTH))
    bench.must(want.GoBack("Uma", "stop", "It runs again."))
    bench.do("stop")
    assert "cautions" in bench.refused(want.BeginStep("Uma", "lift"))
    bench.must(want.ReadCautions("Uma", "lift"))
    assert "is held" in bench.refused(want.BeginStep("Uma", "lift"))


def test_the_releaser_does_not_do_the_step_after_taking_over_the_role() -> None:
    bench = at_the_hold()
    bench.must(want.ReleaseHold("Lena", "lift", BOTH))
    bench.must(want.HandOver("Uma", "unwind", "Lena", "lift is next"))
    assert "released the hold" in bench.refused(want.BeginStep("Lena", "lift"))


def test_a_hold_is_not_released_while_what_the_step_needs_does_not_hold() -> None:
    bench = at_the_hold()
    bench.must(want.LookAt("Uma", "drive", "running"))
    assert "drive must be stopped" in bench.refused(want.ReleaseHold("Lena", "lift", BOTH))


def test_a_release_falls_with_every_interruption_even_where_the_step_needs_nothing() -> None:
    bench = Bench(compiled(HELD.replace("        needs: {drive: stopped}\n", "")))
    bench.begin()
    bench.do("stop")
    bench.must(want.ReadCautions("Uma", "lift"))
    bench.must(want.ReleaseHold("Lena", "lift", BOTH))
    bench.must(want.Pause("Uma", "lift"))
    assert "HoldRevoked" in kinds(bench.must(want.Resume("Uma")))
    assert "is held" in bench.refused(want.BeginStep("Uma", "lift"))


def test_a_look_does_not_set_what_a_step_in_progress_changes() -> None:
    bench = Bench(compiled(GUARD))
    bench.begin()
    bench.must(want.BeginStep("Uma", "open"))
    assert "is in progress and changes guard" in bench.refused(want.LookAt("Rolf", "guard", "closed"))
    assert "changes guard" in bench.refused(want.BeginStep("Rolf", "reach"))


def test_a_load_that_is_lifted_has_an_owner_whatever_was_said_meanwhile() -> None:
    bench = Bench(
        compiled(LIFT, HEAD.replace("\ninputs:", "\nmake_safe: [{do: Lower it., makes: {crane: free}}]\ninputs:"))
    )
    bench.begin()
    bench.must(want.BeginStep("Uma", "lift"))
    bench.must(want.MakeSafe("Uma", "swinging"))
    bench.must(want.DoSafeAct("Uma", 0))
    assert bench.state.record("lift").status is StepStatus.AGAIN
    assert "crane" not in bench.state.unconfirmed
    bench.must(want.Resume("Uma"))
    assert "has not begun" in bench.refused(want.EndStep("Uma", "lift"))
    bench.do("lift")
    assert "Operator has it" in bench.refused(want.BeginStep("Rolf", "hook"))


def test_a_second_look_is_a_look_at_the_answer_that_counts() -> None:
    bench = gauge("second: {by: lead}")
    bench.must(want.GiveAnswer("Uma", "gauge", "heat", "20"))
    bench.must(want.GiveSecondLook("Lena", "gauge"))
    bench.must(want.GiveAnswer("Uma", "gauge", "heat", "30"))
    assert "must look too" in bench.refused(want.EndStep("Uma", "gauge"))
    bench.must(want.GiveSecondLook("Lena", "gauge"))
    bench.must(want.EndStep("Uma", "gauge"))
    assert "Two people" in bench.refused(want.CorrectAnswer("Uma", "gauge", "heat", "40", "misread"))


def test_the_second_to_look_does_not_end_the_step_after_taking_over_the_role() -> None:
    bench = gauge("second: {by: lead}")
    bench.must(want.GiveAnswer("Uma", "gauge", "heat", "20"))
    bench.must(want.GiveSecondLook("Lena", "gauge"))
    bench.must(want.HandOver("Uma", "unwind", "Lena", "gauge is read"))
    assert "second to look" in bench.refused(want.EndStep("Lena", "gauge"))


def test_independent_temperatures_are_compared_in_degrees() -> None:
    bench = gauge("second: {by: lead, how: independent}")
    bench.must(want.GiveAnswer("Uma", "gauge", "heat", "20"))
    apart = bench.must(want.GiveSecondLook("Lena", "gauge", (("heat", "25"),)))
    looked = next(event for event in apart if isinstance(event, ev.LookedTwice))
    assert not looked.agrees
    assert bench.state.values["heat"].stale


def test_out_of_limits_counts_over_unlikely_entries_between() -> None:
    bench = gauge()
    for typed in ("95", "80", "96"):
        events = bench.must(want.GiveAnswer("Uma", "gauge", "heat", typed))
    assert "TroubleMet" in kinds(events)


def test_a_trouble_shows_the_value_that_led_to_it_and_an_older_one_no_longer_counts() -> None:
    bench = gauge()
    for typed in ("20", "95", "97"):
        events = bench.must(want.GiveAnswer("Uma", "gauge", "heat", typed))
    met = next(event for event in events if isinstance(event, ev.TroubleMet))
    assert met.do == "Let it cool from 97 degC."
    noted = next(event for event in events if isinstance(event, ev.ExceptionNoted))
    assert noted.kind == "value"
    assert "must be given" in bench.refused(want.BeginStep("Uma", "note"))


def test_only_the_one_who_does_the_step_corrects_its_answer_and_not_one_out_of_limits() -> None:
    bench = gauge()
    bench.must(want.GiveAnswer("Uma", "gauge", "heat", "20"))
    bench.must(want.GiveAnswer("Uma", "gauge", "heat", "95"))
    assert "answer it there" in bench.refused(want.CorrectAnswer("Uma", "gauge", "heat", "30", "misread"))
    bench.must(want.GiveAnswer("Uma", "gauge", "heat", "20"))
    bench.must(want.EndStep("Uma", "gauge"))
    assert "is for Operator" in bench.refused(want.CorrectAnswer("Rolf", "gauge", "heat", "30", "misread"))
    bench.must(want.CorrectAnswer("Uma", "gauge", "heat", "30", "misread"))


REPEAT = """
  - phase: One
    steps:
      - id: bleed
        by: unwind
        do: Bleed the line.
        read: {left: {ask: Pressure left, unit: bar, within: [0, 7]}}
        repeat: {until: "left <= 0.1 [bar]", at_most: 2}
"""


def test_a_repeat_that_ran_out_without_a_way_on_is_asked_again_and_noted_once_each_time() -> None:
    bench = Bench(compiled(REPEAT))
    bench.begin()
    ends = []
    for left in ("3", "2", "0"):
        bench.must(want.BeginStep("Uma", "bleed"))
        bench.must(want.GiveAnswer("Uma", "bleed", "left", left))
        ends.append(kinds(bench.must(want.EndStep("Uma", "bleed"))))
    assert ends == [["StepRepeated"], ["ExceptionNoted", "StepRepeated"], ["StepDone"]]
    assert "not so that" in bench.refused(want.CorrectAnswer("Uma", "bleed", "left", "1", "misread"))


def test_the_noise_of_floats_breaks_no_limit() -> None:
    head = HEAD.replace(
        "phases:\n", '  shim: {formula: 0.1 * width, unit: mm, round: nearest 0.1 mm, limit: "<= 90.3 [mm]"}\nphases:\n'
    )
    bench = Bench(compiled("\n  - phase: One\n    steps: [{id: a, by: unwind, do: Go.}]\n", head))
    bench.begin(width="903")
    assert bench.state.values["shim"].verdict == "in"


def test_a_working_shows_values_in_their_own_unit_whatever_was_typed() -> None:
    bench = Bench(compiled("\n  - phase: One\n    steps: [{id: a, by: unwind, do: 'Cut {width}.'}]\n"))
    events = bench.begin(width="1 m")
    worked = next(event for event in events if isinstance(event, ev.WorkedOut))
    assert worked.working == "1000 mm × 2 m"
    begun = bench.must(want.BeginStep("Uma", "a"))[0]
    assert isinstance(begun, ev.StepBegun)
    assert begun.act == "Cut 1000 mm."


def test_a_step_may_use_what_is_worked_out_from_its_own_reading_in_its_trouble() -> None:
    phases = """
  - phase: One
    steps:
      - id: cut
        by: unwind
        do: Cut one sheet.
        read: {cut: {ask: Length, unit: mm, within: [990, 1010], else: bad}}
        trouble: [{id: bad, sign: The length is off., do: "Shift by {off:.1f}.", back_to: cut}]
"""
    head = HEAD.replace("phases:\n", '  off: {formula: "cut - 1000 [mm]", unit: mm}\nphases:\n')
    bench = Bench(compiled(phases, head))
    bench.begin()
    bench.must(want.BeginStep("Uma", "cut"))
    bench.must(want.GiveAnswer("Uma", "cut", "cut", "1002"))
    met = next(e for e in bench.must(want.MeetTrouble("Uma", "cut", "bad")) if isinstance(e, ev.TroubleMet))
    assert met.do == "Shift by 2.0 mm."


def test_rounding_hides_no_broken_limit() -> None:
    head = HEAD.replace(
        "phases:\n",
        '  load: {formula: "width * 0.8002 [kg/mm]", unit: kg, round: nearest 1 kg, limit: "<= 800 [kg]"}\nphases:\n',
    )
    bench = Bench(compiled("\n  - phase: One\n    steps: [{id: a, by: unwind, do: Go.}]\n", head))
    assert "load: 800 kg, rounded from 800.2 kg (allowed: <= 800 kg)" in bench.refused(bench.begin_intent(width="1000"))
    bench.begin(width="999")
