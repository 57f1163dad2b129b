"""Values worked out: pieces and what they give, rough checks, and where what went in came from."""

import pytest

from runner.formula.dimension import MASS
from runner.formula.evaluate import Value
from runner.formula.quantity import show
from runner.formula.units import Unit
from runner.procedure.compile import compile_procedure
from runner.procedure.model import Procedure
from runner.procedure.working import Worked, units_of, uses, work_out

HEAD = """
format: 1
id: bar
title: Tension bar
revision: 1
equipment: Line 3
purpose: Hang the bar
people: {unwind: Operator, lead: Shift lead}
inputs:
  web_width: {ask: Web width, unit: mm, within: [400, 1300]}
  tension: {ask: Web tension, unit: N/m, within: [1, 900]}
  oven: {ask: Oven, unit: degC, within: [20, 90]}
  substrate: {ask: Substrate, choose: [kraft paper, BOPP film]}
tables:
  density:
    columns: {substrate: text, rho: kg/m^3}
    rows: [[kraft paper, 750], [BOPP film, 900]]
  widths:
    columns: {wide: mm, gap: mm}
    rows: [[400, 1], [1300, 3]]
pieces:
  rack: {unit: kg, stock: {"5": 8, "2": 4, "1": 4, "0.5": 4}}
phases:
  - phase: Hang
    steps:
      - {id: look, by: unwind, do: Look., read: {left_on: {ask: Left on, unit: kg, within: [0, 50]}}}
calculations:
"""


def compiled(calculations: str) -> Procedure:
    """The procedure with these calculations."""
    found = compile_procedure(HEAD + calculations, "bar.procedure.yaml", lambda _: None)
    assert found.procedure is not None, found.findings
    return found.procedure


def worked(calculations: str, **given: Value) -> dict[str, Worked]:
    """All that can be worked out from a web of 1.2 m at 150 N/m, kraft paper, and what is given beside."""
    procedure = compiled(calculations)
    values: dict[str, Value] = {"web_width": 1.2, "tension": 150.0, "substrate": "kraft paper", **given}
    units = units_of(procedure)
    shown = {n: show(v, units[n]) if isinstance(v, float) else str(v) for n, v in values.items()}
    found: dict[str, Worked] = {}
    for calculation in procedure.calculations:
        if uses(calculation) <= values.keys():
            one = found[calculation.name] = work_out(procedure, calculation, values, shown)
            values[calculation.name], shown[calculation.name] = one.value, one.shown
    return found


BAR = """  pull: {formula: 2 * tension * web_width, unit: N}
  bar_mass: {formula: pull / g_n, unit: kg, round: nearest 0.5 kg}
"""


@pytest.mark.parametrize(
    ("pieces", "gives"),
    [
        ('"5": 6, "2": 4, "1": 4, "0.5": 4', "gives 151.2 N/m (wanted 150 N/m, +0.8 %)"),
        ('"5": 6, "2": 4, "1": 3, "0.5": 1', "gives 147.1 N/m (wanted 150 N/m, -1.9 %)"),
    ],
)
def test_pieces_say_which_tension_they_give(pieces: str, gives: str) -> None:
    """Half a turn, 1.2 m: 37 kg give 151.186 N/m, 36 kg 147.100 N/m instead of 150 (derived)."""
    text = BAR.replace(", round: nearest 0.5 kg", "")
    text += "  bar_pieces: {split: bar_mass, from: rack, within: 1 kg, gives: tension}\n"
    procedure_text = HEAD.replace('"5": 8, "2": 4, "1": 4, "0.5": 4', pieces) + text
    found = compile_procedure(procedure_text, "bar.procedure.yaml", lambda _: None).procedure
    assert found is not None
    values: dict[str, Value] = {"web_width": 1.2, "tension": 150.0, "pull": 360.0, "bar_mass": 360 / 9.80665}
    shown = {"bar_mass": "36.7098 kg"}
    assert work_out(found, found.calculations[-1], values, shown).gives == gives


@pytest.mark.parametrize(
    ("formula", "rounding", "shown"),
    [
        ("2.25 [kg]", "nearest 0.5 kg", "2.5 kg"),
        ("2.75 [kg]", "nearest 0.5 kg", "3 kg"),
        ("0 [kg] - 2.25 [kg]", "nearest 0.5 kg", "-2.5 kg"),
        ("0.3 [kg] / 3", "up 0.1 kg", "0.1 kg"),
        ("2.01 [kg]", "up 0.5 kg", "2.5 kg"),
        ("2.49 [kg]", "down 0.5 kg", "2 kg"),
        ("1e300 [kg] * 1e7", "nearest 1e-9 kg", show(1e307, Unit("kg", 1, 1, MASS))),
    ],
)
def test_a_half_is_rounded_away_from_zero_as_the_function_does(formula: str, rounding: str, shown: str) -> None:
    """Rule B of ISO 80000-1 annex B, from memory; derived."""
    found = worked(f"  bar: {{formula: '{formula}', unit: kg, round: {rounding}}}\n")["bar"]
    assert found.shown == shown


def test_rounding_on_the_way_is_left_out_of_what_they_give() -> None:
    """36.7098 kg are rounded to 36.5 kg; 36.5 kg hung really give 149.14 N/m (derived: 36.5 g / 2.4)."""
    found = worked(BAR + "  bar_pieces: {split: bar_mass, from: rack, within: 1 kg, uneven: 0.5 kg, gives: tension}\n")
    assert found["bar_pieces"].value == 36.5
    assert found["bar_pieces"].gives == "gives 149.1 N/m (wanted 150 N/m, -0.6 %)"


def test_what_pieces_give_is_not_said_where_no_value_or_several_ask_for_them() -> None:
    text = "  bar_mass: {{formula: '{}', unit: kg}}\n  bar_pieces: {{split: bar_mass, from: rack, within: 9 kg, gives: tension}}\n"
    none = worked(text.format("16.8 [kg] + 0 * tension * 1 [kg*m/N]"))["bar_pieces"].gives
    assert none == "what tension it gives cannot be said: no value asks for 17 kg"
    several = worked(text.format("16 [kg] + (tension - 140 [N/m])^2 * 0.01 [kg*m^2/N^2]"))["bar_pieces"].gives
    assert several == "what tension it gives cannot be said: more than one value asks for 17 kg"


def test_uneven_ends_are_named_each_with_the_heaviest_nearest_the_web() -> None:
    """Pieces of 5, 2, 1 and 0.5 kg: 36.5 kg have no half in them that both ends could carry; 18 and 18.5 kg do (derived)."""
    found = worked(BAR + "  bar_pieces: {split: bar_mass, from: rack, within: 0.1 kg, uneven: 0.5 kg}\n")["bar_pieces"]
    sums = sorted(sum(float(piece) * count for piece, count in end) for end in found.ends)
    assert sums == [18.0, 18.5]
    assert found.shown.startswith("end 1: ")
    assert found.shown.endswith(", heaviest nearest the web")
    assert "which may differ by 0.5 kg" in found.formula


@pytest.mark.parametrize("mass", ["1e15 [kg]", "1e307 [kg]", "0 [kg] - 1e307 [kg]"])
def test_a_mass_beyond_all_reason_misses_its_tolerance_and_breaks_nothing(mass: str) -> None:
    text = f"  bar_mass: {{formula: '{mass}', unit: kg}}\n  bar_pieces: {{split: bar_mass, from: rack, within: 1 kg}}\n"
    assert worked(text)["bar_pieces"].verdict == "out"


def test_a_single_kind_of_piece_has_no_order() -> None:
    found = worked(BAR + "  bar_pieces: {split: bar_mass, from: rack, within: 9 kg}\n", tension=40.86)["bar_pieces"]
    assert found.shown == "1 x 5 kg at each end"


@pytest.mark.parametrize(("release", "verdict"), [("", "out"), (", release: lead", "held")])
def test_pieces_out_of_tolerance_are_held_where_a_role_may_accept_them(release: str, verdict: str) -> None:
    split = f"  bar_pieces: {{split: bar_mass, from: rack, within: 0.1 kg{release}}}\n"
    found = worked(BAR + split)["bar_pieces"]
    assert found.verdict == verdict
    assert found.shown.startswith("no choice of pieces comes within 0.1 kg of 36.5 kg; the nearest is 3")


ROUGH = "  pull: {{formula: 2 * tension * web_width, unit: N, rough: {{formula: '{}', within: {} %}}}}\n"


def test_a_rough_check_that_agrees_is_told_and_changes_nothing() -> None:
    found = worked(ROUGH.format("tension * 2 [m]", 20))["pull"]
    assert (found.verdict, found.value, found.shown, found.limits) == ("in", 360.0, "360 N", "")
    assert found.rough == "rough check: about 300 N, agrees within 20 %"


def test_a_rough_check_that_differs_stops_the_value() -> None:
    found = worked(ROUGH.format("tension * web_width * 3.3", 20))["pull"]
    assert (found.verdict, found.doubted) == ("out", True)
    assert found.shown == "360 N; the rough check says about 590 N: one of the two is wrong"
    assert found.rough == "rough check: about 590 N, DIFFERS by more than 20 %"
    assert found.limits == "within 20 % of the rough check"


@pytest.mark.parametrize(("factor", "verdict"), [("1.6", "in"), ("1.59", "out"), ("2.5", "in"), ("2.51", "out")])
def test_the_share_is_of_the_larger_of_the_two(factor: str, verdict: str) -> None:
    """2 and 1.6 differ by 0.4, 20 % of 2; 2 and 2.5 by 0.5, 20 % of 2.5."""
    assert worked(ROUGH.format(f"tension * web_width * {factor}", 20))["pull"].verdict == verdict


def test_a_rough_check_without_a_result_stops_the_value_too() -> None:
    found = worked(ROUGH.format("tension * web_width * 2 / (tension / tension - 1)", 20))["pull"]
    assert found.verdict == "out"
    assert "rough check cannot be worked out: this divides by zero" in found.shown


def test_a_fine_rough_check_is_shown_with_more_digits() -> None:
    assert worked(ROUGH.format("tension * web_width * 1.9963", 1))["pull"].rough.startswith(
        "rough check: about 359.3 N"
    )


def test_where_inputs_table_rows_and_constants_come_from_is_said() -> None:
    text = (
        "  mass: {formula: 'web_width * 1 [m^2] * lookup(density, substrate, rho) + left_on + pull / g_n', unit: kg}\n"
    )
    text += "  pull: {formula: 2 * tension * web_width, unit: N}\n"
    found = worked(text, left_on=1.0)["mass"]
    assert found.origins == (
        ("left_on", "step 1.1"),
        ("pull", "worked out"),
        ("substrate", "job ticket"),
        ("web_width", "job ticket"),
        ("density", "row kraft paper"),
        ("g_n", "constant 9.80665 m/s²"),
    )
    between = worked("  gap: {formula: 'interpolate(widths, web_width, gap)', unit: mm}\n")["gap"]
    assert between.origins[-1] == ("widths", "between rows, at 1200 mm")


def test_a_constant_without_a_unit_has_no_origin_and_a_row_of_the_rough_check_has_one() -> None:
    rough = "rough: {formula: '3 * lookup(density, substrate, rho)', within: 90 %}"
    found = worked(f"  dense: {{formula: 'pi * 750 [kg/m^3]', unit: kg/m^3, {rough}}}\n")["dense"]
    assert found.origins == (("substrate", "job ticket"), ("density", "row kraft paper"))


def test_a_limit_that_looks_into_a_table_names_the_row() -> None:
    text = "  dense: {formula: 'tension * 1 [kg/N/m^2]', unit: kg/m^3, limit: '<= lookup(density, substrate, rho)'}\n"
    found = worked(text)["dense"]
    assert ("density", "row kraft paper") in found.origins


PATH = """web_paths:
  unwind:
    rollers:
      - {roller: left, at: [0 mm, 1000 mm], diameter: 100 mm, pass: over}
      - {roller: bar, at: [100 mm, 0 mm], diameter: 100 mm, pass: under, moves: vertical}
      - {roller: right, at: [200 mm, 1000 mm], diameter: 100 mm, pass: over}
"""


def test_numbers_of_tables_and_web_paths_stand_in_the_working() -> None:
    """Half a turn on a bar between two upright spans of 1 m pulls twice; 2 m and pi times 50 mm of web (derived)."""
    text = "  pull: {formula: \"tension * web_width * bar_factor(unwind, 'bar')\", unit: N}\n"
    text += "  wrap: {formula: \"wrap_angle(unwind, 'bar') / 2\", unit: deg}\n"
    text += "  web: {formula: path_length(unwind) + web_width, unit: m}\n"
    text += '  heavy: {formula: "lookup(density, substrate, rho) * 1 [m^3] + lookup(density, substrate, rho) * 2 [m^3]", unit: kg}\n'
    text += '  gap: {formula: "interpolate(widths, web_width, gap) * 2", unit: mm}\n'
    found = worked(text + PATH)
    assert found["pull"].working == "150 N/m × 1200 mm × 2"
    assert found["wrap"].working == "180 deg / 2"
    assert found["web"].working == "2.15708 m + 1200 mm"
    assert found["heavy"].working == "750 kg/m^3 × 1 m^3 + 750 kg/m^3 × 2 m^3"
    assert found["gap"].working == "2.77778 mm × 2"


def test_a_web_path_that_cannot_be_run_leaves_its_name_in_the_working() -> None:
    text = "  web: {formula: path_length(unwind), unit: m}\n" + PATH.replace("[100 mm, 0 mm]", "[100 mm, 1000 mm]")
    found = worked(text)["web"]
    assert (found.verdict, found.working) == ("failed", "path_length(unwind)")
