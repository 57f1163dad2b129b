"""The drawn dial: its marks are round numbers, its pointer stands where the value is, and the number itself is not told."""

from math import atan2, degrees

import pytest
from hypothesis import given
from hypothesis import strategies as st

from runner.training.dial import (
    CENTRE_X,
    CENTRE_Y,
    COLUMNS,
    RADIUS,
    ROWS,
    at,
    dial,
    large_marks,
    pointer_words,
    share,
)


@pytest.mark.parametrize(
    ("low", "high", "marks"),
    [(0, 10, 11), (0, 90, 10), (0, 1, 11), (0, 1000, 11), (-1, 1, 11), (0, 7, 8), (0, 120, 7)],
)
def test_there_are_few_large_marks_and_they_are_round(low: float, high: float, marks: int) -> None:
    found = large_marks(low, high)
    assert len(found) == marks
    assert found[0] == low


@given(st.floats(0, 10))
def test_the_pointer_stands_at_its_share_of_the_half_circle(value: float) -> None:
    x, y = at(share(value, 0, 10), RADIUS)
    angle = degrees(atan2(CENTRE_Y - y, x - CENTRE_X))
    assert angle == pytest.approx(180 - 18 * value, abs=1e-6)


@pytest.mark.parametrize("plain", [False, True])
def test_the_drawing_keeps_to_its_room(plain: bool) -> None:
    lines = dial(6.2, 0, 10, "bar", plain)
    assert len(lines) == ROWS + 1
    assert max(map(len, lines)) <= COLUMNS
    assert not plain or all(line.isascii() for line in lines)
    assert lines[-1].strip() == "bar; a small mark is 0.2 bar"


def test_two_values_that_differ_by_a_small_mark_look_different() -> None:
    assert dial(6.2, 0, 10, "bar") != dial(6.0, 0, 10, "bar")


def test_beyond_its_ends_the_pointer_rests_on_the_stop() -> None:
    assert dial(-3, 0, 10, "bar") == dial(0, 0, 10, "bar")
    assert dial(14, 0, 10, "bar") == dial(10, 0, 10, "bar")
    assert pointer_words(14, 0, 10, "bar") == "The pointer rests on the stop at the high end."


@pytest.mark.parametrize(
    ("value", "words"),
    [
        (6.2, "The pointer stands 1 small mark past the large mark 6; 5 small marks are 1 bar."),
        (6.0, "The pointer stands on the large mark 6; 5 small marks are 1 bar."),
        (5.6, "The pointer stands 3 small marks past the large mark 5; 5 small marks are 1 bar."),
    ],
)
def test_whoever_cannot_see_it_is_told_the_marks(value: float, words: str) -> None:
    assert pointer_words(value, 0, 10, "bar") == words
