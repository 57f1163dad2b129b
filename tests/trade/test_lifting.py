"""Lifting: the weakest part of a chain, a load off the middle of a beam, a spreader."""

from math import cos, hypot, pi, radians, sin

import pytest
from hypothesis import given
from hypothesis import strategies as st

from runner.trade import lifting, sling
from runner.trade.tension import STANDARD_GRAVITY

MASSES = st.floats(0, 3000)


def test_everything_on_the_hook_counts_against_the_weakest_part() -> None:
    """Derived: roll 780 + shaft 65 + beam 48 = 893 kg; crane 1000, beam 950, two slings of 600 kg at 60 degrees 1039 kg."""
    slings = sling.sling_capacity(600, 2, radians(60))
    assert lifting.hook_reserve(780 + 65 + 48, 1000, 950, slings) == pytest.approx(57)


def test_a_flat_sling_becomes_the_weakest_part_and_the_reserve_negative() -> None:
    """At 45 degrees the two slings carry 848.5 kg (federal chain table H-1 by n R sin alpha); never clipped to 0."""
    slings = sling.sling_capacity(600, 2, radians(45))
    assert lifting.hook_reserve(893, 1000, 950, slings) == pytest.approx(848.528 - 893, abs=5e-4)


@given(MASSES, st.lists(MASSES, min_size=1, max_size=5), MASSES)
def test_another_part_of_the_chain_never_adds_reserve(load: float, ratings: list[float], other: float) -> None:
    reserve = lifting.hook_reserve(load, *ratings)
    assert lifting.hook_reserve(load, *ratings, other) <= reserve
    assert all(reserve <= rating - load for rating in ratings)
    assert any(reserve == rating - load for rating in ratings)


def test_a_load_off_the_middle_of_a_beam_hangs_on_the_nearer_end() -> None:
    """Derived by the lever rule: 1000 kg, 0.8 m from the left end and 1.2 m from the right give 600 and 400 kg."""
    assert lifting.beam_end_load(1000, 0.8, 1.2) == pytest.approx(600)
    assert lifting.beam_end_load(1000, 1.2, 0.8) == pytest.approx(400)


@given(MASSES, st.floats(0.01, 3), st.floats(0.01, 3))
def test_both_ends_of_a_beam_carry_the_load_and_turn_nothing(load: float, left: float, right: float) -> None:
    on_left, on_right = lifting.beam_end_load(load, left, right), lifting.beam_end_load(load, right, left)
    assert on_left + on_right == pytest.approx(load)
    assert on_left * left == pytest.approx(on_right * right)


def test_a_spreader_is_pushed_together() -> None:
    """Derived: N = W g / (2 tan alpha), 1000 kg at 60 degrees give 2830.94 N."""
    assert lifting.spreader_compression(1000, radians(60)) == pytest.approx(2830.94, abs=0.005)


@given(st.floats(1, 3000), st.floats(pi / 6, pi / 2))
def test_leg_spreader_and_half_the_load_close_their_triangle(load: float, angle: float) -> None:
    leg = sling.leg_load(load, 2, angle) * STANDARD_GRAVITY
    push, half = lifting.spreader_compression(load, angle), load * STANDARD_GRAVITY / 2
    assert hypot(push, half) == pytest.approx(leg)
    assert push == pytest.approx(leg * cos(angle), abs=1e-6)
    assert half == pytest.approx(leg * sin(angle))


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: lifting.hook_reserve(-1, 1), "cannot be negative"),
        (lambda: lifting.hook_reserve(1, -1, 5), "a rating cannot be negative"),
        (lambda: lifting.hook_reserve(1), "without a rating"),
        (lambda: lifting.beam_end_load(1, -0.1, 1.0), "between the two ends"),
        (lambda: lifting.beam_end_load(1, 0.0, 0.0), "between the two ends"),
        (lambda: lifting.beam_end_load(-1, 1.0, 1.0), "cannot be negative"),
        (lambda: lifting.spreader_compression(1, 0.0), "between 0 and 90"),
        (lambda: lifting.spreader_compression(1, 0.3), "flatter than 30"),
        (lambda: lifting.spreader_compression(-1, 1.0), "cannot be negative"),
    ],
)
def test_outside_its_range_each_function_says_why(call, words: str) -> None:  # type: ignore[no-untyped-def]
    with pytest.raises(ValueError, match=words):
        call()
