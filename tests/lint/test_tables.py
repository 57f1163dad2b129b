"""Tables, racks and turns: what the rules of tables and dimensions say beside their own examples, and what they let pass."""

import pytest

from runner.lint.linter import lint_text
from tests.lint.examples import whole

TWO_KEYS = """inputs:
  substrate: {{ask: Substrate, choose: [kraft paper, BOPP film]}}
  side: {{ask: Side, choose: [unwind, rewind]}}
tables:
  wanted:
    columns: {{substrate: text, side: text, high: N/m, low: N/m}}
    rows: [[kraft paper, unwind, 260, 90], [kraft paper, rewind, {second}, 90], [BOPP film, unwind, 120, 60], [BOPP film, rewind, 120, 60]]
calculations:
  most: {{formula: "lookup(wanted, {keys})", unit: N/m, limit: "<= 300 [N/m]"}}
"""

CURVE = """inputs:
  caliper: {{ask: Thickness, unit: um, within: [200, 500]}}
tables:
  board: {{columns: {{caliper: um, pull: N/m}}, rows: {rows}}}
calculations:
  pull: {{formula: "interpolate(board, caliper, pull)", unit: N/m, limit: "<= 1000 [N/m]"}}
"""

SPEED = """inputs:
  turning: {{ask: Speed, unit: rpm, within: [10, 600]}}
  speed: {{ask: Web speed, unit: m/min, within: [10, 300]}}
  roller_od: {{ask: Diameter, unit: mm, within: [80, 300]}}
calculations:
  found: {{formula: "{formula}", unit: {unit}, limit: "> 0 [{unit}]"}}
"""


def found(text: str, *rules: str) -> list[tuple[str, str]]:
    """(rule, message) of the findings of some rules."""
    return [
        (one.rule, one.message)
        for one in lint_text(whole(text), "x.procedure.yaml", lambda _: None)
        if one.rule in rules
    ]


def test_a_row_is_hidden_only_by_the_keys_that_it_is_looked_up_by() -> None:
    assert found(TWO_KEYS.format(second=220, keys="substrate, side, high"), "row-hidden") == []
    hidden = found(TWO_KEYS.format(second=220, keys="substrate, high"), "row-hidden")
    assert hidden == [("row-hidden", "row 2 of `wanted` is never found: it has the same substrate as row 1")]


def test_a_row_that_says_the_same_hides_nothing() -> None:
    assert found(TWO_KEYS.format(second=260, keys="substrate, high"), "row-hidden") == []


def test_a_combination_of_choices_without_a_row_is_found_though_each_choice_has_one() -> None:
    text = TWO_KEYS.format(second=220, keys="substrate, side, high").replace(
        "[BOPP film, rewind, 120, 60]", "[PE film, rewind, 9, 9]"
    )
    assert {rule for rule, _ in found(text, "table-left-by-job", "row-unused")} == {"table-left-by-job", "row-unused"}


@pytest.mark.parametrize(
    ("rows", "rules"),
    [
        ("[[200, 1], [300, 2], [500, 3]]", []),
        ("[[500, 3], [300, 2], [200, 1]]", []),
        ("[[200, 1], [500, 3], [300, 2]]", ["interpolation-unsorted"]),
        ("[[200, 1], [200, 1], [500, 3]]", ["interpolation-ambiguous"]),
        ("[[200, 1], [500, 3], [500, 4], [300, 2]]", ["interpolation-ambiguous", "interpolation-unsorted"]),
    ],
)
def test_rows_that_are_interpolated_go_one_way_and_stand_once(rows: str, rules: list[str]) -> None:
    names = sorted(
        rule for rule, _ in found(CURVE.format(rows=rows), "interpolation-unsorted", "interpolation-ambiguous")
    )
    assert names == rules


@pytest.mark.parametrize(
    ("formula", "unit", "wrong"),
    [
        ("turning * pi * roller_od / 1 [turn]", "m/min", False),
        ("turning * (roller_od / 2) / 1 [rad]", "m/min", False),
        ("speed / (pi * roller_od) * 1 [turn]", "rpm", False),
        ("2 * speed / roller_od * 1 [rad]", "rpm", False),
        ("turning / (1 [rad] / (pi * roller_od))", "m/min", True),
        ("speed / (pi * roller_od) * 1 [rad]", "rpm", True),
        ("(speed * 1 [rad]) / pi / roller_od", "rpm", True),
    ],
)
def test_a_circumference_is_taken_by_the_turn_and_a_radius_by_the_radian(formula: str, unit: str, wrong: bool) -> None:
    assert bool(found(SPEED.format(formula=formula, unit=unit), "radian-of-circumference")) is wrong
