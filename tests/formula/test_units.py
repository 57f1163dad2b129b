"""Units: every factor against pint and against its definition, conversions there and back, and units that are none."""

from fractions import Fraction
from math import isclose, pi
from typing import Any

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from runner.formula.dimension import Dimension, bases, describe
from runner.formula.fault import Fault
from runner.formula.units import COMMON_SLIPS, LONGEST, NAMED, UNITS, Unit, parse_unit
from tests.formula.vocabulary import unit_of

REGISTRY: Any = pint.UnitRegistry()
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


@pytest.mark.parametrize("name", UNITS)
@pytest.mark.parametrize("magnitude", [0.0, 1.0, 37.5, -40.0, 1250.0])
def test_a_unit_is_what_pint_says_it_is(name: str, magnitude: float) -> None:
    """pint 0.25 as the judge, offsets included."""
    unit = UNITS[name]
    quantity = REGISTRY.Quantity(magnitude, NOT_IN_PINT_BY_THIS_NAME.get(name, name)).to_base_units()
    assert unit.si(magnitude) == pytest.approx(quantity.magnitude, rel=1e-12, abs=1e-12)
    names = {"[length]": "length", "[mass]": "mass", "[time]": "time", "[temperature]": "temperature"}
    exponents = {names[base]: exponent for base, exponent in quantity.dimensionality.items()}
    assert unit.dimension._replace(angle=0, point="") == Dimension(**exponents)


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


@pytest.mark.parametrize(
    ("text", "printed"),
    [
        ("lbf/in", 1.751268e2),
        ("psi", 6.894757e3),
        ("lbf", 4.448222),
        ("lb", 4.535924e-1),
        ("oz", 2.834952e-2),
        ("hp", 7.456999e2),
        ("gal", 3.785412e-3),
        ("lb/ft^2", 4.882428),
        ("lbf*in", 1.129848e-1),
        ("lbf*ft", 1.355818),
        ("ft/min", 5.08e-3),
        ("deg", 1.745329e-2),
        ("rpm", 1.047198e-1),
        ("kgf", 9.80665),
    ],
)
def test_a_factor_prints_as_in_the_guide(text: str, printed: float) -> None:
    """NIST SP 811 (2008), App. B.8: seven digits (the printing from memory, every value recomputed)."""
    assert float(f"{unit_of(text).factor:.6e}") == printed


@pytest.mark.parametrize(("fahrenheit", "kelvin"), [(-459.67, 0.0), (-40.0, 233.15), (32.0, 273.15), (212.0, 373.15)])
def test_a_fahrenheit_temperature_is_its_kelvin(fahrenheit: float, kelvin: float) -> None:
    """NIST SP 811, App. B.8: T/K = (t/degF + 459.67) / 1.8."""
    assert UNITS["degF"].si(fahrenheit) == pytest.approx(kelvin, abs=1e-12)
    assert UNITS["degC"].si(UNITS["degC"].magnitude(UNITS["degF"].si(fahrenheit))) == pytest.approx(kelvin, abs=1e-12)


@pytest.mark.parametrize(
    ("ream", "factor"),
    [
        ("17 [in] * 22 [in]", 3.759730), ("20 [in] * 26 [in]", 2.704114), ("25 [in] * 38 [in]", 1.480146),
        ("24 [in] * 36 [in]", 1.627476), ("22.5 [in] * 28.5 [in]", 2.192810), ("25.5 [in] * 30.5 [in]", 1.807958),
    ],
)  # fmt: skip
def test_a_ream_of_500_sheets_turns_pounds_into_grammage(ream: str, factor: float) -> None:
    """printwiki.org/Grammage prints 3.760, 2.704, 1.480, 1.627; ream sizes ivexsp.com; all recomputed."""
    from runner.formula.evaluate import evaluate
    from runner.formula.scope import EMPTY
    from tests.formula.vocabulary import tree

    found = evaluate(tree(f"1 [lb] / (500 * {ream})"), {}, EMPTY)
    assert isinstance(found, float)
    assert unit_of("g/m^2").magnitude(found) == pytest.approx(factor, abs=1e-6)


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
def test_a_dimension_is_described_in_the_authors_units(text: str, words: str) -> None:
    assert describe(unit_of(text).dimension) == words


@pytest.mark.parametrize("name", UNITS)
def test_the_unit_named_by_a_description_has_that_dimension(name: str) -> None:
    dimension = UNITS[name].dimension
    _, opened, rest = describe(dimension).partition("(")
    if opened:
        assert unit_of(rest.rstrip(")")).dimension == dimension
    if not dimension.point and bases(dimension) != "1":
        assert unit_of(bases(dimension)).dimension == dimension
