"""How moments, durations and verdicts are said."""

import pytest

from runner.report.contents.words import counted, duration_words, moment_words, verdict_words


@pytest.mark.parametrize(
    ("utc", "words"),
    [
        # RFC 3339, 5.8: the examples in UTC; one with an offset is no moment of ours and stands as it is.
        ("1985-04-12T23:20:50.52Z", "1985-04-12 23:20:50"),
        ("1990-12-31T23:59:60Z", "1990-12-31 23:59:60"),
        ("1996-12-19T16:39:57-08:00", "1996-12-19T16:39:57-08:00"),
        ("yesterday", "yesterday"),
        ("", ""),
    ],
)
def test_a_moment_is_said_in_utc(utc: str, words: str) -> None:
    assert moment_words(utc) == words


@pytest.mark.parametrize(
    ("seconds", "words"),
    [
        (None, "not known"), (0, "0 s"), (0.4, "under 1 s"), (1, "1 s"), (59.4, "59 s"), (59.6, "1 min 00 s"),
        (372, "6 min 12 s"), (3599.7, "1 h 00 min 00 s"), (3850, "1 h 04 min 10 s"),
    ],
)  # fmt: skip
def test_a_duration_is_said_in_hours_minutes_and_seconds(seconds: float | None, words: str) -> None:
    assert duration_words(seconds) == words


def test_a_value_without_limits_is_accepted_and_no_more() -> None:
    assert verdict_words("in", "", True) == "accepted"
    assert verdict_words("in", "5.5 to 7 bar", True) == "in limits"
    assert verdict_words("out", "5.5 to 7 bar", True) == "OUT OF LIMITS"
    assert verdict_words("something new", "", True) == "something new"


def test_a_choice_lies_in_no_limits() -> None:
    assert verdict_words("in", "through both holes", False) == "accepted"
    assert verdict_words("out", "through both holes", False) == "NOT ACCEPTED"


def test_things_are_counted() -> None:
    assert (counted(1, "event"), counted(2, "event"), counted(0, "event")) == ("1 event", "2 events", "0 events")
