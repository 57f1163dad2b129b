"""Units: every factor against pint and against its definition, conversions there and back, and units that are none."""

from fractions import Fraction
from math import isclose, pi
from typing import Any

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from runner.formula.check import check
from runner.formula.dimension import GRAMMAGE, Dimension, bases, describe
from runner.formula.evaluate import evaluate
from runner.formula.fault import Fault
from runner.formula.kinds import Quantity
from runner.formula.scope import EMPTY
from runner.formula.units import COMMON_SLIPS, LONGEST, NAMED, REAMS, UNITS, Ream, Unit, parse_unit
from tests.formula.vocabulary import tree, unit_of

REGISTRY: Any = pint.UnitRegistry(non_int_type=Fraction)
NOT_IN_PINT_BY_THIS_NAME = {
    "1": "dimensionless", "%": "percent", "thou": "thou", "in": "inch", "µm": "micrometer", "um": "micrometer", "d": "day",
    "gf": "gram_force", "kgf": "kilogram_force", "ozf": "ounce_force", "lbf": "pound_force", "daN": "decanewton",
    "pli": "pound_force/inch", "mpm": "meter/minute", "fpm": "foot/minute", "rpm": "revolution/minute", "turn": "turn",
    "°": "degree", "deg": "degree", "Nm": "newton*meter", "gal": "gallon", "hp": "horsepower", "t": "metric_ton",
    "L": "liter", "l": "liter", "dL": "deciliter", "cL": "centiliter", "mL": "milliliter", "ml": "milliliter",
    "Pa_abs": "pascal", "kPa_abs": "kilopascal", "mbar_abs": "millibar", "bar_abs": "bar", "psi_abs": "psi",
    "degC": "degC", "°C": "degC", "degF": "degF", "°F": "degF", "Hz": "1/second", "min": "minute", "h": "hour",
    "lb": "pound", "oz": "ounce", "ft": "foot", "yd": "yard", "mil": "thou", "K": "kelvin", "g": "gram", "m": "meter",
    "delta_degC": "delta_degC", "delta_degF": "delta_degF",
}  # fmt: skip
"""What the units table calls otherwise than pint does."""


def in_pint(name: str, magnitude: Fraction) -> Any:
    """A quantity of pint in SI base units, its number a quotient of whole numbers."""
    return REGISTRY.Quantity(magnitude, NOT_IN_PINT_BY_THIS_NAME.get(name, name)).to_base_units()


@pytest.mark.parametrize("name", UNITS)
@pytest.mark.parametrize("magnitude", ["0", "1", "37.5", "-40", "1250"])
def test_a_unit_is_what_pint_says_it_is(name: str, magnitude: str) -> None:
    """pint 0.25 as the judge, offsets included: equal as quotients, but for the angles, whose pi is a float here."""
    unit = UNITS[name]
    quantity = in_pint(name, Fraction(magnitude))
    if unit.dimension.angle:
        assert unit.si(float(magnitude)) == pytest.approx(float(quantity.magnitude), rel=1e-15)
    else:
        assert exact_si(unit, Fraction(magnitude)) == quantity.magnitude
    names = {"[length]": "length", "[mass]": "mass", "[time]": "time", "[temperature]": "temperature"}
    exponents: dict[str, Any] = {names[base]: exponent for base, exponent in quantity.dimensionality.items()}
    assert unit.dimension._replace(angle=0, point="") == Dimension(**exponents)


def exact_si(unit: Unit, magnitude: Fraction) -> Fraction:
    """A number of a unit in SI, as a quotient."""
    return magnitude * Fraction(unit.numerator, unit.divisor) + Fraction(unit.offset_numerator, unit.offset_divisor)


@pytest.mark.parametrize("name", UNITS)
@given(st.fractions(-(10**6), 10**6, max_denominator=10**6))
def test_there_and_back_is_the_identity_of_quotients(name: str, magnitude: Fraction) -> None:
    unit = UNITS[name]
    si = exact_si(unit, magnitude)
    back = (si - Fraction(unit.offset_numerator, unit.offset_divisor)) / Fraction(unit.numerator, unit.divisor)
    assert back == magnitude


@pytest.mark.parametrize(
    ("text", "exact"),
    [
        ("in", Fraction(254, 10000)),
        ("ft", Fraction(3048, 10000)),
        ("mil", Fraction(254, 10**7)),
        ("yd", Fraction(9144, 10000)),
        ("lb", Fraction(45359237, 10**8)),
        ("oz", Fraction("0.028349523125")),
        ("kgf", Fraction("9.80665")),
        ("lbf", Fraction("4.4482216152605")),
        ("bar", Fraction(100000)),
        ("lbf/in", Fraction("4.4482216152605") / Fraction("0.0254")),
        ("pli", Fraction("4.4482216152605") / Fraction("0.0254")),
        ("psi", Fraction("4.4482216152605") / Fraction("0.0254") ** 2),
        ("ft/min", Fraction("0.00508")),
        ("gal", Fraction("0.003785411784")),
        ("lb/ft^2", Fraction(45359237, 10**8) / Fraction("0.3048") ** 2),
        ("hp", 550 * Fraction("0.3048") * Fraction("4.4482216152605")),
        ("delta_degF", Fraction(5, 9)),
        ("kgf/cm", Fraction("980.665")),
    ],
)
def test_a_factor_is_exact(text: str, exact: Fraction) -> None:
    """The definitions of 1959 and of NIST SP 811, App. B, as quotients of whole numbers."""
    unit = unit_of(text)
    assert Fraction(unit.numerator, unit.divisor) == exact


SP_811 = {
    "in": 2.54e-2, "ft": 3.048e-1, "yd": 9.144e-1, "mil": 2.54e-5, "lb": 4.535924e-1, "oz": 2.834952e-2, "t": 1.0e3,
    "lbf": 4.448222, "ozf": 2.780139e-1, "kgf": 9.80665, "gf": 9.80665e-3, "psi": 6.894757e3, "bar": 1.0e5, "mbar": 1.0e2,
    "lbf/in": 1.751268e2, "lb/ft^2": 4.882428, "lbf*in": 1.129848e-1, "lbf*ft": 1.355818, "ft/min": 5.08e-3,
    "min": 6.0e1, "h": 3.6e3, "d": 8.64e4, "deg": 1.745329e-2, "turn": 6.283185, "rpm": 1.047198e-1, "hp": 7.456999e2,
    "Wh": 3.6e3, "kWh": 3.6e6, "L": 1.0e-3, "gal": 3.785412e-3, "oz/yd^2": 3.390575e-2, "lb/ft^3": 1.601846e1,
    "lb/in^3": 2.767990e4, "ft^2": 9.290304e-2, "in^2": 6.4516e-4, "in^3": 1.638706e-5,
}  # fmt: skip
"""NIST SP 811 (2008), App. B.8, SI units in one of it: seven digits (the printing from memory, every value recomputed)."""

SAME_AS = {
    "thou": "mil", "°": "deg", "l": "L", "ml": "mL", "µm": "um", "pli": "lbf/in", "fpm": "ft/min", "mpm": "m/min", "Nm": "N*m",
    "Pa_abs": "Pa", "kPa_abs": "kPa", "mbar_abs": "mbar", "bar_abs": "bar", "psi_abs": "psi", "Hz": "1/s", "delta_degC": "K",
}  # fmt: skip
"""Second names of units that are defined elsewhere: their factors are the same. The absolute ones differ by their scale."""

POWERS_OF_TEN = {
    "1": 0, "%": -2, "m": 0, "dm": -1, "cm": -2, "mm": -3, "um": -6, "nm": -9, "km": 3, "kg": 0, "g": -3, "mg": -6, "N": 0, "mN": -3,
    "daN": 1, "kN": 3, "Pa": 0, "hPa": 2, "kPa": 3, "MPa": 6, "GPa": 9, "s": 0, "ms": -3, "rad": 0, "mrad": -3, "J": 0, "kJ": 3,
    "MJ": 6, "W": 0, "kW": 3, "dL": -4, "cL": -5, "mL": -6, "K": 0,
}  # fmt: skip
"""SI Brochure (9th edition, 2019), tables 2, 4, 7 and 8: SI units and prefixes; the litre is a cubic decimetre, % is 0.01 (5.4.7)."""

BY_THEIR_SCALE = {"degC", "°C", "degF", "°F", "delta_degF"}
"""Checked against the formulas of NIST SP 811, B.8, below."""


@pytest.mark.parametrize(("text", "printed"), SP_811.items())
def test_a_factor_prints_as_in_the_guide(text: str, printed: float) -> None:
    assert float(f"{unit_of(text).factor:.6e}") == printed


@pytest.mark.parametrize(("text", "power"), POWERS_OF_TEN.items())
def test_a_prefix_is_its_power_of_ten(text: str, power: int) -> None:
    assert Fraction(unit_of(text).numerator, unit_of(text).divisor) == Fraction(10) ** power


@pytest.mark.parametrize(("name", "same"), SAME_AS.items())
def test_a_second_name_has_the_same_factor(name: str, same: str) -> None:
    unit, other = unit_of(name), unit_of(same)
    assert (unit.numerator, unit.divisor) == (other.numerator, other.divisor)
    assert unit.dimension._replace(point="") == other.dimension._replace(point="")


def test_every_unit_of_the_table_has_a_published_value() -> None:
    assert UNITS.keys() <= SP_811.keys() | SAME_AS.keys() | POWERS_OF_TEN.keys() | BY_THEIR_SCALE
    assert all(name in UNITS for name in (*SAME_AS, *POWERS_OF_TEN, *BY_THEIR_SCALE))


@pytest.mark.parametrize(("fahrenheit", "kelvin"), [(-459.67, 0.0), (-40.0, 233.15), (32.0, 273.15), (212.0, 373.15)])
def test_a_fahrenheit_temperature_is_its_kelvin(fahrenheit: float, kelvin: float) -> None:
    """NIST SP 811, App. B.8: T/K = (t/degF + 459.67) / 1.8."""
    assert UNITS["degF"].si(fahrenheit) == pytest.approx(kelvin, abs=1e-12)
    assert UNITS["degC"].si(UNITS["degC"].magnitude(UNITS["degF"].si(fahrenheit))) == pytest.approx(kelvin, abs=1e-12)


GRAMMAGE_OF_A_POUND = {
    "writing papers": 3.759730, "cover papers": 2.704114, "bristol": 2.192810, "index": 1.807958, "book papers": 1.480146,
    "newsprint and kraft": 1.627476, "board": 4.882428,
}  # fmt: skip
"""printwiki.org/Grammage prints 3.760, 2.704, 1.480, 1.627; ream sizes ivexsp.com; all recomputed."""


@pytest.mark.parametrize("ream", REAMS, ids=lambda ream: ream.papers)
def test_a_ream_turns_pounds_into_grammage(ream: Ream) -> None:
    expr = tree(f"1 [lb] / ({ream.formula})")
    checked = check(expr, {})
    assert isinstance(checked.kind, Quantity)
    assert checked.kind.dimension == GRAMMAGE
    found = evaluate(expr, {}, EMPTY)
    assert isinstance(found, float)
    assert unit_of("g/m^2").magnitude(found) == pytest.approx(GRAMMAGE_OF_A_POUND[ream.papers], abs=1e-6)


@given(st.sampled_from(sorted(UNITS)), st.floats(-1e6, 1e6))
def test_there_and_back_is_the_same_number(name: str, magnitude: float) -> None:
    unit = UNITS[name]
    back = unit.magnitude(unit.si(magnitude))
    assert isclose(back, magnitude, rel_tol=1e-12, abs_tol=1e-12 * unit.offset / unit.factor + 1e-300)


@given(st.integers(1, 99999))
def test_millimetres_and_metres_of_the_same_length_are_the_same_float(millimetres: int) -> None:
    """9 * 0.001 is not 0.009 in floats; a limit must not depend on the unit that it is written in."""
    assert UNITS["mm"].si(float(millimetres)) == UNITS["m"].si(millimetres / 1000)


def test_a_right_angle_is_half_of_pi() -> None:
    assert UNITS["deg"].si(90) == pi / 2
    assert UNITS["turn"].si(1) == 2 * pi


@pytest.mark.parametrize(
    ("text", "same_as"),
    [
        ("N/m", "kg/s^2"), ("g/m²", "g/m^2"), ("g / m^2", "g/m²"), ("kg·m", "kg*m"), ("m/s/s", "m/s^2"), ("N*m", "Nm"),
        ("cm³", "mL"), ("1/s", "Hz"), ("lbf/in", "pli"), ("turn/min", "rpm"), ("kg*m/s^2", "N"), ("dm³", "L"), (" mm ", "mm"),
        ("N⋅m", "N*m"), ("μm", "µm"), ("1 / s", "1/s"),
    ],
)  # fmt: skip
def test_one_unit_may_be_written_in_several_ways(text: str, same_as: str) -> None:
    assert unit_of(text)._replace(text="") == unit_of(same_as)._replace(text="")


@pytest.mark.parametrize(
    ("text", "start", "end", "words"),
    [
        ("", 0, 0, "no unit"),
        ("kgg", 0, 3, "kgg is no unit"),
        ("N/", 2, 2, "missing"),
        ("/m", 0, 1, "missing"),
        ("N//m", 2, 3, "missing"),
        ("N/m*s", 3, 4, "unclear"),
        ("m^5", 1, 3, "whole number from 1 to 4"),
        ("m^-2", 1, 4, "whole number from 1 to 4"),
        ("m^22", 1, 4, "whole number from 1 to 4"),
        ("N m", 2, 3, "does not belong"),
        ("degC/m", 0, 4, "point on a scale"),
        ("m*degC", 2, 6, "point on a scale"),
        ("kn", 0, 2, "kn is no unit"),
        ("x" * (LONGEST + 1), LONGEST, LONGEST + 1, "no longer"),
        ("kg\x1b[31m", 0, 7, "is no unit"),
        ("lb/3000ft^2", 3, 9, "has a number in it"),
        ("1*m", 0, 1, "before a /"),
        ("m/1", 2, 3, "before a /"),
        ("1/1", 2, 3, "before a /"),
        ("1^2", 0, 3, "before a /"),
    ],
)
def test_what_is_no_unit_says_where_and_why(text: str, start: int, end: int, words: str) -> None:
    found = parse_unit(text)
    assert isinstance(found, Fault)
    assert (found.start, found.end) == (start, end)
    assert words in found.message
    assert found.message.isprintable()


@pytest.mark.parametrize("slip", COMMON_SLIPS)
def test_a_common_slip_is_told_what_to_write(slip: str) -> None:
    found = parse_unit(slip)
    assert isinstance(found, Fault)
    assert found.hint == COMMON_SLIPS[slip]


@given(st.text(max_size=50))
def test_any_text_is_a_unit_or_a_fault_inside_it(text: str) -> None:
    found = parse_unit(text)
    if isinstance(found, Fault):
        assert 0 <= found.start <= found.end <= len(text)


@given(st.text(alphabet="kgmNs/*^·² 1234", max_size=20))
def test_any_mixture_of_unit_signs_is_a_unit_or_a_fault(text: str) -> None:
    found = parse_unit(text)
    assert isinstance(found, Unit | Fault)


@pytest.mark.parametrize(
    ("text", "hint"), [("g/m2", "m^2"), ("kg/m3", "m^3"), ("in2", "in^2"), ("lb/ream", "area of the ream")]
)
def test_a_power_without_its_sign_and_a_ream_are_told_what_to_write(text: str, hint: str) -> None:
    found = parse_unit(text)
    assert isinstance(found, Fault)
    assert hint in found.hint


def test_every_name_is_there_once() -> None:
    names = [name for name, *_ in NAMED]
    assert len(names) == len(set(names))
    assert not set(names) & COMMON_SLIPS.keys()
    assert len(UNITS) >= 80


def test_kilograms_are_no_force_and_gauge_is_not_absolute() -> None:
    assert UNITS["kg"].dimension != UNITS["kgf"].dimension
    assert UNITS["bar"].dimension != UNITS["bar_abs"].dimension
    assert UNITS["degC"].dimension != UNITS["K"].dimension
    assert UNITS["rpm"].dimension != unit_of("1/min").dimension


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("N", "a force (N)"), ("g/m^2", "a mass per area (kg/m^2)"), ("lb/in^4", "a quantity in kg/m^4"),
        ("bar_abs", "an absolute pressure (Pa_abs)"), ("%", "a plain number"), ("rpm", "a speed of rotation (rad/s)"),
        ("kg*m/s^4", "a quantity in kg*m/s^4"), ("1/kg", "a quantity in 1/kg"),
    ],
)  # fmt: skip
def test_a_dimension_is_described_with_a_unit_of_it(text: str, words: str) -> None:
    assert describe(unit_of(text).dimension) == words


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("mm", "a length (mm)"), ("kgf", "a force (kgf)"), ("g / m^2", "a mass per area (g / m^2)"), ("lb/in^4", "a quantity in lb/in^4"),
        ("%", "a plain number (%)"), ("1", "a plain number"), ("degF", "a temperature (degF)"), ("rpm", "a speed of rotation (rpm)"),
    ],
)  # fmt: skip
def test_a_dimension_is_described_in_the_authors_unit(text: str, words: str) -> None:
    unit = unit_of(text)
    assert describe(unit.dimension, unit.text) == words


@pytest.mark.parametrize("name", UNITS)
def test_the_unit_named_by_a_description_has_that_dimension(name: str) -> None:
    dimension = UNITS[name].dimension
    _, opened, rest = describe(dimension).partition("(")
    if opened:
        assert unit_of(rest.rstrip(")")).dimension == dimension
    if not dimension.point and bases(dimension) != "1":
        assert unit_of(bases(dimension)).dimension == dimension
