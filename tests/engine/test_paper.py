"""What was done on paper and is entered later: marked with both times, in the order that holds for all."""

from dataclasses import replace

import pytest

from runner.engine import events as ev
from runner.engine import intents as want
from runner.engine.decisions.paper import has_seconds, time_on_paper
from runner.engine.intents import Refusal
from runner.engine.moment import Moment

from .bench import Bench, compiled

STEPS = """
  - phase: Work
    steps:
      - {id: feed, by: unwind, do: Read the gauge., read: {fed: {ask: Fed, unit: mm, within: [0, 900]}}}
      - {id: cool, by: unwind, do: Let it cool., wait: {at_least: 10 min}}
      - {id: last, by: unwind, do: "Hang the web of {width}."}
"""
NOW = "2026-11-25T09:00:00.000Z"


class Later(Bench):
    """Begun at eight, entered at nine."""

    def attempt(self, intent):  # type: ignore[no-untyped-def]
        """The run begins an hour earlier than everything else happens."""
        found = super().attempt(intent)
        if isinstance(intent, want.BeginRun):
            began = Moment("2026-11-25T08:00:00.000Z", self.tick, self.boot)
            self.state = replace(self.state, began=began)
        return found


def begun() -> Bench:
    bench = Later(compiled(STEPS))
    bench.begin(width="1000")
    return bench


def paper(intent: want.AnyIntent, at: str) -> want.AnyIntent:
    return replace(intent, paper=at)


@pytest.mark.parametrize(
    ("typed", "utc"),
    [
        ("08:55", "2026-11-25T08:55:00.000Z"),
        ("08:55:30", "2026-11-25T08:55:30.000Z"),
        ("09:01", "2026-11-24T09:01:00.000Z"),
        # RFC 3339, section 4.1: local time is UTC plus the offset; its own example of 5.8, an hour later
        ("1996-12-19T16:39:57-08:00", "1996-12-20T00:39:57.000Z"),
        ("2026-11-25 09:30+01:00", "2026-11-25T08:30:00.000Z"),
        ("2026-11-25T08:55:00Z", "2026-11-25T08:55:00.000Z"),
    ],
)
def test_a_time_on_paper_is_read_in_utc_or_by_its_offset(typed: str, utc: str) -> None:
    assert time_on_paper(typed, NOW) == utc


@pytest.mark.parametrize("typed", ["soon", "9", "25:00", "09.00", "2026-13-01 08:00", "١٢:٠٠x", "08:5", "x 08:00"])
def test_what_is_no_time_is_said_to_be_none(typed: str) -> None:
    found = time_on_paper(typed, NOW)
    assert isinstance(found, Refusal)
    assert "is no time" in found.reason


def test_an_answer_from_paper_has_both_times() -> None:
    bench = begun()
    bench.must(paper(want.BeginStep("Uma", "feed"), "08:10"))
    events = bench.must(paper(want.GiveAnswer("Uma", "feed", "fed", "300"), "08:12"))
    late, answered = events[0], events[1]
    assert isinstance(late, ev.EnteredLate)
    assert isinstance(answered, ev.Answered)
    assert (late.done_at, late.at.utc) == ("2026-11-25T08:12:00.000Z", NOW)
    assert (late.act, late.step, late.typed) == ("give-answer", "feed", "08:12")
    assert late.at == answered.at
    assert bench.state.record("feed").answers["fed"].paper == "2026-11-25T08:12:00.000Z"


def test_an_answer_as_it_is_given_has_no_time_on_paper() -> None:
    bench = begun()
    bench.must(paper(want.BeginStep("Uma", "feed"), "08:10"))
    bench.must(want.GiveAnswer("Uma", "feed", "fed", "300"))
    assert bench.state.record("feed").answers["fed"].paper == ""


def test_order_and_limits_hold_for_what_comes_from_paper_as_well() -> None:
    bench = begun()
    assert "not the one that is up" in bench.refused(paper(want.BeginStep("Uma", "last"), "08:10"))
    bench.must(paper(want.BeginStep("Uma", "feed"), "08:10"))
    events = bench.must(paper(want.GiveAnswer("Uma", "feed", "fed", "950"), "08:11"))
    assert isinstance(events[1], ev.Answered)
    assert events[1].verdict == "out"


def test_a_time_on_paper_is_never_ahead_nor_before_the_run_nor_backwards() -> None:
    bench = begun()
    assert "not over yet" in bench.refused(paper(want.BeginStep("Uma", "feed"), "2026-11-25 09:01"))
    assert "The run began" in bench.refused(paper(want.BeginStep("Uma", "feed"), "07:50"))
    bench.must(paper(want.BeginStep("Uma", "feed"), "08:30"))
    assert "came after it" in bench.refused(paper(want.GiveAnswer("Uma", "feed", "fed", "300"), "08:29"))


def test_what_happens_now_is_not_entered_from_paper() -> None:
    bench = begun()
    assert "happens now" in bench.refused(paper(want.Pause("Uma", ""), "08:30"))


def cooling(began: str) -> Bench:
    bench = begun()
    bench.must(paper(want.BeginStep("Uma", "feed"), "08:10"))
    bench.must(paper(want.GiveAnswer("Uma", "feed", "fed", "300"), "08:11"))
    bench.must(paper(want.EndStep("Uma", "feed"), "08:11"))
    bench.must(paper(want.BeginStep("Uma", "cool"), began))
    return bench


@pytest.mark.parametrize(
    ("began", "ended", "left"),
    [
        ("08:20", "08:30", "60 s to go"),  # a time without seconds is anywhere in its minute
        ("08:20", "08:31", ""),
        ("08:20:00", "08:29:59", "1 s to go"),
        ("08:20:00", "08:30:00", ""),
        ("08:20:00", "08:30", "60 s to go"),
    ],
)
def test_a_wait_on_paper_is_never_made_shorter(began: str, ended: str, left: str) -> None:
    bench = cooling(began)
    intent = paper(want.EndStep("Uma", "cool"), ended)
    if left:
        assert left in bench.refused(intent)
    else:
        assert any(isinstance(event, ev.WaitEnded) for event in bench.must(intent))


def test_a_wait_that_began_on_paper_and_ends_now_runs_from_when_it_was_entered() -> None:
    bench = cooling("08:20")
    assert "to go" in bench.refused(want.EndStep("Uma", "cool"))
    bench.tick += 600
    bench.must(want.EndStep("Uma", "cool"))


def test_seconds_are_seen_behind_a_day_and_before_an_offset() -> None:
    assert has_seconds("2026-11-25T08:20:01+01:00")
    assert not has_seconds("2026-11-25 08:20+01:00")
