"""Waits: durations read and said, a countdown for the screen."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from runner.procedure.asks.wait import duration, seconds
from tests.procedure.asks.built import ask_of, printed, prompted, verdict

WAIT = "wait: {at_least: 90 s, at_most: 5 min}"


@pytest.mark.parametrize(
    ("text", "length"), [("90 s", 90.0), ("6 min", 360.0), ("1 h", 3600.0), ("0.5 min", 30.0), ("2min", 120.0)]
)
def test_a_duration_is_read_in_seconds(text: str, length: float) -> None:
    assert seconds(text) == length


@pytest.mark.parametrize(
    ("length", "words"),
    [
        (90.0, "90 s"),
        (360.0, "6 min"),
        (3600.0, "1 h"),
        (60.0, "60 s"),
        (0.5, "0.5 s"),
        (7200.0, "2 h"),
        (5400.0, "90 min"),
    ],
)
def test_a_duration_is_said_as_people_say_it(length: float, words: str) -> None:
    assert duration(length) == words


@given(st.integers(1, 100_000))
def test_what_is_said_is_read_as_the_same(length: int) -> None:
    assert seconds(duration(float(length))) == length


def test_a_wait_is_named_after_its_step_and_counts_down() -> None:
    ask, _ = ask_of(WAIT)
    assert (ask.name, ask.at_least_s, ask.at_most_s) == ("act-now", 90.0, 300.0)
    prompt = prompted(WAIT)
    assert (prompt.shape, prompt.seconds, prompt.limits) == ("countdown", 90.0, "at least 90 s, at most 5 min")
    assert printed(WAIT) == "Wait at least 90 s, at most 5 min: from ______ to ______"


def test_nothing_is_typed_at_a_wait() -> None:
    assert verdict(WAIT, "") == "in"
    assert verdict(WAIT, "90") == "misread"
