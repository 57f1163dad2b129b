"""Repairs: every factor leads from one dimension to the other, and what is told can be written and then fits."""

import pytest

from runner.formula.check import check
from runner.formula.dimension import FORCE, INERTIA, MASS, NUMBER, SPEED, TIME, Dimension, bases, divide, unit_of
from runner.formula.kinds import Kind, Quantity
from runner.formula.repairs import LONGEST, REPAIRS, Repair, as_factor, clash, repair
from runner.formula.units import UNITS
from tests.formula.vocabulary import tree
from tests.formula.vocabulary import unit_of as parsed_unit

NAMES: dict[str, Kind] = {"diameter": Quantity(UNITS["mm"].dimension)}


def one(dimension: Dimension) -> str:
    """A value of a dimension, as a formula."""
    return f"1 [{unit_of(dimension)}]"


def dimension_of(formula: str) -> Dimension:
    checked = check(tree(formula), NAMES)
    assert checked.faults == ()
    assert isinstance(checked.kind, Quantity)
    return checked.kind.dimension


@pytest.mark.parametrize("row", REPAIRS, ids=lambda row: f"{bases(row.low)} to {bases(row.high)}")
def test_a_factor_is_the_quotient_of_both_dimensions(row: Repair) -> None:
    assert divide(row.high, row.low) == row.factor
    assert (
        dimension_of(f"{one(row.low)} * 1 [{bases(row.factor)}]" if row.factor.length >= 0 else one(row.high))
        == row.high
    )


@pytest.mark.parametrize("row", [row for row in REPAIRS if "write" in row.up], ids=lambda row: row.up)
def test_a_formula_that_is_told_fits_once_it_is_written(row: Repair) -> None:
    up = row.up.format(one(row.low)).removeprefix("write ").partition(" for ")[0]
    down = row.down.format(one(row.high)).removeprefix("write ").partition(" for ")[0]
    assert dimension_of(up) == row.high
    assert dimension_of(down) == row.low


@pytest.mark.parametrize("row", REPAIRS, ids=lambda row: f"{bases(row.low)} to {bases(row.high)}")
def test_each_way_that_has_words_is_found(row: Repair) -> None:
    """No row is hidden behind one before it."""
    assert repair(row.low, row.high) == ((row, True) if row.up else None)
    assert repair(row.high, row.low) == (row, False)
    assert "{}" not in clash(row.high, row.low, "x")
    assert len(clash(row.high, row.low, "x" * LONGEST)) < 600, "the desk shortens what is longer"


def test_the_difference_of_mass_and_force_is_standard_gravity_and_of_speed_and_time_nothing() -> None:
    assert clash(MASS, FORCE, "bar_mass") == "a mass pulls with its weight: write bar_mass * g_n"
    assert clash(FORCE, MASS, "a + b") == "a mass pulls with its weight: write (a + b) / g_n for the mass"
    assert clash(SPEED, TIME) == ""  # m/s and s are an acceleration apart, which nobody means


def test_pounds_times_an_area_are_told_of_every_ream() -> None:
    hint = clash(INERTIA, MASS, "basis * web_width * web_length")
    assert all(size in hint for size in ("17 [in] * 22 [in]", "25 [in] * 38 [in]", "24 [in] * 36 [in]", "1000 [ft^2]"))


def test_a_plain_number_is_had_by_dividing_by_its_like() -> None:
    assert (
        clash(parsed_unit("mm").dimension, NUMBER, "gap")
        == "a plain number is left when it is divided by its like, as in gap / 1 [m]"
    )


@pytest.mark.parametrize(
    ("words", "factor"),
    [
        ("bar_mass", "bar_mass"), ("a * b", "a * b"), ("a + b", "(a + b)"), ("-a", "(-a)"), ("3.2 [kg]", "3.2 [kg]"), ("", "(...)"),
        ("x" * (LONGEST + 1), "(...)"),
    ],
)  # fmt: skip
def test_a_part_of_a_formula_keeps_its_meaning_before_a_factor(words: str, factor: str) -> None:
    assert as_factor(words) == factor
