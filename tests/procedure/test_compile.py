"""The compiled procedure: every word of the text in its place, resolved and in SI."""

import pytest

from runner.formula.expr import Number
from runner.procedure.compile import Compiled, compile_procedure
from runner.procedure.model import UNKNOWN, Band, Calculation, Procedure, Split, Step, steps_of
from runner.procedure.reference import whole
from runner.trade.web_path import VERTICAL

FILES = {whole.FRAGMENT_PATH: whole.FRAGMENT_TEXT}


def compiled(text: str = whole.PROCEDURE_TEXT) -> Compiled:
    return compile_procedure(text, whole.PROCEDURE_PATH, FILES.get)


@pytest.fixture(scope="module", name="procedure")
def made_procedure() -> Procedure:
    result = compiled()
    assert result.findings == ()
    assert result.procedure is not None
    return result.procedure


def step(procedure: Procedure, id_: str) -> Step:
    return next(step for step in steps_of(procedure) if step.id == id_)


def test_the_head_is_kept_as_written(procedure: Procedure) -> None:
    assert (procedure.id, procedure.revision, procedure.status) == ("change-roll", 4, "draft")
    assert procedure.people == (
        ("unwind", "Operator, unwind side"),
        ("rewind", "Operator, rewind side"),
        ("lead", "Shift lead"),
    )
    assert procedure.tools == ("Core knife", "Sensor key", "Tape")
    (change,) = procedure.changes
    assert (change.revision, change.date, change.retrain) == (4, "2026-11-20", "read")


def test_ranges_are_in_si(procedure: Procedure) -> None:
    width, tension = procedure.inputs[:2]
    assert width.within == Band(0.4, 1.3)
    assert width.likely == Band(0.9, 1.3)
    assert tension.within == Band(60.0, 400.0)
    assert tension.why == "Sets the pull on the tension bar."


def test_an_input_without_unit_and_choices_is_text(procedure: Procedure) -> None:
    number = procedure.inputs[-1]
    assert (number.name, number.unit, number.choices) == ("roll_number", None, ())


def test_pieces_are_whole_grams_heaviest_first(procedure: Procedure) -> None:
    assert procedure.racks[0].stock == (("5", 5000, 6), ("2.5", 2500, 8), ("1", 1000, 8))


def test_states_know_their_start_and_end(procedure: Procedure) -> None:
    drive, guard, crane = procedure.states
    assert (drive.at_start, drive.at_end, drive.label) == (UNKNOWN, 2, "unwind drive")
    assert (guard.label, guard.one_owner, guard.keeps) == ("Guard of the unwind", False, False)
    assert (crane.at_start, crane.at_end, crane.one_owner, crane.keeps) == (UNKNOWN, 0, True, True)


def test_tables_and_paths_are_what_formulas_look_into(procedure: Procedure) -> None:
    table = procedure.scope.tables["wanted_tension"]
    assert table.columns == ("substrate", "low", "high")
    assert table.rows == (("kraft paper", 90.0, 260.0), ("BOPP film", 60.0, 120.0))
    rollers = procedure.scope.paths["unwind"]
    assert [(roller.name, roller.side, roller.moves) for roller in rollers][2] == ("tension bar", "over", VERTICAL)
    assert isinstance(rollers[1].diameter, Number)
    assert dict(procedure.places)["unwind/tension bar"].line == 54


def test_calculations_keep_limits_rounding_and_example(procedure: Procedure) -> None:
    made = {one.name: one for one in procedure.calculations}
    length, mass, pieces = made["web_length"], made["bar_mass"], made["bar_pieces"]
    assert isinstance(length, Calculation)
    assert length.example is not None
    assert dict(length.example.given) == {"roll_od": 1.0, "core_od": 0.152, "caliper": pytest.approx(1e-4)}
    assert (length.example.gives, length.example.within) == (7673.0, 1.0)
    assert isinstance(mass, Calculation)
    assert mass.rounding is not None
    assert [(limit.op, limit.text) for limit in mass.limits] == [(">=", ">= 0 [kg]")]
    assert (mass.rounding.direction, mass.rounding.step, mass.rounding.text) == ("nearest", 0.5, "nearest 0.5 kg")
    assert isinstance(pieces, Split)
    assert (pieces.mass, pieces.rack, pieces.ends, pieces.within) == ("bar_mass", "rack", 2, 0.5)
    assert (pieces.uneven, pieces.gives, pieces.release) == (0.0, "tension", "lead")
    assert length.rough is not None
    assert (length.rough.text, length.rough.within) == ("roll_od^2 / caliper * 3 / 4", 0.2)


def test_steps_are_numbered_as_people_say_them(procedure: Procedure) -> None:
    numbers = {step.id: step.number for step in steps_of(procedure)}
    assert numbers["unwind-off"] == "1.1"
    assert numbers["thread-unwind"] == "3a.1"
    assert numbers["wipe-rewind"] == "3b.1"
    assert numbers["close-unwind-guard"] == "4.1"


def test_a_step_has_all_that_was_written(procedure: Procedure) -> None:
    lift = step(procedure, "lift")
    assert lift.needs == ((0, 0), (1, 0), (2, 0))
    assert lift.when is not None
    assert lift.when.text == "roll_mass > 25 [kg]"
    assert lift.hold is not None
    assert (lift.hold.release, lift.hold.protects, len(lift.hold.confirm)) == ("lead", "Chuck latch", 3)
    assert lift.expect_s == 360.0
    assert [caution.id for caution in lift.cautions] == ["hanging-load"]
    troubles = [*step(procedure, "fetch-crane").troubles, *lift.troubles]
    assert [(trouble.way_on, trouble.back_to, trouble.blocking) for trouble in troubles] == [
        ("stop", "", True),
        ("back_to", "fetch-crane", False),
    ]
    assert lift.uses == {"roll_mass"}
    pressure = step(procedure, "core-pressure")
    assert pressure.repeat is not None
    assert (pressure.repeat.at_most, pressure.repeat.otherwise, pressure.repeat.text) == (
        3,
        "leak",
        "core_pressure >= 6 [bar]",
    )
    assert [ask.kind for ask in pressure.asks] == ["read", "wait"]
    assert step(procedure, "wipe-bar").optional == "reason"
    assert step(procedure, "wipe-rewind").optional == "lead"


def test_the_doer_follows_from_the_list_or_the_only_role(procedure: Procedure) -> None:
    assert [step(procedure, id_).by for id_ in ("thread-unwind", "wipe-rewind")] == ["unwind", "rewind"]


def test_a_second_look_is_together_unless_it_says_otherwise(procedure: Procedure) -> None:
    second = step(procedure, "check-label").second
    assert second is not None
    assert (second.by, second.how) == ("lead", "independent")


def test_a_phase_without_its_own_list_makes_safe_by_that_of_the_procedure(procedure: Procedure) -> None:
    assert procedure.phases[0].make_safe == procedure.make_safe
    assert [act.do for act in procedure.phases[1].make_safe] == [
        "Lower the roll to the floor.",
        "Press the emergency stop.",
    ]
    assert procedure.phases[1].make_safe[0].makes == ((2, 0),)
    assert [phase.press for phase in procedure.phases] == ["running", "stopped", "stopped", "stopped"]
    assert [phase.park for phase in procedure.phases] == ["", "after", "", "throughout"]


def test_cautions_of_a_step_come_gravest_first() -> None:
    text = whole.PROCEDURE_TEXT.replace("cautions: [hanging-load]", "cautions: [torn-edge, hanging-load]")
    made = compiled(text).procedure
    assert made is not None
    assert [caution.signal for caution in step(made, "lift").cautions] == ["danger", "notice"]


def test_a_value_used_through_a_web_path_counts_as_used() -> None:
    text = whole.PROCEDURE_TEXT.replace("when: roll_mass > 25 [kg]", "when: path_length(unwind) > 1 [m]")
    made = compiled(text).procedure
    assert made is not None
    assert step(made, "lift").uses == {"roll_mass", "roll_od"}


def test_a_warning_leaves_the_procedure_and_an_error_does_not() -> None:
    warned = compiled(whole.PROCEDURE_TEXT.replace("likely: [900, 1300]", "likely: [300, 1300]"))
    assert [finding.rule for finding in warned.findings] == ["likely-outside"]
    assert warned.procedure is not None
    failed = compiled(whole.PROCEDURE_TEXT.replace("needs: {unwind_guard: closed}", "needs: {unwind_gaurd: closed}"))
    assert [finding.rule for finding in failed.findings] == ["unknown-state"]
    assert failed.procedure is None


def test_findings_come_in_the_order_of_the_text_and_once() -> None:
    text = whole.PROCEDURE_TEXT.replace("by: unwind", "by: unwnd").replace("unit: N/m, within", "unit: Nm/x, within")
    findings = compiled(text).findings
    assert len(findings) == len(set(findings)) > 5
    assert list(findings) == sorted(findings, key=lambda one: (one.place.path, one.place.line, one.place.column))
