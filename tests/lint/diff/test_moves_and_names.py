"""Steps that stand elsewhere and things of another name: told as that, with what it means."""

import re

from runner.lint.diff.change import Change, Diff, Weight
from runner.lint.diff.match import moved
from tests.lint.diff.written import SMALL, Edit, diff_of, small_diff

LINES = {
    id_: next(line + "\n" for line in SMALL.splitlines() if f"{{id: {id_}," in line)
    for id_ in ("halt", "open", "wipe", "gauge", "close")
}


def meant(diff: Diff) -> list[Change]:
    return [change for change in diff.changes if change.weight is not Weight.UNTOLD]


def test_a_step_before_the_one_that_makes_what_it_needs_is_said_so() -> None:
    (change,) = meant(small_diff((LINES["open"] + LINES["wipe"], LINES["wipe"] + LINES["open"])))
    assert (change.kind, change.weight) == ("step-moved", Weight.MAYBE)
    assert "guard" in change.words
    assert ("wipe" in change.subject and "before step 1.3 open" in change.words) or (
        "open" in change.subject and "after step 1.2 wipe" in change.words
    )


def test_a_step_in_a_phase_with_the_press_running_is_said_so() -> None:
    gone, come = (LINES["gauge"], ""), (LINES["wipe"], LINES["wipe"] + LINES["gauge"])
    (change,) = meant(small_diff(gone, come))
    assert (change.kind, change.weight, change.subject) == ("step-moved", Weight.MAYBE, "step 1.4 gauge")
    assert "the press may run then" in change.words
    assert (change.was, change.now) == ("phase Two, first", "phase One, after wipe")


def test_a_step_that_waits_for_the_stopped_press_is_changed_and_not_weaker() -> None:
    (change,) = meant(small_diff((LINES["wipe"], ""), (LINES["gauge"], LINES["gauge"] + LINES["wipe"])))
    assert (change.kind, change.weight) == ("step-moved", Weight.CHANGED)
    assert "the press stands then" in change.words


def test_a_phase_that_moves_is_told_once_and_its_steps_are_not() -> None:
    head, body = SMALL.split("phases:\n")
    one, two = body.split("  - phase: Two\n")
    told = meant(small_diff((body, "  - phase: Two\n" + two + one)))
    assert [change.kind for change in told] == ["phase-moved"]
    assert head


def test_few_steps_are_told_to_have_moved() -> None:
    assert moved([0, 1, 2, 3]) == frozenset()
    assert moved([3, 0, 1, 2]) == {3}
    assert len(moved([2, 1, 0])) == 2
    assert moved([]) == frozenset()


def test_a_renamed_step_is_renamed_with_all_that_names_it() -> None:
    told = meant(small_diff((LINES["wipe"], LINES["wipe"].replace("id: wipe", "id: wipe-idler"))))
    assert [(change.kind, change.was, change.now) for change in told] == [("renamed", "wipe", "wipe-idler")]


def test_a_renamed_step_that_changed_too_is_one_step() -> None:
    new = LINES["open"].replace("id: open", "id: open-guard").replace("needs: {drive: stopped}, ", "")
    told = meant(small_diff((LINES["open"], new)))
    assert [(change.kind, change.weight) for change in told] == [("need", Weight.WEAKER), ("renamed", Weight.CHANGED)]


def test_another_act_under_another_id_is_a_step_gone_and_a_step_come() -> None:
    new = "      - {id: weigh, by: lead, do: Ask for the mass of a full pallet.}\n"
    told = meant(small_diff((LINES["wipe"], new)))
    assert [(change.kind, change.weight) for change in told] == [("step", Weight.WEAKER), ("step", Weight.CHANGED)]


def test_a_value_renamed_everywhere_is_renamed_only() -> None:
    text = re.sub(r"(?<!Web )\bwidth\b", "web_width", SMALL)
    told = meant(small_diff((SMALL, text)))
    assert [(change.kind, change.was, change.now) for change in told] == [("renamed", "width", "web_width")]


def test_a_state_a_role_and_a_calculation_renamed_everywhere_are_renamed_only() -> None:
    for old, new, named in (
        ("drive:", "motor:", "state"),
        ("unwind", "operator", "role"),
        ("pull:", "unit_pull:", "calculation"),
    ):
        told = meant(small_diff((SMALL, SMALL.replace(old, new))))
        assert [change.kind for change in told] == ["renamed"], (old, told)
        assert told[0].subject.startswith(named)


def test_renamed_and_weakened_at_once_is_still_weaker() -> None:
    text = re.sub(r"(?<!Web )\bwidth\b", "web_width", SMALL).replace("web_width - 10", "web_width - 30")
    kinds = [(change.kind, change.weight) for change in meant(small_diff((SMALL, text)))]
    assert kinds == [("answer-limits", Weight.WEAKER), ("renamed", Weight.CHANGED)]


def test_a_step_that_is_gone_takes_its_guards_with_it() -> None:
    (change,) = meant(small_diff((LINES["gauge"], "")))
    assert (change.kind, change.weight) == ("step", Weight.WEAKER)
    assert "the answer bar" in change.words
    assert change.new_place is not None
    assert change.old_place is not None


def test_a_table_row_is_told_at_the_limit_that_looks_into_it() -> None:
    told = meant(diff_of(Edit("table", "      - [BOPP film, 60, 140]", "      - [BOPP film, 60, 180]")))
    assert [(change.kind, change.weight) for change in told] == [
        ("limit", Weight.WEAKER), ("table", Weight.CHANGED), ("table", Weight.CHANGED),
    ]  # fmt: skip
    assert "BOPP film" in told[0].words, "the job that shows it is named"


def test_a_roller_that_moves_is_told_at_what_rests_on_it() -> None:
    old = "- {roller: exit idler, at: [1400 mm, 1300 mm], diameter: 100 mm, pass: over}"
    told = meant(diff_of(Edit("web-path", old, old.replace("1400", "1500"))))
    assert {change.kind for change in told} == {"web-path", "formula"}
    (formula,) = [change for change in told if change.kind == "formula"]
    assert formula.weight is Weight.MAYBE
    assert formula.subject == "calculation unwind_pull"
    assert "on it rest: unwind_mass, unwind_pieces" in formula.words


def test_a_number_in_an_act_may_make_it_weaker_and_a_word_only_changes_it() -> None:
    (number,) = meant(diff_of(Edit("act", "do: Raise the roll by 100 mm.", "do: Raise the roll by 500 mm.")))
    assert (number.kind, number.weight) == ("act", Weight.MAYBE)
    (word,) = meant(diff_of(Edit("act", "do: Raise the roll by 100 mm.", "do: Lift the roll by 100 mm.")))
    assert (word.kind, word.weight) == ("act", Weight.CHANGED)
