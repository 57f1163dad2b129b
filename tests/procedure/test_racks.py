"""Racks in any unit of mass: pieces are chosen exactly, and alike whatever the unit is called."""

from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from runner.formula.units import UNITS
from runner.procedure.compile import compile_procedure
from runner.procedure.hung import hang
from runner.procedure.model import Procedure, Split

MASS_UNITS = ("kg", "g", "lb", "oz", "t")

TEXT = """format: 1
id: hang
title: Hang the pieces
revision: 1
equipment: Line 3, six-colour flexographic press, 1.3 m web
purpose: The bar has its mass
people: {{unwind: Operator}}
inputs:
  wanted: {{ask: Mass on the bar, unit: "{unit}", within: [0, 100]}}
pieces:
  rack: {{unit: "{unit}", stock: {{{stock}}}}}
calculations:
  mass: {{formula: wanted, unit: "{unit}"}}
  pieces_hung: {{split: mass, from: rack, ends: 2, within: 0.5 {unit}}}
phases:
  - phase: Hang
    steps:
      - {{id: hang, by: unwind, do: "Hang {{pieces_hung}}."}}
"""


def procedure(unit: str, stock: dict[str, int]) -> Procedure:
    written = ", ".join(f'"{mass}": {count}' for mass, count in stock.items())
    compiled = compile_procedure(TEXT.format(unit=unit, stock=written), "hang.procedure.yaml", lambda _: None)
    assert compiled.procedure is not None, compiled.findings
    return compiled.procedure


def split_of(made: Procedure) -> Split:
    return next(one for one in made.calculations if isinstance(one, Split))


def test_a_rack_in_pounds_is_hung_to_the_pound() -> None:
    """1 lb = 0.45359237 kg (exact, 1959; NIST SP 811): 12.5 lb are no whole number of grams."""
    made = procedure("lb", {"5": 4, "2.5": 2, "1.25": 2})
    hung = hang(made, split_of(made), UNITS["lb"].si(12.5))
    assert hung.within
    assert hung.ends == ((("5", 1), ("1.25", 1)), (("5", 1), ("1.25", 1)))
    assert hung.mass == float(Fraction(25, 2) * Fraction(45359237, 10**8))


@pytest.mark.parametrize("unit", MASS_UNITS)
@settings(max_examples=15, deadline=None)
@given(
    stock=st.dictionaries(st.sampled_from(["0.125", "0.5", "1", "2.5", "5"]), st.integers(1, 6), min_size=1),
    wanted=st.integers(0, 400),
)
def test_the_choice_is_the_same_in_every_unit(unit: str, stock: dict[str, int], wanted: int) -> None:
    in_kilograms, here = procedure("kg", stock), procedure(unit, stock)
    expected = hang(in_kilograms, split_of(in_kilograms), wanted / 10)
    found = hang(here, split_of(here), UNITS[unit].si(wanted / 10))
    assert (found.ends, found.within) == (expected.ends, expected.within)
    assert UNITS[unit].magnitude(found.mass) == pytest.approx(expected.mass, rel=1e-12)


@pytest.mark.parametrize("unit", MASS_UNITS)
def test_a_part_of_a_rack_is_a_gram_or_less_than_that(unit: str) -> None:
    rack = procedure(unit, {"1": 1}).racks[0]
    assert Fraction(rack.unit.numerator, rack.unit.divisor) / rack.parts <= Fraction(1, 1000)
    assert rack.stock == (("1", rack.parts, 1),)
