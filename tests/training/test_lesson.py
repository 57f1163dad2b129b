"""A dry run with a scenario: what comes and is shown, what is refused, counted and ended, and that a live run takes none of it."""

from pathlib import Path

import pytest

from runner.engine import intents as want
from runner.engine.events import TrainingNoted
from runner.engine.intents import NoteTraining, Refusal
from runner.record.clock import SteppedClock
from runner.record.run import Run
from runner.training.assessed import document
from runner.training.lesson import Lesson
from tests.training.lessons import COACH, GOOD, TRAINEE, do, kinds, lesson, result, step, to_fill

ABSENT = GOOD.replace("right: [{trouble", "absent: lead\n    right: [{pause: true}, {trouble").replace(
    "{release: fill}, ", ""
)
NOTED = TrainingNoted("", SteppedClock().now(), "hint", "fill", "", "Listen", 1.0)


def test_a_fault_comes_as_soon_as_its_step_is_up_and_only_once(tmp_path: Path) -> None:
    made = lesson(tmp_path)
    assert made.faults_on() == ()
    do(made, want.BeginStep(TRAINEE, "stop"), want.EndStep(TRAINEE, "stop"))
    assert [fault.id for fault in made.faults_on()] == ["leaks"]
    do(made, want.Pause(TRAINEE, ""), want.Resume(TRAINEE))
    assert kinds(made).count("fault") == 1


def test_what_is_shown_is_on_record_before_it_is_answered(tmp_path: Path) -> None:
    made = lesson(tmp_path)
    to_fill(made)
    assert kinds(made)[-1] == "shown"
    assert made.followed.shown["pressure"].value == "4 bar"


def test_a_fault_shows_what_it_has_until_it_was_answered_and_the_step_begins_anew(tmp_path: Path) -> None:
    made = lesson(tmp_path)
    to_fill(made)
    fill = step(made, "fill")
    assert made.indication(fill, fill.asks[0]).value == "4 bar"
    do(made, want.MeetTrouble(TRAINEE, "fill", "leak"))
    assert made.faults_on() == ()
    do(made, want.ReleaseHold(COACH, "fill", ("Nobody stands there",)), want.BeginStep(TRAINEE, "fill"))
    assert made.indication(fill, fill.asks[0]).value == "6.2 bar"


def test_an_absent_person_does_nothing_until_the_right_response(tmp_path: Path) -> None:
    made = lesson(tmp_path, ABSENT)
    do(made, want.BeginStep(TRAINEE, "stop"), want.EndStep(TRAINEE, "stop"))
    release = want.ReleaseHold(COACH, "fill", ("Nobody stands there",))
    refused = made.submit(release)
    assert isinstance(refused, Refusal)
    assert "not there" in refused.reason
    do(made, want.Pause(TRAINEE, "Lift"), want.Resume(TRAINEE), want.LookAt(TRAINEE, "drive", "stopped"), release)


def test_hints_rise_level_by_level_and_are_counted_in_the_record(tmp_path: Path) -> None:
    made = lesson(tmp_path, GOOD.replace("    right:", "    hints: [Listen., Compare., Type 4.]\n    right:"))
    to_fill(made)
    fill, told = step(made, "fill"), []
    for _ in range(4):
        hint = made.hint(fill, "x")
        assert not isinstance(hint, Refusal)
        told.append((hint.level, hint.words))
        do(made, made.hint_taken(fill, hint))
    assert told == [(1, "Listen."), (2, "Compare."), (3, "Type 4."), (3, "Type 4.")]
    assert result(made).hints == (("fill", 3),)
    assert len(result(made).hint_lines) == 4


def test_a_step_without_hints_of_its_own_gives_its_reason_key_points_and_what_to_type(tmp_path: Path) -> None:
    made = lesson(tmp_path)
    hint = made.hint(step(made, "stop"), "Do it.")
    assert not isinstance(hint, Refusal)
    assert hint.level == 1
    to_fill(made)
    assert made.prompt_words(step(made, "fill")) == "Pressure: 4 bar"


def test_an_assessment_gives_no_hint(tmp_path: Path) -> None:
    made = lesson(tmp_path, assessed=True)
    assert isinstance(made.hint(step(made, "stop"), "x"), Refusal)


def test_an_unsafe_act_ends_an_assessment_at_once(tmp_path: Path) -> None:
    made = lesson(tmp_path, GOOD.replace("{release: fill}, ", ""), assessed=True)
    to_fill(made)
    do(made, want.GiveAnswer(TRAINEE, "fill", "pressure", "6.2 bar"))
    assert made.state.outcome == "abandoned"
    assert result(made).unsafe[0][1] == "Pressure: 6.2 bar, within its limits, is not what was shown"
    assert isinstance(made.submit(want.EndStep(TRAINEE, "fill")), Refusal)


def test_in_practice_an_unsafe_act_is_told_and_the_run_goes_on(tmp_path: Path) -> None:
    made = lesson(tmp_path, GOOD.replace("{release: fill}, ", ""))
    to_fill(made)
    do(made, want.GiveAnswer(TRAINEE, "fill", "pressure", "6.2 bar"))
    assert made.state.outcome == ""
    assert made.said_unsafe.startswith("unsafe: Pressure: 6.2 bar, within its limits")
    assert "unsafe" in kinds(made)


def test_the_scenario_does_not_end_before_the_coach_has_asked_what_is_judged(tmp_path: Path) -> None:
    short = GOOD.replace("faults:", "stop_after: stop\nfaults:").replace("at: look, ask", "at: stop, ask")
    made = lesson(tmp_path, short, assessed=True)
    do(made, want.BeginStep(TRAINEE, "stop"), want.EndStep(TRAINEE, "stop"))
    (asked,) = made.owed()
    assert made.state.outcome == ""
    refused = made.submit(want.BeginStep(TRAINEE, "fill"))
    assert isinstance(refused, Refusal)
    assert "The coach asks now" in refused.reason
    do(made, made.judged(asked, 0.5, ""))
    assert (made.owed(), result(made).ended) == ((), "over")


def test_the_coach_stops_it_and_the_record_says_who_and_why(tmp_path: Path) -> None:
    made = lesson(tmp_path)
    do(made, made.stopped("The trainee is tired"))
    assert made.state.outcome == "abandoned"
    assert result(made).ended == "stopped"
    stopped = [entry.event for entry in made.entries() if getattr(entry.event, "kind", "") == "stopped"]
    assert [(event.by, event.words) for event in stopped] == [(COACH, "The trainee is tired")]  # type: ignore[attr-defined]


def test_the_scenario_ends_where_it_says(tmp_path: Path) -> None:
    asks_nothing = GOOD.replace("  - {id: said, words: Says why., explained: why}\n", "")
    made = lesson(tmp_path, asks_nothing.replace("faults:", "stop_after: stop\nfaults:"))
    do(made, want.BeginStep(TRAINEE, "stop"), want.EndStep(TRAINEE, "stop"))
    assert made.state.outcome == "abandoned"
    assert result(made).ended == "over"


def test_a_power_cut_darkens_the_screen_and_a_lesson_opened_again_knows_what_came(tmp_path: Path) -> None:
    made = lesson(tmp_path, GOOD.replace("kind: equipment", "kind: power-cut"))
    to_fill(made)
    assert made.dark
    made.run.close()
    again = Run.resume(made.path, SteppedClock(boot="later"))
    assert isinstance(again, Run), again
    taken_up = Lesson(again, made.scenario, lambda _: None)
    assert not taken_up.dark
    assert taken_up.followed == made.followed


def test_the_scenario_answers_where_it_says_so_and_the_trainee_is_not_judged_by_it(tmp_path: Path) -> None:
    made = lesson(tmp_path, GOOD.replace("gauge: [0, 10]}}\nfaults", "given: true}}\nfaults").replace("at: fill", "at: look").replace(
        "shows: {pressure: {value: 4 bar, gauge: [0, 10]}}", "shows: {pin: {value: proud}}"
    ))  # fmt: skip
    to_fill(made)
    assert made.state.record("fill").answers["pressure"].shown == "6.2 bar"
    assert "given" in kinds(made)
    assert next(one for one in result(made).criteria if one.id == "read").result == "not judged"


@pytest.mark.parametrize("ends", [False, True])
def test_a_live_run_takes_nothing_of_it(tmp_path: Path, ends: bool) -> None:
    made = lesson(tmp_path, mode="live")
    before = made.run.head
    refused = made.run.submit(NoteTraining(TRAINEE, NOTED, ends))
    assert isinstance(refused, Refusal)
    assert made.run.head == before
    assert made.state.outcome == ""


def test_time_that_is_stepped_stands_in_the_record(tmp_path: Path) -> None:
    made = lesson(tmp_path)
    do(made, made.step_time(step(made, "stop")))
    assert kinds(made)[-1] == "time"
    assert result(made).stepped_s == made.followed.stepped_s


def test_who_may_not_release_and_wants_to_ends_an_assessment_and_a_slip_of_the_name_does_not(tmp_path: Path) -> None:
    made = lesson(tmp_path, assessed=True)
    do(made, want.BeginStep(TRAINEE, "stop"), want.EndStep(TRAINEE, "stop"))
    assert isinstance(made.submit(want.NameReleaser("Mara Qist", "fill")), Refusal)
    assert (made.followed.unsafe, made.state.outcome) == ((), "")
    assert isinstance(made.submit(want.NameReleaser(TRAINEE, "fill")), Refusal)
    assert [act.fault for act in made.followed.unsafe] == ["leaks"]
    assert made.state.outcome == "abandoned"


def test_the_name_of_somebody_who_is_not_there_stays_on_record_for_the_coach_to_judge(tmp_path: Path) -> None:
    made = lesson(tmp_path, ABSENT, assessed=True)
    do(made, want.BeginStep(TRAINEE, "stop"), want.EndStep(TRAINEE, "stop"))
    assert isinstance(made.submit(want.NameReleaser(COACH, "fill")), Refusal)
    assert kinds(made)[-1] == "tried"
    assert made.state.outcome == ""
    told = str(document(result(made), "file").blocks)
    assert "Somebody who was not there was named" in told
    assert made.followed.tried == (made.line,)


def test_a_pause_is_a_response_where_it_is_said_what_comes_next_and_a_closed_terminal_says_nothing(
    tmp_path: Path,
) -> None:
    for words, hanging in (("", ("leaks",)), ("Wait for the lead", ())):
        made = lesson(tmp_path / (words or "none"), ABSENT)
        do(made, want.BeginStep(TRAINEE, "stop"), want.EndStep(TRAINEE, "stop"), want.Pause(TRAINEE, words))
        assert made.followed.hanging() == hanging
