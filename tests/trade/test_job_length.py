"""What a job takes from a roll: common practice, no source; held against running it metre by metre."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from runner.trade.job_length import length_needed

LENGTHS = st.floats(0, 20000)


def test_waste_is_a_share_of_all_web_that_is_run() -> None:
    """1000 m run at 4 % waste give 960 m good, so 960 m good need 1000 m; exact fractions as the judge."""
    assert length_needed(960, 0.04, 0, 0, 0) == pytest.approx(float(Fraction(960) / (1 - Fraction(4, 100))))
    assert length_needed(960, 0.04, 0, 0, 0) == pytest.approx(1000)
    assert length_needed(960, 0.04, 0, 0, 0) > 960 * 1.04, "the safer of the two ways to read a share"


def test_splices_and_threading_come_on_top_of_the_running() -> None:
    assert length_needed(6000, 0.04, 180, 2, 12) == pytest.approx(6250 + 180 + 24)


def test_running_metre_by_metre_gives_the_good_length_asked_for() -> None:
    """Every twenty-fifth metre is waste, each splice costs 12 m: count the good ones of the length that was asked for."""
    needed = length_needed(2400, 0.04, 180, 2, 12)
    run = range(round(needed) - 180 - 24)
    assert sum(1 for metre in run if metre % 25 != 24) == 2400


@given(LENGTHS, st.floats(0, 0.5), LENGTHS, st.integers(0, 20), st.floats(0, 50))
def test_a_job_never_takes_less_than_its_good_length(
    good: float, waste: float, once: float, splices: int, each: float
) -> None:
    needed = length_needed(good, waste, once, splices, each)
    assert needed >= good + once + splices * each - 1e-6
    assert length_needed(good, waste + 0.1, once, splices, each) >= needed
    assert length_needed(good, waste, once, splices + 1, each) == pytest.approx(needed + each)


@given(LENGTHS, LENGTHS, st.floats(0, 0.5))
def test_two_jobs_one_after_the_other_take_what_both_take(one: float, other: float, waste: float) -> None:
    both = length_needed(one + other, waste, 0, 0, 0)
    assert both == pytest.approx(length_needed(one, waste, 0, 0, 0) + length_needed(other, waste, 0, 0, 0), abs=1e-6)


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        ((-1, 0, 0, 0, 0), "cannot be negative"),
        ((1, 0, -1, 0, 0), "cannot be negative"),
        ((1, 0, 0, 1, -1), "cannot be negative"),
        ((1, 0, 0, -1, 1), "number of splices"),
        ((1, -0.1, 0, 0, 0), "share from 0"),
        ((1, 1.0, 0, 0, 0), "share from 0"),
    ],
)
def test_outside_its_range_it_says_why(arguments: tuple[float, float, float, float, float], words: str) -> None:
    with pytest.raises(ValueError, match=words):
        length_needed(*arguments)
