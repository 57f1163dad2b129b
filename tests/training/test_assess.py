"""What a dry run came to: each criterion with its lines, the level, and that nothing but the events decides."""

from pathlib import Path

from runner.engine import intents as want
from runner.training.assess import Result, assess
from runner.training.assessed import document
from tests.training.lessons import COACH, GOOD, TRAINEE, do, lesson, result, to_fill

SAFE = GOOD.replace("{release: fill}, ", "")


def passed(folder: Path, assessed: bool = True) -> tuple[Result, object]:
    made = lesson(folder, SAFE.replace("finished: true", "safe: true"), assessed)
    to_fill(made)
    do(
        made,
        want.GiveAnswer(TRAINEE, "fill", "pressure", "4.1 bar"),
        want.GiveAnswer(TRAINEE, "fill", "pressure", "4 bar"),
    )
    do(made, want.ReleaseHold(COACH, "fill", ("Nobody stands there",)), want.BeginStep(TRAINEE, "fill"))
    do(made, want.GiveAnswer(TRAINEE, "fill", "pressure", "6.2 bar"), want.EndStep(TRAINEE, "fill"))
    do(made, want.BeginStep(TRAINEE, "look"), made.judged(made.questions("look")[0], 1.0, "Said it all"))
    do(made, want.GiveAnswer(TRAINEE, "look", "pin", "flush"), want.EndStep(TRAINEE, "look"), want.Finish(TRAINEE))
    return result(made), made


def test_all_criteria_met_without_hints_is_the_level_of_the_scenario(tmp_path: Path) -> None:
    came, _ = passed(tmp_path)
    assert [one.result for one in came.criteria] == ["met"] * 6
    assert (came.passed, came.level, came.lowered) == (True, "simulate", "")


def test_the_lines_of_the_evidence_are_those_of_the_record(tmp_path: Path) -> None:
    came, made = passed(tmp_path)
    events = {entry.number: type(entry.event).__name__ for entry in made.entries()}  # type: ignore[attr-defined]
    shown = {one.id: [events[line] for line in one.lines] for one in came.criteria}
    assert shown["found"] == ["TrainingNoted", "Answered"]
    assert shown["read"] == ["TrainingNoted", "Answered"]
    assert shown["said"] == ["TrainingNoted"]
    assert shown["end"] == ["StepDone"]


def test_a_dial_may_be_misread_by_a_fiftieth_of_its_range_and_no_more(tmp_path: Path) -> None:
    for name, typed, wanted in (("a", "4.2 bar", "met"), ("b", "4.3 bar", "not met")):
        made = lesson(tmp_path / name, SAFE)
        to_fill(made)
        do(made, want.GiveAnswer(TRAINEE, "fill", "pressure", typed))
        assert next(one for one in result(made).criteria if one.id == "read").result == wanted


def test_practice_says_that_it_was_none_and_a_shown_step_was_observed(tmp_path: Path) -> None:
    came, _ = passed(tmp_path, assessed=False)
    assert "no assessment" in came.lowered
    made = lesson(tmp_path / "hints", SAFE)
    to_fill(made)
    assert result(made).level == ""


def test_a_fault_that_never_came_is_not_judged_and_nothing_is_passed(tmp_path: Path) -> None:
    made = lesson(tmp_path, SAFE, assessed=True)
    came = result(made)
    assert next(one for one in came.criteria if one.id == "found").result == "not judged"
    assert not came.passed


def test_an_answer_after_the_unsafe_act_mends_nothing(tmp_path: Path) -> None:
    made = lesson(tmp_path, SAFE)
    to_fill(made)
    do(
        made,
        want.GiveAnswer(TRAINEE, "fill", "pressure", "6.2 bar"),
        want.NoteException(TRAINEE, "fill", "equipment", "note", "It hisses"),
    )
    found = next(one for one in result(made).criteria if one.id == "found")
    assert found.result == "not met"
    assert len(found.lines) == 3


def test_a_criterion_of_a_fault_that_was_not_drawn_is_shown_beforehand_and_counts_for_nothing(tmp_path: Path) -> None:
    other = SAFE.replace("faults:", "draw: 1\nfaults:\n  - {id: other, kind: guard, at: look, words: A guard., seeded: true, right: [{pause: true}]}").replace(
        "  - id: leaks\n    kind: equipment", "  - id: leaks\n    seeded: true\n    kind: equipment"
    ) + "\n  - {id: other-found, words: Answers a guard., answered: other}\n"  # fmt: skip
    made = lesson(tmp_path, other)
    taken = made.followed.taken
    assert taken is not None
    assert len(taken.faults) == 1
    drawn = taken.faults[0][0]
    assert {"found", "other-found"} <= dict(taken.criteria).keys()
    found = {one.id: one for one in result(made).criteria}
    left = "other-found" if drawn == "leaks" else "found"
    assert (found[left].result, found[left].practise, found[left].lines) == ("not drawn", "", ())
    assert {"found", "other-found"} - {one.id for one in found.values() if one.result == "not drawn"}


def test_the_same_events_give_the_same_result_whoever_looks(tmp_path: Path) -> None:
    came, made = passed(tmp_path)
    entries = [(entry.number, entry.event) for entry in made.entries()]  # type: ignore[attr-defined]
    assert assess(entries, made.scenario, made.procedure) == came  # type: ignore[attr-defined]
    assert assess(iter(entries), made.scenario, made.procedure) == came  # type: ignore[attr-defined]


def test_the_document_says_first_that_it_was_a_dry_run(tmp_path: Path) -> None:
    came, _ = passed(tmp_path)
    for whom in ("trainee", "file"):
        made = document(came, whom)
        assert made.mark == "DRY RUN, assessment"
        assert "practice, not work at the press" in made.caution


def test_a_slip_beyond_the_limits_is_not_what_is_shown_and_finds_nothing(tmp_path: Path) -> None:
    made = lesson(tmp_path, SAFE)
    to_fill(made)
    do(made, want.GiveAnswer(TRAINEE, "fill", "pressure", "2 bar"))
    assert made.followed.hanging() == ("leaks",)
    do(made, want.GiveAnswer(TRAINEE, "fill", "pressure", "4 bar"))
    found = next(one for one in result(made).criteria if one.id == "found")
    assert found.result == "met"
    assert found.note == "Air hisses: answered as shown, out of limits (4 bar)"


def test_the_result_says_by_which_act_a_fault_was_answered(tmp_path: Path) -> None:
    made = lesson(tmp_path, SAFE)
    to_fill(made)
    do(made, want.NoteException(TRAINEE, "fill", "equipment", "note", "The stairs are wet"))
    found = next(one for one in result(made).criteria if one.id == "found")
    assert found.note == "Air hisses: an exception was noted (The stairs are wet)"
