"""Ticks stand on record as they are made: by whom, in order, taken back, and gone with the attempt."""

from runner.engine import events as ev
from runner.engine import intents as want
from runner.engine.evolve import replay
from runner.engine.intents import Refusal

from .bench import HEAD, Bench, compiled, kinds

PATHS = (
    HEAD.replace("phases:\n", "")
    + """
web_paths:
  unwind:
    rollers:
      - {roller: first idler, at: [0 mm, 900 mm], diameter: 100 mm, pass: over}
      - {roller: second idler, at: [900 mm, 300 mm], diameter: 100 mm, pass: under}
      - {roller: third idler, at: [1600 mm, 600 mm], diameter: 100 mm, pass: over}
phases:
"""
)
STEPS = """
  - phase: Thread
    steps:
      - id: thread-unwind
        by: unwind
        do: Thread the unwind side.
        thread: unwind
        trouble:
          - {id: torn, sign: The web tears., do: Cut it square., back_to: thread-unwind}
      - {id: lift, by: unwind, do: Lift it., hold: {release: lead, confirm: [Chucks are open, Zone is clear]}}
"""


def begun() -> Bench:
    bench = Bench(compiled(STEPS, PATHS))
    bench.begin()
    bench.must(want.BeginStep("Uma", "thread-unwind"))
    return bench


def at_the_hold() -> Bench:
    bench = begun()
    for number in (1, 2, 3):
        bench.must(want.TickRoller("Uma", "thread-unwind", number))
    bench.must(want.EndStep("Uma", "thread-unwind"))
    return bench


def test_each_roller_is_an_event_and_the_last_one_answers() -> None:
    bench = begun()
    assert kinds(bench.must(want.TickRoller("Uma", "thread-unwind", 1))) == ["RollerThreaded"]
    assert kinds(bench.must(want.TickRoller("uma", "thread-unwind", 2))) == ["RollerThreaded"]
    assert replay(bench.procedure, bench.events).record("thread-unwind").threaded == ("Uma", "uma")
    last = bench.must(want.TickRoller("Uma", "thread-unwind", 3))
    assert kinds(last) == ["RollerThreaded", "Answered"]
    assert isinstance(last[0], ev.RollerThreaded)
    assert (last[0].number, last[0].roller) == (3, "third idler: over")


def test_a_roller_is_ticked_in_order_and_by_who_does_the_step() -> None:
    bench = begun()
    assert "in order" in bench.refused(want.TickRoller("Uma", "thread-unwind", 2))
    assert "is for Operator" in bench.refused(want.TickRoller("Lena", "thread-unwind", 1))
    bench.must(want.TickRoller("Uma", "thread-unwind", 1))
    assert "in order" in bench.refused(want.TickRoller("Uma", "thread-unwind", 1))


def test_the_last_tick_is_taken_back_and_no_other() -> None:
    bench = begun()
    assert "made last" in bench.refused(want.TickRoller("Uma", "thread-unwind", 0, ticked=False))
    bench.must(want.TickRoller("Uma", "thread-unwind", 1))
    bench.must(want.TickRoller("Uma", "thread-unwind", 2))
    assert "made last" in bench.refused(want.TickRoller("Uma", "thread-unwind", 1, ticked=False))
    assert kinds(bench.must(want.TickRoller("Uma", "thread-unwind", 2, ticked=False))) == ["RollerTakenBack"]
    assert bench.state.record("thread-unwind").threaded == ("Uma",)


def test_ticks_of_a_path_outlast_an_interruption_and_go_with_the_attempt() -> None:
    bench = begun()
    bench.must(want.TickRoller("Uma", "thread-unwind", 1))
    bench.must(want.Pause("Uma", "go on"))
    bench.must(want.Resume("Uma"))
    assert bench.state.record("thread-unwind").threaded == ("Uma",)
    bench.must(want.MeetTrouble("Uma", "thread-unwind", "torn"))
    assert bench.state.record("thread-unwind").threaded == ()
    assert bench.state.record("thread-unwind").after_trouble == ("The web tears.", "Cut it square.")
    bench.must(want.BeginStep("Uma", "thread-unwind"))
    assert bench.state.record("thread-unwind").after_trouble == ("", "")


def test_points_of_a_hold_are_ticked_by_who_may_release_and_looked_at_again_after_an_interruption() -> None:
    bench = at_the_hold()
    bench.must(want.TickConfirmation("Lena", "lift", "Chucks are open"))
    bench.must(want.TickConfirmation("Lena", "lift", "Zone is clear"))
    bench.must(want.TickConfirmation("Lena", "lift", "Zone is clear", ticked=False))
    assert bench.state.record("lift").confirmed == (("Chucks are open", "Lena"),)
    assert "no such point" in bench.refused(want.TickConfirmation("Lena", "lift", "Sky is blue"))
    bench.must(want.Pause("Uma", "go on"))
    bench.must(want.Resume("Uma"))
    assert bench.state.record("lift").confirmed == ()
    assert bench.state.record("lift").confirmed_before == (("Chucks are open", "Lena"),)


def test_who_may_not_release_is_refused_before_ticking_and_is_on_record() -> None:
    bench = at_the_hold()
    for intent in (
        want.NameReleaser("Uma", "lift"),
        want.TickConfirmation("Rolf", "lift", "Zone is clear"),
        want.ReleaseHold("Rolf", "lift", ("Chucks are open", "Zone is clear")),
    ):
        refused = bench.attempt(intent)
        assert isinstance(refused, Refusal)
        assert kinds(refused.kept) == ["ActRefused"]
        assert refused.kept[0].by == intent.by
    assert bench.must(want.NameReleaser("lena", "lift")) == ()
