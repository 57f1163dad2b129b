"""A point in time as the engine sees it: passed in, never asked for.

`utc` is for people and records, `tick` for durations: seconds of a clock that never jumps and counts while the
machine sleeps. Ticks of different boots cannot be compared.
"""

from typing import NamedTuple


class Moment(NamedTuple):
    """When something was wanted or happened."""

    utc: str
    """RFC 3339, UTC, milliseconds: 2026-11-25T09:40:14.250Z."""
    tick: float
    """Seconds since an unknown start, monotonic within one boot."""
    boot: str
    """Which boot `tick` belongs to."""


def seconds_between(earlier: Moment, later: Moment) -> float | None:
    """Elapsed seconds, never negative; None where the two ticks belong to different boots."""
    if earlier.boot != later.boot:
        return None
    return max(0.0, later.tick - earlier.tick)


def seconds_words(seconds: float) -> str:
    """A waiting time as a person reads it, never shorter than it is: 90 s, 4 min 05 s."""
    whole = int(-(-seconds // 1))
    return f"{whole} s" if whole < 120 else f"{whole // 60} min {whole % 60:02d} s"


UNSTAMPED = Moment("", 0.0, "")
"""An intent on its way to the run, which stamps it."""
