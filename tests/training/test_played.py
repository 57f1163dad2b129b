"""Playing a run from answers: what is never invented, and where playing ends."""

from pathlib import Path

from runner.engine.intents import BeginRun
from runner.procedure.answers import read_answers, unfit_entries
from runner.record.clock import SteppedClock
from runner.record.run import Run
from runner.record.store import Store
from runner.training.played import Player
from tests.engine.bench import compiled
from tests.engine.held_pieces import TEXT as BAR

PHASES = """
  - phase: One
    steps:
      - {id: stop, by: unwind, do: Stop the drive., makes: {drive: stopped}}
      - id: press
        by: unwind
        cautions: [load]
        hold: {release: lead, confirm: [Zone is clear]}
        do: Inflate the chuck.
        read: {pressure: {ask: Pressure, unit: bar, within: [5.5, 7], else: leaks}}
        wait: {at_least: 90 s}
        second: {by: lead, how: independent}
        trouble:
          - {id: leaks, sign: It leaks., do: Tighten the valve., back_to: press}
      - {id: wipe, by: unwind, do: Wipe the bar., optional: reason}
"""


def played(folder: Path, steps: str, unlisted: str = "done") -> Player:
    """A run of the procedure above, played as far as it goes."""
    text = f"answers: 1\nprocedure: bench\nunlisted: {unlisted}\n" + (f"steps:\n{steps}" if steps else "")
    read = read_answers(text, "try.answers.yaml")
    assert read.answers is not None, read.findings
    clock = SteppedClock()
    crew = (("unwind", "Uma"), ("rewind", "Rolf"), ("lead", "Lena"))
    begin = BeginRun("Uma", "try", "dry", True, crew, (("width", "1000"), ("film", "kraft")), "test")
    run = Run.begin(Store(str(folder)), compiled(PHASES), begin, clock)
    assert isinstance(run, Run), run
    player = Player(run, clock, read.answers)
    player.play()
    run.close()
    return player


def test_a_reading_is_never_invented(tmp_path: Path) -> None:
    player = played(tmp_path, "")
    assert player.state.outcome == ""
    assert "asks for pressure" in player.stopped


def test_a_step_without_an_entry_stops_the_run_where_the_file_says_so(tmp_path: Path) -> None:
    player = played(tmp_path, "", unlisted="refuse")
    assert player.stopped == "step 1.1 (stop) has no entry for attempt 1"


def test_an_entry_for_each_attempt_and_a_re_entry_within_one(tmp_path: Path) -> None:
    steps = (
        "  - {step: press, answers: {pressure: [3, 3.1]}}\n"
        "  - {step: press, answers: {pressure: [9, 6 bar]}, after: [{close: all, words: Valve tightened.}]}\n"
        "  - {step: wipe, leave_out: It is clean.}\n"
    )
    player = played(tmp_path, steps)
    assert player.stopped == ""
    assert player.state.outcome == "finished"
    assert player.state.values["pressure"].shown == "6 bar"
    assert player.state.open_exceptions == ()
    assert player.clock.now().tick >= 90


def test_a_halted_run_that_the_answers_do_not_resume_stays_open(tmp_path: Path) -> None:
    player = played(tmp_path, "  - {step: stop, after: [{pause: Inflate the chuck}]}\n")
    assert player.state.halted == "pause"
    assert "do not resume" in player.stopped


def test_answers_that_go_in_a_circle_end(tmp_path: Path) -> None:
    """A trouble that comes at every attempt: the entries run out, and a reading is not invented."""
    steps = "".join("  - {step: press, trouble: leaks}\n" for _ in range(5))
    player = played(tmp_path, steps)
    assert "asks for pressure" in player.stopped
    assert player.state.record("press").attempt == 6


def test_what_the_engine_refuses_is_told_with_its_step(tmp_path: Path) -> None:
    steps = "  - {step: press, before: [{release: {by: Uma, confirm: [Zone is clear]}}]}\n"
    assert "Shift lead" in played(tmp_path, steps).stopped


def bar_played(folder: Path, steps: str) -> Player:
    """The bar whose pieces miss what is wanted."""
    read = read_answers(f"answers: 1\nprocedure: bar\nsteps:\n{steps}", "try.answers.yaml")
    assert read.answers is not None, read.findings
    procedure, clock = compiled("", BAR), SteppedClock()
    assert unfit_entries(read.answers, procedure) == ()
    crew = (("unwind", "Uma"), ("rewind", "Rolf"), ("lead", "Lena"))
    begin = BeginRun("Uma", "try", "dry", True, crew, (("width", "1200"), ("tension", "150")), "test")
    run = Run.begin(Store(str(folder)), procedure, begin, clock)
    assert isinstance(run, Run), run
    player = Player(run, clock, read.answers)
    player.play()
    run.close()
    return player


def test_nobody_accepts_pieces_that_the_answers_do_not_accept(tmp_path: Path) -> None:
    player = bar_played(tmp_path, "  - {step: load, answers: {on_bar: 40}}\n")
    assert "is held" in player.stopped
    assert "the nearest is 40 kg" in player.stopped


def test_pieces_are_accepted_with_the_reason_of_the_answers(tmp_path: Path) -> None:
    steps = "  - step: load\n    answers: {on_bar: 40}\n    before: [{accept: bar_pieces, reason: Film stands it}]\n"
    player = bar_played(tmp_path, steps)
    assert player.stopped == ""
    assert player.state.outcome == "finished"
    accepted = player.state.values["bar_pieces"]
    assert (accepted.accepted_by, accepted.accepted_why) == ("Lena", "Film stands it")


def test_answers_accept_only_pieces_that_somebody_may_accept() -> None:
    text = "answers: 1\nprocedure: bar\nsteps:\n  - {step: load, before: [{accept: bar_mass, reason: so}]}\n"
    answers = read_answers(text, "try.answers.yaml").answers
    assert answers is not None
    (finding,) = unfit_entries(answers, compiled("", BAR))
    assert (finding.rule, finding.message) == (
        "unknown-name", "the procedure has no split `bar_mass` that somebody may accept",
    )  # fmt: skip
