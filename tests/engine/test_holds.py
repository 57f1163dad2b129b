"""Holds: who may release them, what revokes a release, and that stopping is never blocked."""

from runner.engine import events as ev
from runner.engine import intents as want

from .bench import Bench, compiled, kinds

HELD = """
  - phase: One
    steps:
      - {id: stop, by: unwind, do: Stop the drive., makes: {drive: stopped}}
      - id: lift
        by: unwind
        cautions: [load]
        needs: {drive: stopped}
        do: Lift the roll.
        hold: {release: lead, confirm: [Chucks are open, Zone is clear]}
        trouble:
          - {id: swings, sign: The roll swings., do: Lower it., back_to: lift}
"""
BOTH = ("Chucks are open", "Zone is clear")


def at_the_hold() -> Bench:
    bench = Bench(compiled(HELD))
    bench.begin()
    bench.do("stop")
    bench.must(want.ReadCautions("Uma", "lift"))
    return bench


def test_a_hold_is_reached_once_the_cautions_are_read() -> None:
    bench = Bench(compiled(HELD))
    bench.begin()
    bench.do("stop")
    assert bench.state.record("lift").hold == ""
    assert "cautions" in bench.refused(want.ReleaseHold("Lena", "lift", BOTH))
    assert kinds(bench.must(want.ReadCautions("Uma", "lift"))) == ["CautionsRead", "HoldReached"]


def test_a_held_step_does_not_begin() -> None:
    bench = at_the_hold()
    assert "is held: Shift lead must release it" in bench.refused(want.BeginStep("Uma", "lift"))


def test_only_the_named_role_releases_and_every_point_is_ticked() -> None:
    bench = at_the_hold()
    assert "Only Shift lead" in bench.refused(want.ReleaseHold("Uma", "lift", BOTH))
    assert "Zone is clear" in bench.refused(want.ReleaseHold("Lena", "lift", BOTH[:1]))
    bench.must(want.ReleaseHold("lena ", "lift", BOTH))
    bench.must(want.BeginStep("Uma", "lift"))


def test_the_person_who_does_the_step_does_not_release_it_in_another_role() -> None:
    bench = Bench(compiled(HELD))
    crew = (("unwind", "Uma"), ("rewind", "Rolf"), ("lead", "uma"))
    begin = bench.begin_intent()
    bench.must(want.BeginRun("Uma", "R1", "live", False, crew, begin.inputs, "test"))
    bench.do("stop")
    bench.must(want.ReadCautions("Uma", "lift"))
    assert "another person must release" in bench.refused(want.ReleaseHold("UMA", "lift", BOTH))


def test_each_attempt_needs_its_own_release() -> None:
    bench = at_the_hold()
    bench.must(want.ReleaseHold("Lena", "lift", BOTH))
    bench.must(want.BeginStep("Uma", "lift"))
    events = bench.must(want.MeetTrouble("Uma", "lift", "swings"))
    assert kinds(events)[:3] == ["TroubleMet", "ExceptionNoted", "WentBack"]
    assert "cautions" in bench.refused(want.BeginStep("Uma", "lift"))
    bench.must(want.ReadCautions("Uma", "lift"))
    assert "is held" in bench.refused(want.BeginStep("Uma", "lift"))


def test_a_release_is_revoked_when_what_it_stands_on_changes() -> None:
    bench = at_the_hold()
    bench.must(want.ReleaseHold("Lena", "lift", BOTH))
    events = bench.must(want.LookAt("Uma", "drive", "running"))
    assert "HoldRevoked" in kinds(events)
    bench.must(want.LookAt("Uma", "drive", "stopped"))
    assert "is held" in bench.refused(want.BeginStep("Uma", "lift"))


def test_an_interruption_revokes_a_release() -> None:
    bench = at_the_hold()
    bench.must(want.ReleaseHold("Lena", "lift", BOTH))
    bench.must(want.Pause("Uma", "lift the roll"))
    assert "HoldRevoked" in kinds(bench.must(want.Resume("Uma")))


def test_stopping_and_making_safe_passes_every_hold_and_every_pause() -> None:
    bench = at_the_hold()
    assert kinds(bench.must(want.MakeSafe("Uma", "smell of burning"))) == ["MadeSafe"]
    bench.must(want.Resume("Uma"))
    bench.must(want.Pause("Uma", ""))
    assert kinds(bench.must(want.MakeSafe("Rolf"))) == ["MadeSafe"]
    assert "halted" in bench.refused(want.BeginStep("Uma", "lift"))


def test_what_was_confirmed_and_on_what_basis_is_in_the_event() -> None:
    bench = at_the_hold()
    released = bench.must(want.ReleaseHold("Lena", "lift", BOTH))[0]
    assert isinstance(released, ev.HoldReleased)
    assert released.confirmed == BOTH
    assert released.basis == (("drive", "stopped"),)
    assert released.by == "Lena"
