"""Bending: the beam tables, the beam equation integrated by scipy, and the order of its load cases."""

from math import pi

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import dblquad, quad

from runner.trade import stiffness
from runner.trade.tension import STANDARD_GRAVITY

STEEL = 200e9
TUBE = stiffness.tube_second_moment(0.076, 0.060)
LOAD = 600 * STANDARD_GRAVITY


def test_the_tube_of_76_and_60_mm_has_the_second_moment_worked_out() -> None:
    """Derived: 1.0014895e-6 m^4. scipy sums y^2 dA over the ring as the judge."""
    assert pytest.approx(1.0014895e-6, abs=5e-14) == TUBE
    integral, _ = dblquad(lambda r, _: r**3 / 2, 0, 2 * pi, 0.030, 0.038)  # mean of sin^2 over a turn is a half
    assert pytest.approx(integral, rel=1e-9) == TUBE


@pytest.mark.parametrize(("loaded", "sag"), [(1.6, 1.5667), (1.0, 2.0937), (0.0, 2.5068)])
def test_a_shaft_under_600_kg_sags_as_worked_out(loaded: float, sag: float) -> None:
    """Derived from the AISC beam tables (2005): 600 kg over the span of 1.6 m, over its middle 1.0 m, on one point; mm."""
    assert stiffness.sag(LOAD, loaded, 1.6, STEEL, TUBE) * 1000 == pytest.approx(sag, abs=5e-5)


def test_the_ends_of_the_partial_load_are_the_two_formulas_of_the_tables() -> None:
    """AISC Manual (2005), via onlinestructuraldesign.com: 5 w L^4 / (384 E I) and P L^3 / (48 E I)."""
    uniform, point = 5 * LOAD * 1.6**3 / (384 * STEEL * TUBE), LOAD * 1.6**3 / (48 * STEEL * TUBE)
    assert stiffness.sag(LOAD, 1.6, 1.6, STEEL, TUBE) == pytest.approx(uniform, rel=1e-12)
    assert stiffness.sag(LOAD, 0.0, 1.6, STEEL, TUBE) == pytest.approx(point, rel=1e-12)


def test_a_roof_beam_sags_28_mm() -> None:
    """Derived: 2000 N/m over 6 m, 200 GPa, 6e-6 m^4."""
    assert stiffness.sag(12000, 6, 6, 200e9, 6e-6) == pytest.approx(0.028125)


@pytest.mark.parametrize("loaded", [0.2, 1.0, 1.5])
def test_the_unit_load_method_gives_the_same_sag(loaded: float) -> None:
    """scipy as the judge: the integral of the moment times that of a unit load at the middle, over E I."""
    span, edge = 1.6, (1.6 - loaded) / 2

    def moment(x: float) -> float:
        return LOAD * x / 2 - (LOAD / loaded * (x - edge) ** 2 / 2 if x > edge else 0.0)

    integral, _ = quad(lambda x: moment(x) * x / 2, 0, span / 2, points=[edge])
    sag = 2 * integral / (STEEL * TUBE)
    assert stiffness.sag(LOAD, loaded, span, STEEL, TUBE) == pytest.approx(sag, rel=1e-9)


def test_a_cantilever_sags_by_the_handbook() -> None:
    """Machinery's Handbook, via converteraccessory.com/ss/case10.htm: W L^3 / (8 E I); the unit load method as the judge."""
    integral, _ = quad(lambda x: (LOAD / 1.6 * x**2 / 2) * x, 0, 1.6)
    assert stiffness.cantilever_sag(LOAD, 1.6, STEEL, TUBE) == pytest.approx(integral / (STEEL * TUBE), rel=1e-9)


@given(st.floats(0.2, 3), st.floats(0.01, 0.99), st.floats(1, 10000))
def test_a_spread_load_sags_less_than_a_narrow_one_and_a_point_the_most(
    span: float, share: float, force: float
) -> None:
    uniform, partial, point = (stiffness.sag(force, c, span, STEEL, TUBE) for c in (span, share * span, 0.0))
    assert uniform < partial < point
    assert point == pytest.approx(uniform * 1.6, rel=1e-9)
    assert stiffness.cantilever_sag(force, span, STEEL, TUBE) > point, "held at one end it sags most"


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: stiffness.tube_second_moment(0.060, 0.076), "wider inside than outside"),
        (lambda: stiffness.tube_second_moment(0.060, -0.01), "negative diameter"),
        (lambda: stiffness.sag(1, 2, 1, STEEL, TUBE), "within the span"),
        (lambda: stiffness.sag(1, -1, 1, STEEL, TUBE), "within the span"),
        (lambda: stiffness.sag(1, 1, 1, 0.0, TUBE), "above zero"),
        (lambda: stiffness.cantilever_sag(1, -1, STEEL, TUBE), "cannot be negative"),
        (lambda: stiffness.cantilever_sag(1, 1, STEEL, 0.0), "above zero"),
    ],
)
def test_outside_its_range_each_function_says_why(call, words: str) -> None:  # type: ignore[no-untyped-def]
    with pytest.raises(ValueError, match=words):
        call()
