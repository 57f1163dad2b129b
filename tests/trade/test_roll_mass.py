"""The mass of a roll two ways: they agree where they should, and where they do not, the share is right."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from runner.trade import roll, roll_mass

MASSES = st.floats(0, 5000)


@pytest.mark.parametrize(
    ("grammage", "density", "width", "outer", "core", "caliper", "mass"),
    [(0.080, 0.080 / 104e-6, 1.0, 1.0, 0.076, 104e-6, 600.663), (0.0181, 905.0, 0.9, 0.8, 0.1524, 20e-6, 394.555)],
)
def test_the_mass_by_grammage_and_by_density_agree(
    grammage: float, density: float, width: float, outer: float, core: float, caliper: float, mass: float
) -> None:
    """Derived with independent code; the two forms must agree when G = rho t (ISO 536 and ISO 534 define the terms)."""
    by_grammage = roll_mass.mass_from_grammage(grammage, width, roll.roll_length(outer, core, caliper))
    by_density = roll_mass.mass_from_density(density, width, outer, core)
    assert by_grammage == pytest.approx(mass, abs=6e-4)
    assert by_density == pytest.approx(mass, abs=6e-4)
    assert roll_mass.disagreement(by_grammage, by_density) < 1e-12


def test_a_sheet_of_61_by_86_cm_at_80_grams_weighs_41_97_g() -> None:
    """laser-line.de, "Papiergewicht"."""
    assert roll_mass.mass_from_grammage(0.080, 0.61, 0.86) == pytest.approx(0.04197, abs=5e-6)


def test_taking_the_inside_of_the_core_for_its_outside_costs_mass() -> None:
    """Derived: d 106 instead of 76 mm makes 597.36 kg of 600.66 kg."""
    assert roll_mass.mass_from_density(0.080 / 104e-6, 1.0, 1.0, 0.106) == pytest.approx(597.36, abs=0.01)


def test_a_core_of_76_and_106_mm_weighs_3_kg_a_metre() -> None:
    """Derived: tube 76/106 mm, 1 m, 700 kg/m^3."""
    assert roll_mass.tube_mass(0.106, 0.076, 1.0, 700) == pytest.approx(3.002, abs=5e-4)


@given(st.floats(0.2, 1.5), st.floats(0.05, 0.2), st.floats(1e-5, 4e-4), st.floats(0.1, 1.3), st.floats(-0.2, 0.2))
def test_a_wrong_thickness_shows_as_its_own_share(
    outer: float, core: float, caliper: float, width: float, wrong: float
) -> None:
    """The density does not know the thickness, the length does: a factor on it is the whole disagreement."""
    by_grammage = roll_mass.mass_from_grammage(0.08, width, roll.roll_length(outer, core, caliper * (1 + wrong)))
    by_density = roll_mass.mass_from_density(0.08 / caliper, width, outer, core)
    expected = 1 - min(1 + wrong, 1 / (1 + wrong))
    if outer - core > 1e-3:
        assert roll_mass.disagreement(by_grammage, by_density) == pytest.approx(expected, abs=1e-9)


@given(MASSES, MASSES)
def test_a_disagreement_does_not_mind_the_order_and_lies_between_0_and_1(a: float, b: float) -> None:
    found = roll_mass.disagreement(a, b)
    assert found == roll_mass.disagreement(b, a)
    assert 0 <= found <= 1
    assert found * max(a, b) == pytest.approx(abs(a - b), rel=1e-9, abs=1e-9)


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: roll_mass.mass_from_grammage(-0.1, 1.0, 1.0), "cannot be negative"),
        (lambda: roll_mass.mass_from_density(-1.0, 1.0, 0.2, 0.1), "cannot be negative"),
        (lambda: roll_mass.mass_from_density(1.0, 1.0, 0.1, 0.2), "smaller than its core"),
        (lambda: roll_mass.tube_mass(0.1, 0.2, 1.0, 700), "wider inside than outside"),
        (lambda: roll_mass.tube_mass(0.1, -0.2, 1.0, 700), "negative diameter"),
        (lambda: roll_mass.disagreement(-1.0, 1.0), "cannot be negative"),
    ],
)
def test_outside_its_range_each_function_says_why(call, words: str) -> None:  # type: ignore[no-untyped-def]
    with pytest.raises(ValueError, match=words):
        call()
