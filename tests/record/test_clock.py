"""Moments from clocks that tests move."""

import re
import time
from datetime import UTC, datetime

from hypothesis import given, settings
from hypothesis import strategies as st

from runner.engine.moment import seconds_between
from runner.record.clock import SteppedClock, SystemClock, clock_step, run_id, utc_text


def test_the_system_clock_tells_utc_and_a_steady_time_of_this_boot() -> None:
    clock = SystemClock()
    first = clock.now()
    time.sleep(0.02)
    second = clock.now()
    # RFC 3339 section 5.6, with exactly three digits of a second
    assert re.fullmatch(r"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d\.\d{3}Z", first.utc)
    assert abs((datetime.now(UTC) - datetime.fromisoformat(first.utc)).total_seconds()) < 5
    assert 0.015 < (seconds_between(first, second) or 0) < 2
    assert first.boot == second.boot == SystemClock().boot != ""


def test_times_are_cut_and_not_rounded_into_the_next_second() -> None:
    assert utc_text(datetime(2026, 11, 25, 9, 40, 14, 999999, UTC)) == "2026-11-25T09:40:14.999Z"
    assert utc_text(datetime(2026, 11, 25, 9, 40, 14, 250000, UTC)) == "2026-11-25T09:40:14.250Z"


def test_a_stepped_clock_moves_when_it_is_told() -> None:
    clock = SteppedClock("2026-11-25T23:59:59.500Z")
    first = clock.now()
    assert clock.now() == first
    clock.advance(90)
    second = clock.now()
    assert second.utc == "2026-11-26T00:01:29.500Z"
    assert seconds_between(first, second) == 90


def test_only_a_step_of_the_wall_clock_is_a_step() -> None:
    clock = SteppedClock()
    first = clock.now()
    clock.advance(3600)
    assert clock_step(first, clock.now()) is None
    clock.set_wall(2)
    assert clock_step(first, clock.now()) is None
    clock.set_wall(0.5)
    assert clock_step(first, clock.now()) == 2.5
    clock.set_wall(-3602.5)
    assert clock_step(first, clock.now()) == -3600
    other = SteppedClock(boot="another")
    other.tick = 10_000
    assert clock_step(first, other.now()) is None


@settings(deadline=None, derandomize=True)
@given(st.binary(min_size=4, max_size=8))
def test_a_run_is_named_by_its_time_and_four_letters_that_can_be_read_aloud(chance: bytes) -> None:
    name = run_id(SteppedClock("2026-11-25T09:40:14.250Z").now(), chance)
    assert re.fullmatch(r"20261125-0940-[0-9a-hjkmnp-tv-z]{4}", name)
