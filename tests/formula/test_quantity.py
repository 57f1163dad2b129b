"""What people type and what they are shown."""

from math import isfinite

import pytest
from hypothesis import given
from hypothesis import strategies as st

from runner.formula.quantity import LONGEST, Misread, Typed, is_spec, read_quantity, show, shown_number
from runner.formula.units import LONGEST as LONGEST_UNIT
from runner.formula.units import UNITS, Unit
from tests.formula.vocabulary import unit_of

MM = UNITS["mm"]


@pytest.mark.parametrize(
    ("text", "unit", "si", "echo"),
    [
        ("1250", "mm", 1.25, "1250 mm"),
        ("1250 mm", "mm", 1.25, "1250 mm"),
        ("1250mm", "mm", 1.25, "1250 mm"),
        ("  1250  ", "mm", 1.25, "1250 mm"),
        ("1.25 m", "mm", 1.25, "1.25 m = 1250 mm"),
        ("49.2 in", "mm", 1.24968, "49.2 in = 1249.68 mm"),
        ("-5", "degC", 268.15, "-5 degC"),
        ("−5", "degC", 268.15, "-5 degC"),
        ("68 degF", "degC", 293.15, "68 degF = 20 degC"),
        ("+3", "1", 3.0, "3"),
        ("1.5e3", "N", 1500.0, "1500 N"),
        (".5", "kg", 0.5, "0.5 kg"),
        ("007", "kg", 7.0, "7 kg"),
        ("80 psi", "bar", 80 * 4.4482216152605 / 0.0254**2, "80 psi = 5.51581 bar"),
        ("35 %", "%", 0.35, "35 %"),
        ("150 N/m", "N/m", 150.0, "150 N/m"),
        ("0", "mm", 0.0, "0 mm"),
        ("-0", "mm", 0.0, "0 mm"),
    ],
)
def test_a_typed_number_is_read_back_with_its_unit(text: str, unit: str, si: float, echo: str) -> None:
    found = read_quantity(text, unit_of(unit))
    assert isinstance(found, Typed), found
    assert found.si == pytest.approx(si, rel=1e-14)
    assert found.echo == echo


@pytest.mark.parametrize(
    ("text", "unit", "words"),
    [
        ("", "mm", "Type a number in mm"),
        ("1,5", "mm", "Is 1,5 1.5? Write it with a point."),
        ("1,250", "mm", "Is 1,250 1.250 or 1250?"),
        ("1.250,5", "mm", "more than one way"),
        ("1,250,000", "mm", "more than one way"),
        ("1.2.3", "mm", "more than one way"),
        ("1 250", "mm", "one number without spaces"),
        ("1_250", "mm", "without marks"),
        ("1'250", "mm", "without marks"),
        ("5.", "mm", "Digits are missing"),
        (".", "mm", "is not a number"),
        ("-", "mm", "is not a number"),
        ("- 5", "mm", "space after the sign"),
        ("--5", "mm", "is not a number"),
        ("inf", "mm", "is not a number"),
        ("nan", "mm", "is not a number"),
        ("1e999", "mm", "too large"),
        ("0x10", "mm", "x10 is no unit"),
        ("１２５０", "mm", "plain digits 0 to 9"),
        ("١٢", "mm", "plain digits 0 to 9"),
        ("12½", "mm", "is no unit"),
        ("5 kg", "mm", "kg measures a mass (kg), but this is a length (mm)"),
        ("5 N", "kg", "N measures a force (N), but this is a mass (kg)"),
        ("6 bar_abs", "bar", "an absolute pressure"),
        ("20 K", "degC", "a temperature difference"),
        ("5 kgg", "kg", "did you mean kg?"),
        ("1250 MM", "mm", "did you mean mm?"),
        ("80 psig", "bar", "what a gauge shows"),
        ("7" * (LONGEST + 1), "mm", "longer than 40"),
        ("5\x1b[31m", "mm", "do not print"),
        ("5\u202e", "mm", "do not print"),
    ],
)
def test_what_is_not_clear_is_asked_about_in_words(text: str, unit: str, words: str) -> None:
    found = read_quantity(text, unit_of(unit))
    assert isinstance(found, Misread), found
    assert words in found.message
    assert found.message.isprintable()


@given(st.text(max_size=60), st.sampled_from(sorted(UNITS)))
def test_anything_typed_is_a_finite_value_or_a_message(text: str, name: str) -> None:
    found = read_quantity(text, UNITS[name])
    if isinstance(found, Typed):
        assert isfinite(found.si)
        assert found.unit.dimension == UNITS[name].dimension
    else:
        assert found.message.isprintable()


@given(st.text(alphabet="0123456789.,-+eE mkg", max_size=12))
def test_a_comma_is_never_guessed_at(text: str) -> None:
    if "," in text:
        assert isinstance(read_quantity(text, MM), Misread)


@pytest.mark.parametrize(
    ("si", "unit", "spec", "text"),
    [
        (437.2, "kg", ".0f", "437 kg"),
        (437.2, "kg", "", "437.2 kg"),
        (1.25, "mm", "", "1250 mm"),
        (7672.5232, "m", "", "7672.52 m"),
        (1234567.0, "m", "", "1234567 m"),
        (0.000012, "um", "", "12 um"),
        (0.0000123456, "m", "", "0.0000123456 m"),
        (1 / 3, "1", "", "0.333333"),
        (-0.0001, "kg", ".0f", "0 kg"),
        (-0.0, "kg", "", "0 kg"),
        (-0.0001, "kg", ".2f", "0.00 kg"),
        (0.35, "%", "", "35 %"),
        (293.15, "degC", ".1f", "20.0 degC"),
        (123.456, "kg", ".4g", "123.5 kg"),
        (2e20, "m", "", "2e+20 m"),
    ],
)
def test_a_value_is_shown_with_its_unit(si: float, unit: str, spec: str, text: str) -> None:
    assert show(si, unit_of(unit), spec) == text


@pytest.mark.parametrize(
    ("spec", "good"),
    [
        (".0f", True),
        (".9f", True),
        (".3g", True),
        (".0g", False),
        ("", False),
        ("d", False),
        (".10f", False),
        ("5.2f", False),
    ],
)
def test_only_two_forms_of_a_shown_number_are_known(spec: str, good: bool) -> None:
    assert is_spec(spec) is good


@given(st.floats(1e-6, 1e14), st.sampled_from([1, -1]))
def test_what_is_shown_reads_back_to_six_digits(size: float, sign: int) -> None:
    text = shown_number(size * sign)
    assert "e" not in text
    assert float(text) == pytest.approx(size * sign, rel=1e-5)


@given(st.floats(allow_nan=False, allow_infinity=False), st.sampled_from(["", ".0f", ".3f", ".2g"]))
def test_zero_is_never_shown_with_a_minus(magnitude: float, spec: str) -> None:
    text = shown_number(magnitude, spec)
    assert float(text) != 0 or not text.startswith("-")


COMPOUND = (
    "1/s",
    "1 / min",
    "m^2",
    "m²",
    "cm³",
    "N·m",
    "N*m",
    "N⋅m",
    "kg*m^2",
    "g/m^2",
    "N/m",
    "m/s/s",
    "lbf/in",
    "oz/yd^2",
    "1/m^2",
    "%/h",
)
ANY_UNIT = st.sampled_from([*sorted(UNITS), *COMPOUND])
JOINED = st.lists(
    st.sampled_from([name for name in UNITS if name != "1" and not UNITS[name].dimension.point]), min_size=1, max_size=4
)


def reads_back(magnitude: float, unit: Unit, spec: str = "") -> None:
    """What is shown and typed again is the number as far as it was shown, in the same unit."""
    shown = show(unit.si(magnitude), unit, spec)
    found = read_quantity(shown, unit)
    assert isinstance(found, Typed), (shown, found)
    step = 10.0 ** -int(spec[1]) if spec.endswith("f") else abs(magnitude) * 1e-5
    assert unit.magnitude(found.si) == pytest.approx(magnitude, abs=step + 1e-9 * (unit.offset / unit.factor) + 1e-300)
    assert show(found.si, unit, spec) == shown


@given(
    ANY_UNIT,
    st.floats(-1e5, 1e5).filter(lambda size: size == 0 or abs(size) > 1e-9),
    st.sampled_from(["", ".0f", ".2f", ".9f", ".7g"]),
)
def test_what_is_shown_in_a_unit_can_be_typed_back_with_it(text: str, magnitude: float, spec: str) -> None:
    reads_back(magnitude, unit_of(text), spec)


@given(JOINED, st.sampled_from("*·⋅/"), st.floats(0.001, 1e6))
def test_what_is_shown_in_a_joined_unit_can_be_typed_back_with_it(
    names: list[str], sign: str, magnitude: float
) -> None:
    text = sign.join(names)
    if len(text) <= LONGEST_UNIT:
        reads_back(magnitude, unit_of(text))


@pytest.mark.parametrize("text", ["5 1/2", "5 1 / 2", "5 1", "5 1/", "51/s", "5 11/s"])
def test_a_second_number_is_no_unit_however_it_goes_on(text: str) -> None:
    assert isinstance(read_quantity(text, unit_of("1/s")), Misread)


def test_a_reciprocal_unit_may_be_typed_behind_its_number() -> None:
    assert read_quantity("5 1/s", unit_of("1/s")) == Typed(5.0, unit_of("1/s"), "5 1/s")
    found = read_quantity("90 1/min", unit_of("1/s"))
    assert isinstance(found, Typed)
    assert (found.si, found.echo) == (1.5, "90 1/min = 1.5 1/s")
