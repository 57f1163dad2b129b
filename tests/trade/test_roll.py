"""Rolls: published examples, the regression set worked out by independent code, and laws of the geometry."""

from math import pi

import pytest
from hypothesis import given
from hypothesis import strategies as st

from runner.trade import roll

DIAMETERS = st.floats(0.05, 1.5)
CALIPERS = st.floats(1e-5, 1e-3)


def test_a_carpet_of_radii_12_and_4_cm_and_1_cm_thick_is_128_pi_cm_long() -> None:
    """mathforum.org/library/drmath/view/56471.html: 128 pi cm^2 over 1 cm (the page prints 401.92 with pi 3.14)."""
    assert roll.roll_length(0.24, 0.08, 0.01) == pytest.approx(1.28 * pi)
    assert roll.roll_length(0.24, 0.08, 0.01) == pytest.approx(4.02124, abs=1e-5)


@pytest.mark.parametrize(
    ("outer", "core", "caliper", "length"),
    [
        (0.400, 0.076, 90e-6, 1345.858),
        (1.000, 0.076, 60e-6, 13014.362),
        (1.250, 0.1524, 100e-6, 12089.432),
        (1.000, 0.076, 104e-6, 7508.286),
        (0.800, 0.1524, 20e-6, 24220.668),
    ],
)
def test_lengths_agree_with_independent_code(outer: float, core: float, caliper: float, length: float) -> None:
    """Derived with independent code from L = pi (D^2 - d^2) / (4 t), printers' association text, wiki.hpv-ev.org/lf02/05."""
    assert roll.roll_length(outer, core, caliper) == pytest.approx(length, abs=6e-4)
    assert roll.outer_diameter(length, core, caliper) == pytest.approx(outer, abs=1e-6)
    assert roll.caliper_from_length(length, outer, core) == pytest.approx(caliper, rel=1e-6)


def test_the_diameter_is_the_way_back_from_the_length() -> None:
    """Derived: d 76.2 mm, t 50 um, L 5000 m gives 569.312 mm; 1000 m off the 7508 m roll leaves 931.441 mm."""
    assert roll.outer_diameter(5000, 0.0762, 50e-6) == pytest.approx(0.569312, abs=1e-6)
    left = roll.roll_length(1.0, 0.076, 104e-6) - 1000
    assert roll.outer_diameter(left, 0.076, 104e-6) == pytest.approx(0.931441, abs=1e-6)


def test_turns_times_the_mean_circumference_are_the_length() -> None:
    """Argonne "Ask a Scientist" math99015: L = pi N (D + d) / 2 with N = (D - d) / (2 t); derived: 7700 turns."""
    turns = roll.turns(1.0, 0.076, 60e-6)
    assert turns == pytest.approx(7700)
    assert pi * turns * (1.0 + 0.076) / 2 == pytest.approx(roll.roll_length(1.0, 0.076, 60e-6))


def test_laying_the_turns_down_one_by_one_comes_to_the_same_length() -> None:
    """The sum of the circles in the middle of each turn, which knows nothing of the formula."""
    outer, core, caliper = 0.4, 0.076, 90e-6
    summed = sum(pi * (core + (2 * turn + 1) * caliper) for turn in range(round(roll.turns(outer, core, caliper))))
    assert summed == pytest.approx(roll.roll_length(outer, core, caliper))


@pytest.mark.parametrize(
    ("grammage", "density", "width", "outer", "core", "caliper", "mass"),
    [(0.080, 0.080 / 104e-6, 1.0, 1.0, 0.076, 104e-6, 600.663), (0.0181, 905.0, 0.9, 0.8, 0.1524, 20e-6, 394.555)],
)
def test_the_mass_by_grammage_and_by_density_agree(
    grammage: float, density: float, width: float, outer: float, core: float, caliper: float, mass: float
) -> None:
    """Derived with independent code; the two forms must agree when G = rho t (ISO 536 and ISO 534 define the terms)."""
    length = roll.roll_length(outer, core, caliper)
    assert roll.mass_from_grammage(grammage, width, length) == pytest.approx(mass, abs=6e-4)
    assert roll.mass_from_density(density, width, outer, core) == pytest.approx(mass, abs=6e-4)


def test_a_sheet_of_61_by_86_cm_at_80_grams_weighs_41_97_g() -> None:
    """laser-line.de, "Papiergewicht"."""
    assert roll.mass_from_grammage(0.080, 0.61, 0.86) == pytest.approx(0.04197, abs=5e-6)


def test_taking_the_inside_of_the_core_for_its_outside_costs_mass() -> None:
    """Derived: d 106 instead of 76 mm makes 597.36 kg of 600.66 kg."""
    assert roll.mass_from_density(0.080 / 104e-6, 1.0, 1.0, 0.106) == pytest.approx(597.36, abs=0.01)


def test_a_core_of_76_and_106_mm_weighs_3_kg_a_metre() -> None:
    """Derived: tube 76/106 mm, 1 m, 700 kg/m^3."""
    assert roll.tube_mass(0.106, 0.076, 1.0, 700) == pytest.approx(3.002, abs=5e-4)


def test_the_roll_lasts_its_length_over_the_speed() -> None:
    """Derived: 7508.286 m at 200 m/min last 37.541 min."""
    assert roll.run_time(7508.286, 200 / 60) / 60 == pytest.approx(37.541, abs=5e-4)


def test_the_inertia_of_a_roll_is_that_of_a_hollow_cylinder() -> None:
    """Derived: 600.663 kg, R 0.5 m, r 0.038 m. A ring alone (m D^2) would be four times too much."""
    assert roll.roll_inertia(600.663, 1.0, 0.076) == pytest.approx(75.517, abs=5e-4)


@given(st.lists(DIAMETERS, min_size=3, max_size=3), CALIPERS)
def test_the_length_is_the_sum_of_the_lengths_of_its_rings(diameters: list[float], caliper: float) -> None:
    core, middle, outer = sorted(diameters)
    parts = roll.roll_length(middle, core, caliper) + roll.roll_length(outer, middle, caliper)
    assert roll.roll_length(outer, core, caliper) == pytest.approx(parts, rel=1e-9, abs=1e-9)


@given(st.floats(0, 50000), DIAMETERS, CALIPERS)
def test_length_and_diameter_undo_each_other(length: float, core: float, caliper: float) -> None:
    outer = roll.outer_diameter(length, core, caliper)
    assert roll.roll_length(outer, core, caliper) == pytest.approx(length, rel=1e-6, abs=1e-6)


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: roll.roll_length(0.1, 0.2, 1e-4), "smaller than its core"),
        (lambda: roll.roll_length(0.2, 0.1, 0.0), "thickness of the web"),
        (lambda: roll.roll_length(0.2, -0.1, 1e-4), "negative diameter"),
        (lambda: roll.outer_diameter(-1.0, 0.1, 1e-4), "cannot be negative"),
        (lambda: roll.outer_diameter(1.0, -0.1, 1e-4), "negative diameter"),
        (lambda: roll.caliper_from_length(0.0, 0.2, 0.1), "above zero"),
        (lambda: roll.run_time(100.0, 0.0), "speed must be above zero"),
        (lambda: roll.run_time(-1.0, 1.0), "cannot be negative"),
        (lambda: roll.mass_from_grammage(-0.1, 1.0, 1.0), "cannot be negative"),
        (lambda: roll.mass_from_density(-1.0, 1.0, 0.2, 0.1), "cannot be negative"),
        (lambda: roll.roll_inertia(-1.0, 0.2, 0.1), "cannot be negative"),
    ],
)
def test_outside_its_range_each_function_says_why(call, words: str) -> None:  # type: ignore[no-untyped-def]
    with pytest.raises(ValueError, match=words):
        call()
