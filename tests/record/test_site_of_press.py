"""What the site file says of the press, in runs: pieces that really hang there, lifting gear, the end of the shift."""

from dataclasses import replace
from pathlib import Path

import pytest

from runner.engine import events as ev
from runner.engine import intents as want
from runner.engine.decisions.lifting import lift_words
from runner.engine.evolve import replay
from runner.engine.intents import Refusal
from runner.engine.shift import ahead, shift_warning
from runner.procedure.compile import compile_procedure
from runner.procedure.model import Procedure
from runner.procedure.site import Site
from runner.procedure.site_facts import Facts, with_pieces
from runner.record.clock import SteppedClock, local_time
from runner.record.run import Run, pinned_procedure
from runner.record.store import Store
from tests.record.test_run import on_disk

TEXT = """\
format: 1
id: hang
title: Hang pieces and lift
revision: 1
equipment: Line 3, six-colour flexographic press, 1.3 m web
purpose: The bar is loaded, the roll is in.
people: {unwind: "Operator, unwind side", lead: Shift lead}
inputs:
  bar_mass: {ask: Mass for the bar, unit: kg, within: [0, 100]}
  roll_mass: {ask: Mass of the roll, unit: kg, within: [25, 1200]}
pieces:
  rack: {unit: kg, stock: {"2": 8, "5": 8}}
  other_rack: {unit: kg, stock: {"1": 8}}
calculations:
  wanted: {formula: bar_mass, unit: kg}
  hung: {split: wanted, from: rack, ends: 2, within: 1 kg}
phases:
  - phase: Stage
    park: throughout
    steps:
      - {id: fetch, by: unwind, do: Fetch the roll., expect: 10 min}
  - phase: Strip out
    steps:
      - {id: strip, by: unwind, do: Take the old roll off., expect: 20 min}
  - phase: Load
    park: after
    steps:
      - {id: hang, by: unwind, do: "Hang {hung}.", expect: 10 min}
      - {id: lift, by: unwind, lifts: {roll_mass: [crane, beam]}, do: Lift the roll., expect: 15 min}
"""
PIECES = (("rack", "kg", "2026-11-24", (("4", 4), ("1", 2))),)
CRANE = ("crane", "Crane of Line 3", 1000.0, "1000 kg", "2026-11-25")
BEAM = ("beam", "beam", 900.0, "0.9 t", "2027-09-14")
CREW = (("unwind", "Uma"), ("lead", "Lena"))


def compiled() -> Procedure:
    found = compile_procedure(TEXT, "hang.procedure.yaml", lambda _: None)
    assert found.procedure is not None, found.findings
    return found.procedure


PROCEDURE = compiled()


def site(**facts: object) -> Site:
    """A site without people, so that nobody gives a PIN."""
    return Site((), "allowed", facts=Facts(**facts))  # type: ignore[arg-type]


def begun(folder: Path, clock: SteppedClock, here: Site | None, mode: str = "live", roll: str = "800") -> Run | Refusal:
    intent = want.BeginRun(
        "Uma", "20261125-0800-aaaa", mode, False, CREW, (("bar_mass", "10"), ("roll_mass", roll)), "changeover 0.1.0"
    )
    return Run.begin(Store(str(folder)), PROCEDURE, intent, clock, site=here)


def done(run: Run, *steps: str) -> None:
    for step in steps:
        for intent in (want.BeginStep("Uma", step), want.EndStep("Uma", step)):
            events = run.submit(intent)
            assert not isinstance(events, Refusal), events


def open_run(folder: Path, here: Site | None, clock: SteppedClock | None = None, roll: str = "800") -> Run:
    run = begun(folder, clock or SteppedClock(), here, roll=roll)
    assert isinstance(run, Run), run
    return run


def test_pieces_are_chosen_from_what_the_site_has_and_the_record_says_so(tmp_path: Path) -> None:
    run = open_run(tmp_path, site(pieces=PIECES))
    hung = next(event for event in on_disk(run) if isinstance(event, ev.WorkedOut) and event.name == "hung")
    assert hung.ends == ((("4", 1), ("1", 1)), (("4", 1), ("1", 1)))
    assert hung.formula == "wanted from rack as counted on 2026-11-24 (site file) at 2 ends"
    read = next(event for event in on_disk(run) if isinstance(event, ev.SiteRead))
    assert read.pieces == PIECES
    assert open_run(tmp_path / "without", None).state.values["hung"].ends == ((("5", 1),), (("5", 1),))


def test_a_replay_works_with_the_pieces_of_the_record_and_no_site_file(tmp_path: Path) -> None:
    run = open_run(tmp_path, site(pieces=PIECES))
    events, state = on_disk(run), run.state
    run.close()
    again = Run.resume(run.path, SteppedClock())
    assert isinstance(again, Run)
    assert again.state == state == replay(PROCEDURE, events)
    assert again.procedure.racks[0].stock == (("4", 4000, 4), ("1", 1000, 2))
    assert again.procedure.racks[1] == PROCEDURE.racks[1]
    begun_with = events[0]
    assert isinstance(begun_with, ev.RunBegun)
    assert pinned_procedure(begun_with) == PROCEDURE  # the text that is pinned stays the author's
    corrected = again.submit(want.Resume("Uma"))
    assert not isinstance(corrected, Refusal)
    corrected = again.submit(want.CorrectAnswer("Uma", "", "bar_mass", "8", "misread"))
    assert not isinstance(corrected, Refusal), corrected
    assert again.state.values["hung"].ends == ((("4", 1),), (("4", 1),))


def test_the_pieces_of_the_beginning_stay_when_the_run_is_opened_with_others(tmp_path: Path) -> None:
    run = open_run(tmp_path, site(pieces=PIECES, gear=(CRANE, BEAM)))
    run.close()
    other = site(pieces=(("rack", "kg", "2026-11-25", (("1", 2),)),), gear=(BEAM,))
    again = Run.resume(run.path, SteppedClock(), site=other)
    assert isinstance(again, Run)
    assert again.state.site == Facts(PIECES, (BEAM,))
    last = on_disk(again)[-1]
    assert isinstance(last, ev.SiteRead)
    again.close()
    same = Run.resume(run.path, SteppedClock(), site=other)
    assert isinstance(same, Run)
    assert on_disk(same)[-1] == last  # nothing new to say


def test_a_rack_that_the_procedure_does_not_have_changes_nothing() -> None:
    assert with_pieces(PROCEDURE, (("shed", "kg", "2026-11-24", (("1", 2),)),)) is PROCEDURE
    changed = with_pieces(PROCEDURE, PIECES)
    assert with_pieces(changed, PIECES) is changed


def test_a_dry_run_works_with_the_pieces_too(tmp_path: Path) -> None:
    run = begun(tmp_path, SteppedClock(), site(pieces=PIECES, gear=()), mode="dry")
    assert isinstance(run, Run), run
    assert run.state.values["hung"].ends == ((("4", 1), ("1", 1)), (("4", 1), ("1", 1)))


@pytest.mark.parametrize(
    ("gear", "roll", "words"),
    [
        ((CRANE, BEAM), "950", "beam carries 0.9 t (site file); roll mass is 950 kg."),
        ((CRANE, BEAM), "900.001", "beam carries 0.9 t"),
        ((CRANE,), "800", "does not list the lifting gear beam"),
        (
            ((*CRANE[:4], "2026-11-24"), BEAM),
            "800",
            "Crane of Line 3 is past its inspection, which counted until 2026-11-24",
        ),
        ((), "800", "does not list the lifting gear crane"),
    ],
)
def test_no_live_run_begins_that_would_stop_at_a_lift(
    tmp_path: Path, gear: tuple[tuple[str, str, float, str, str], ...], roll: str, words: str
) -> None:
    refusal = begun(tmp_path, SteppedClock(), site(gear=gear), roll=roll)
    assert isinstance(refusal, Refusal)
    assert refusal.reason == "The run would stop at a lift."
    assert any(words in line for line in refusal.missing), refusal.missing
    assert list(tmp_path.iterdir()) == []


def test_a_lift_within_the_ratings_begins_also_at_the_very_rating(tmp_path: Path) -> None:
    run = open_run(tmp_path, site(gear=(CRANE, BEAM)), roll="900")
    done(run, "fetch", "strip", "hang", "lift")


def test_without_gear_in_the_site_file_nothing_is_checked(tmp_path: Path) -> None:
    done(open_run(tmp_path / "no gear", site(pieces=PIECES), roll="1200"), "fetch", "strip", "hang", "lift")
    done(open_run(tmp_path / "no site", None, roll="1200"), "fetch", "strip", "hang", "lift")


def test_gear_whose_inspection_passes_while_the_run_is_open_stops_at_the_lift_until_it_is_inspected(
    tmp_path: Path,
) -> None:
    clock = SteppedClock("2026-11-25T23:50:00.000Z")
    run = open_run(tmp_path, site(gear=(CRANE, BEAM)), clock)
    done(run, "fetch", "strip", "hang")
    clock.advance(1200)
    refusal = run.submit(want.BeginStep("Uma", "lift"))
    assert isinstance(refusal, Refusal)
    assert refusal.reason == "Step 3.2 does not lift."
    assert "counted until 2026-11-25" in refusal.missing[0]
    run.close()
    again = Run.resume(run.path, clock, site=site(gear=((*CRANE[:4], "2027-11-26"), BEAM)))
    assert isinstance(again, Run)
    assert not isinstance(again.submit(want.Resume("Uma")), Refusal)
    done(again, "lift")


def test_the_stretch_ahead_is_the_work_to_the_next_parking_place(tmp_path: Path) -> None:
    run = open_run(tmp_path, None)
    found = ahead(PROCEDURE, run.state)
    assert found is not None
    assert (found.phase, found.seconds, found.standing) == ("Strip out", 55 * 60, True)
    done(run, "fetch")
    found = ahead(PROCEDURE, run.state)
    assert found is not None
    assert (found.seconds, found.standing) == (45 * 60, True)
    done(run, "strip", "hang")
    found = ahead(PROCEDURE, run.state)
    assert found is not None
    assert (found.phase, found.seconds, found.standing) == ("Load", 15 * 60, False)
    done(run, "lift")
    assert ahead(PROCEDURE, run.state) is None


def test_people_are_warned_where_the_work_ahead_passes_the_end_of_the_shift(tmp_path: Path) -> None:
    run = open_run(tmp_path, site(shift_ends=("06:00", "14:00", "22:00")))
    assert shift_warning(PROCEDURE, run.state, "13:05") == ""
    assert "The shift ends at 14:00, in 54 min" in shift_warning(PROCEDURE, run.state, "13:06")
    assert "Leave the press here" in shift_warning(PROCEDURE, run.state, "13:06")
    assert "The shift ends at 06:00, in 15 min" in shift_warning(PROCEDURE, run.state, "05:45")
    assert "The shift ends at 06:00, in 50 min" not in shift_warning(PROCEDURE, run.state, "23:10")
    done(run, "fetch", "strip")
    told = shift_warning(PROCEDURE, run.state, "21:50")
    assert told.startswith(
        "The shift ends at 22:00, in 10 min. The next place where work may be interrupted is about 25 min"
    )
    assert shift_warning(PROCEDURE, replace(run.state, halted="pause"), "21:50") == ""
    assert shift_warning(PROCEDURE, open_run(tmp_path / "other", None).state, "21:50") == ""


def test_the_time_of_day_is_that_of_the_machine(monkeypatch: pytest.MonkeyPatch) -> None:
    import time

    monkeypatch.setenv("TZ", "CET-1")
    time.tzset()
    try:
        assert local_time(SteppedClock("2026-11-25T12:40:00.000Z").now()) == "13:40"
    finally:
        monkeypatch.undo()
        time.tzset()


def test_what_is_lifted_with_what_is_said_before_the_lift(tmp_path: Path) -> None:
    step = PROCEDURE.phases[2].lists[0].steps[1]
    run = open_run(tmp_path, site(gear=(CRANE, BEAM)))
    words = "roll mass 800 kg on: Crane of Line 3 carries 1000 kg; beam carries 0.9 t"
    told = (f"{words}; so says the site file; where a plate says less, the plate counts",)
    assert lift_words(run.state, step) == told
    assert lift_words(open_run(tmp_path / "other", None).state, step) == ("roll mass 800 kg on: crane; beam",)
