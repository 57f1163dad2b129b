"""Rolls: published examples, the regression set worked out by independent code, and laws of the geometry."""

from fractions import Fraction
from math import pi

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad

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
    assert roll.diameter_after(1.0, 1000, 0.076, 104e-6) == pytest.approx(0.931441, abs=1e-6)


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


def test_the_sum_of_inside_circumferences_is_a_little_short() -> None:
    """Derived: 13 012.910 m by the inside of each turn against 13 014.362 m by its middle."""
    inside = sum(pi * (0.076 + 2 * turn * 60e-6) for turn in range(7700))
    assert inside == pytest.approx(13012.910, abs=6e-4)
    assert inside < roll.roll_length(1.0, 0.076, 60e-6)


def test_the_length_is_the_integral_over_the_radius() -> None:
    """scipy as the judge: a spiral whose radius grows by its thickness a turn has 2 pi r dr / t of web at r."""
    integral, _ = quad(lambda radius: 2 * pi * radius / 104e-6, 0.038, 0.5)
    assert roll.roll_length(1.0, 0.076, 104e-6) == pytest.approx(integral, rel=1e-12)


@pytest.mark.parametrize(
    ("change", "share"),
    [((0.005, 0.0, 0.0), 1.008), ((0.0, 0.0, 2e-6), -1.887)],
)
def test_the_thickness_is_the_input_to_doubt(change: tuple[float, float, float], share: float) -> None:
    """Derived, in percent of 7508 m: 5 mm more outside, 2 um more thickness."""
    before = roll.roll_length(1.0, 0.076, 104e-6)
    after = roll.roll_length(1.0 + change[0], 0.076 + change[1], 104e-6 + change[2])
    assert (after / before - 1) * 100 == pytest.approx(share, abs=6e-4)
    assert roll.roll_length(1.0, 0.070, 104e-6) - before == pytest.approx(6.6, abs=0.05)


@pytest.mark.parametrize(("width_mm", "tolerance_mm"), [(300, 2), (400, 2), (500, 2.5), (600, 3), (1000, 3), (1300, 3)])
def test_a_reel_for_printing_has_the_printed_tolerance(width_mm: float, tolerance_mm: float) -> None:
    """DIN 19306-1 as printed by wiki.hpv-ev.org/lf02/05: half a percent, 2 to 3 mm; 1000 mm is its example, the rest derived."""
    exact = min(max(Fraction(width_mm) / 200, Fraction(2)), Fraction(3))
    assert float(exact) == tolerance_mm
    assert roll.width_tolerance(width_mm / 1000) == pytest.approx(tolerance_mm / 1000)


@given(st.lists(DIAMETERS, min_size=3, max_size=3), CALIPERS)
def test_the_length_is_the_sum_of_the_lengths_of_its_rings(diameters: list[float], caliper: float) -> None:
    core, middle, outer = sorted(diameters)
    parts = roll.roll_length(middle, core, caliper) + roll.roll_length(outer, middle, caliper)
    assert roll.roll_length(outer, core, caliper) == pytest.approx(parts, rel=1e-9, abs=1e-9)


@given(st.floats(0, 50000), DIAMETERS, CALIPERS)
def test_length_diameter_and_thickness_undo_each_other(length: float, core: float, caliper: float) -> None:
    outer = roll.outer_diameter(length, core, caliper)
    assert roll.roll_length(outer, core, caliper) == pytest.approx(length, rel=1e-6, abs=1e-6)
    if length > 1:
        assert roll.caliper_from_length(length, outer, core) == pytest.approx(caliper, rel=1e-6)


@given(DIAMETERS, st.floats(0.001, 0.5), CALIPERS, st.floats(0, 1))
def test_what_has_run_off_and_what_is_left_make_the_whole(
    core: float, more: float, caliper: float, share: float
) -> None:
    outer = core + more
    full = roll.roll_length(outer, core, caliper)
    now = roll.diameter_after(outer, share * full, core, caliper)
    assert core <= now <= outer
    assert roll.roll_length(now, core, caliper) + share * full == pytest.approx(full, rel=1e-6)
    assert roll.length_left(full, outer, now, core) == pytest.approx(full * (1 - share), rel=1e-6, abs=1e-6 * full)


@given(DIAMETERS, st.floats(0.01, 0.5), CALIPERS)
def test_more_outside_is_more_web_and_more_core_or_thickness_less(core: float, more: float, caliper: float) -> None:
    length = roll.roll_length(core + more, core, caliper)
    assert roll.roll_length(core + more * 1.01, core, caliper) > length
    assert roll.roll_length(core + more, core + more / 100, caliper) < length
    assert roll.roll_length(core + more, core, caliper * 1.01) < length


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: roll.roll_length(0.1, 0.2, 1e-4), "smaller than its core"),
        (lambda: roll.roll_length(0.2, 0.1, 0.0), "thickness of the web"),
        (lambda: roll.roll_length(0.2, -0.1, 1e-4), "negative diameter"),
        (lambda: roll.outer_diameter(-1.0, 0.1, 1e-4), "cannot be negative"),
        (lambda: roll.outer_diameter(1.0, -0.1, 1e-4), "negative diameter"),
        (lambda: roll.diameter_after(1.0, 8000.0, 0.076, 104e-6), "less web on the roll"),
        (lambda: roll.diameter_after(1.0, -1.0, 0.076, 104e-6), "cannot be negative"),
        (lambda: roll.caliper_from_length(0.0, 0.2, 0.1), "above zero"),
        (lambda: roll.length_left(-1.0, 1.0, 0.5, 0.1), "cannot be negative"),
        (lambda: roll.length_left(1.0, 1.0, 1.1, 0.1), "larger than it was"),
        (lambda: roll.length_left(1.0, 1.0, 0.05, 0.1), "smaller than its core"),
        (lambda: roll.length_left(1.0, 0.1, 0.1, 0.1), "larger than its core"),
        (lambda: roll.width_tolerance(0.0), "must be above zero"),
    ],
)
def test_outside_its_range_each_function_says_why(call, words: str) -> None:  # type: ignore[no-untyped-def]
    with pytest.raises(ValueError, match=words):
        call()
