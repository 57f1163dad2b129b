"""Readings: numbers with units, limits and likely values."""

import pytest

from runner.procedure.asks.ask import Judged, Misread
from tests.procedure.asks.built import judged, printed, prompted, verdict

PRESSURE = "read: {pressure: {ask: Pressure on the gauge, unit: bar, within: [5.5, 7], likely: [6, 6.5]}}"
GROWN = "read: {measured: {ask: Measured diameter, unit: mm, within: [0.9 * roll_od, 1.1 * roll_od]}}"


@pytest.mark.parametrize(
    ("typed", "expected"),
    [
        ("6.2", "in"),
        ("6.2 bar", "in"),
        ("620 kPa", "in"),
        ("90 psi", "in"),  # 90 psi = 6.205 bar: NIST SP 811, App. B.8 (1 psi = 6894.757 Pa)
        ("5.5", "unlikely"),
        ("7", "unlikely"),
        ("5.499", "out"),
        ("7.001", "out"),
        ("-6", "out"),
        ("", "misread"),
        ("6,2", "misread"),
        ("6.2 kg", "misread"),
        ("six", "misread"),
        ("nan", "misread"),
        ("1e999", "misread"),
    ],
)
def test_a_typed_number_is_judged(typed: str, expected: str) -> None:
    assert verdict(PRESSURE, typed) == expected


def test_the_answer_is_kept_in_the_unit_of_the_author() -> None:
    found = judged(PRESSURE, "620 kPa")
    assert isinstance(found, Judged)
    assert (found.value, found.unit, found.limits) == (620000.0, "bar", "5.5 to 7 bar")
    assert found.magnitude == pytest.approx(6.2)
    assert found.shown == "620 kPa = 6.2 bar"


def test_limits_may_be_formulas_over_known_values() -> None:
    assert verdict(GROWN, "1100", roll_od=1.0) == "in"
    assert verdict(GROWN, "1100.001", roll_od=1.0) == "out"
    assert prompted(GROWN, roll_od=1.0).limits == "900 to 1100 mm"


def test_a_limit_that_is_not_known_yet_takes_no_answer() -> None:
    found = judged(GROWN, "1000")
    assert isinstance(found, Misread)
    assert "roll_od" in found.message
    assert "roll_od" in prompted(GROWN).limits


def test_one_side_may_be_open() -> None:
    least = "read: {gap: {ask: Gap, unit: mm, at_least: 5}}"
    most = "read: {gap: {ask: Gap, unit: mm, at_most: 5}}"
    free = "read: {gap: {ask: Gap, unit: mm}}"
    assert [verdict(least, "4.9"), verdict(least, "500")] == ["out", "in"]
    assert [verdict(most, "5.1"), verdict(most, "-500")] == ["out", "in"]
    assert verdict(free, "-3") == "in"
    assert [prompted(keys).limits for keys in (least, most, free)] == ["at least 5 mm", "at most 5 mm", ""]


def test_a_screen_and_paper_show_question_unit_and_limits() -> None:
    prompt = prompted(PRESSURE)
    assert (prompt.shape, prompt.question, prompt.unit, prompt.limits) == (
        "number",
        "Pressure on the gauge",
        "bar",
        "5.5 to 7 bar",
    )
    assert printed(PRESSURE) == "Pressure on the gauge: ________ bar (5.5 to 7 bar)"


def test_a_point_on_a_scale_keeps_its_zero() -> None:
    # 0 degC = 273.15 K and 32 degF = 0 degC: NIST SP 811, section 4.2.1 and App. B.8.
    warm = "read: {surface: {ask: Surface, unit: degC, within: [-5, 60]}}"
    found = judged(warm, "32 degF")
    assert isinstance(found, Judged)
    assert found.value == pytest.approx(273.15)
    assert [verdict(warm, "-5"), verdict(warm, "-5.1"), verdict(warm, "20 K")] == ["in", "out", "misread"]
