"""What stands on a form: nothing that could be taken for done, allowed or known where it is not."""

import dataclasses

import pytest

from runner.engine.events import StepDone, StepNotApplicable
from runner.engine.state import StepStatus
from runner.procedure.model import steps_of
from runner.report.document import Facts, Note, Table
from runner.report.sheet.form import BLANK, Sheet, StepForm
from runner.report.sheet.front import CAUTION
from runner.report.sheet.recorded import CLOSED, initials, recorded
from runner.report.sheet.sheet import sheet_of_run
from runner.report.verification import Verification
from tests.report.sample import HEAD
from tests.report.sheet.sheets import SHEETS, entries, half_done, of_job, procedure


def steps(sheet: Sheet) -> dict[str, StepForm]:
    return {block.number: block for block in sheet.blocks if isinstance(block, StepForm)}


def words(sheet: Sheet) -> str:
    return " ".join(block.text for block in sheet.blocks if isinstance(block, Note))


@pytest.mark.parametrize("name", SHEETS)
def test_every_step_stands_on_every_form_under_its_own_number(name: str) -> None:
    assert list(steps(SHEETS[name]())) == [step.number for step in steps_of(procedure())]


@pytest.mark.parametrize("name", SHEETS)
def test_the_caution_comes_before_all_that_can_be_acted_on(name: str) -> None:
    before = [type(block) for block in SHEETS[name]().blocks[:2]]
    assert before == [Facts, Note]
    assert CAUTION in words(SHEETS[name]())


def test_a_blank_form_has_a_blank_with_its_unit_where_a_value_is_not_known() -> None:
    found = steps(SHEETS["blank"]())
    assert found["1.4"].act == f"Lift the roll of {BLANK} kg (roll mass) between the chucks."
    assert found["1.5"].asks[0][0] == f"Pressure on the gauge: {BLANK} bar (5.5 to 7 bar)"


def test_a_job_is_worked_out_and_filled_in() -> None:
    # 0.080 kg/m² × 1.2 m × 7000 m = 672 kg (by hand)
    assert steps(SHEETS["job"]())["1.4"].act == "Lift the roll of 672 kg between the chucks."
    assert SHEETS["job"]().clean


def test_a_value_out_of_limits_is_filled_in_nowhere_and_stops_its_steps() -> None:
    sheet = SHEETS["out-of-limits"]()
    lift, hang = steps(sheet)["1.4"], steps(sheet)["2b.1"]
    assert not sheet.clean
    assert "OUT OF LIMITS" in words(sheet)
    assert "1008" not in lift.act
    table = next(b for b in sheet.blocks if isinstance(b, Table) and b.caption.startswith("Numbers"))
    # what rests on it has no number at all, as the engine works nothing out of it
    assert [row[1] for row in table.rows[1:]] == ["none: rests on a value OUT OF LIMITS"] * 3
    assert table.marks == {0, 1, 2, 3}
    assert any("1008 kg" in line and "Do not begin" in line for line in lift.stops)
    # the pieces rest on the mass that is out of limits
    assert hang.stops == ("Do not begin: bar pieces rests on a value that is OUT OF LIMITS",)
    assert "OUT OF LIMITS" in lift.troubles[0].do


def test_a_condition_is_decided_by_a_known_job_alone() -> None:
    assert steps(SHEETS["blank"]())["1.3"].applies[1:] == (
        "[ ] it is so: do this step", "[ ] it is not so: leave this step out",
    )  # fmt: skip
    assert steps(SHEETS["job"]())["1.3"].closed
    film = steps(of_job({"substrate": "BOPP film"}))["1.3"]
    assert not film.closed
    assert film.signs


def test_what_is_done_has_the_times_and_initials_of_the_record() -> None:
    lift = steps(half_done())["1.4"]
    assert [(sign.what, sign.time, sign.initials) for sign in lift.signs] == [
        ("Released, Shift lead", "09:32 UTC", "K.C."), ("Done, Operator, unwind side", "09:36 UTC", "R.A."),
    ]  # fmt: skip
    assert not lift.cautions
    assert not lift.hold


def test_the_place_is_the_step_that_the_engine_has_up() -> None:
    assert [number for number, step in steps(half_done()).items() if step.here] == ["1.5"]


def test_what_is_not_over_has_no_time_and_no_initials() -> None:
    later = [step for number, step in steps(half_done()).items() if not step.closed]
    assert len(later) == 6
    assert all(not sign.time and not sign.initials for step in later for sign in step.signs)


def test_a_release_that_was_given_before_the_act_does_not_count_on_paper() -> None:
    some = entries()[:16]
    sheet = sheet_of_run(procedure(), some, Verification(True, HEAD, len(some)))
    assert sheet is not None
    lift = steps(sheet)["1.4"]
    assert lift.hold is not None
    assert not lift.signs[0].initials


def test_the_first_answers_are_hidden_from_an_independent_second_look() -> None:
    some = entries()[:9]
    assert some[-1][1].__class__.__name__ == "Answered"
    sheet = sheet_of_run(procedure(), some, Verification(True, HEAD, len(some)))
    assert sheet is not None
    assert "on record" not in str(steps(sheet)["1.2"].asks)


def test_every_state_is_to_be_looked_at_before_anybody_goes_on() -> None:
    table = next(b for b in half_done().blocks if isinstance(b, Table) and b.caption.startswith("The press"))
    assert [row[:3] for row in table.rows] == [("unwind drive", "stopped", BLANK), ("crane", "taken", BLANK)]


def test_a_damaged_record_says_so_before_the_place() -> None:
    assert "THE RECORD IS NOT WHOLE" in words(SHEETS["damaged"]())
    assert "THE RECORD IS NOT WHOLE" not in words(half_done())


@pytest.mark.parametrize("length", range(1, len(entries()) + 1))
def test_no_beginning_of_a_record_shows_more_done_than_it_holds(length: int) -> None:
    some = entries()[:length]
    sheet = sheet_of_run(procedure(), some, Verification(True, HEAD, length))
    run = recorded(procedure(), some)
    assert sheet is not None
    assert run is not None
    closed = {step.number for step in steps(sheet).values() if step.closed}
    ended = {event.number for _, event in some if isinstance(event, StepDone | StepNotApplicable)}
    # by the job alone a condition may be known to be false before the run has come to its step
    assert ended <= closed <= ended | {"1.3"}


def test_people_who_would_sign_alike_sign_with_their_names() -> None:
    assert initials(["Ilka Foss", "Ingo Falk", "Mara Quist"]) == {
        "Ilka Foss": "Ilka Foss", "Ingo Falk": "Ingo Falk", "Mara Quist": "M.Q.",
    }  # fmt: skip


def test_one_person_who_signs_often_keeps_their_initials() -> None:
    assert initials(["Ilka Foss", "Ilka Foss"]) == {"Ilka Foss": "I.F."}


def test_closed_statuses_are_words_of_the_engine() -> None:
    assert {status.value for status in StepStatus} >= CLOSED


def test_every_part_of_a_step_is_shown_by_the_text_and_the_page() -> None:
    from runner.report.sheet.forms import FORMS

    step = steps(SHEETS["blank"]())["1.4"]
    filled = dataclasses.replace(
        step, status="S7", stops=("S8",), applies=("S9",), why="S10", asks=(("S11", "S12"),), after=("S13",)
    )
    sheet = dataclasses.replace(SHEETS["blank"](), blocks=(filled,))
    for form in FORMS.values():
        shown = form.render(sheet).decode()
        for mark in (
            "S7",
            "S8",
            "S9",
            "S10",
            "S11",
            "S12",
            "S13",
            "Hoist brake",
            "Both chuck arms",
            "DANGER",
            "swings",
        ):
            assert mark in shown, (form.name, mark)
