"""The only module that asks the time. Everybody else is given a `Clock`, or a `Moment`.

The wall clock is for people and may jump; the steady one is for durations, and counts while the machine sleeps where
the system has such a clock. Steady times of different boots are never compared, so each moment names its boot.
"""

import os
import sys
import time
from datetime import UTC, datetime, timedelta
from typing import Protocol

from runner.engine.moment import Moment
from runner.record.disk import read_small

BOOT_ID = "/proc/sys/kernel/random/boot_id"

LETTERS = "0123456789abcdefghjkmnpqrstvwxyz"
"""Digits and letters without i, l, o and u, so that a run's id can be read aloud and typed."""

JUMP_S = 2.0
"""By more than this the clocks may not disagree unnoticed."""


class Clock(Protocol):
    """What tells the time."""

    def now(self) -> Moment:
        """This moment."""
        ...


def utc_text(instant: datetime) -> str:
    """RFC 3339 with milliseconds, cut and not rounded: 2026-11-25T09:40:14.250Z."""
    # in UTC the text ends with +00:00
    return (instant if instant.tzinfo is UTC else instant.astimezone(UTC)).isoformat(timespec="milliseconds")[:-6] + "Z"


def wall_of(moment: Moment) -> datetime:
    """The wall time of a moment that came from a clock or a checked line."""
    return datetime.fromisoformat(moment.utc)


def local_time(moment: Moment) -> str:
    """The time of day of a moment where this machine stands: 13:40."""
    return wall_of(moment).astimezone().strftime("%H:%M")


def clock_step(earlier: Moment, later: Moment) -> float | None:
    """By how many seconds the wall clock moved more than the steady one; None where they agree or cannot be compared."""
    if earlier.boot != later.boot:
        return None
    step = (wall_of(later) - wall_of(earlier)).total_seconds() - (later.tick - earlier.tick)
    return round(step, 3) if abs(step) > JUMP_S else None


def run_id(moment: Moment, random_bytes: bytes) -> str:
    """A name for a run: UTC date and time, and four letters of chance: 20261125-0940-k7m2.

    Sorted by name is sorted by time. Eight random bytes are plenty; the first four are used.
    """
    day, clock = moment.utc[:10].replace("-", ""), moment.utc[11:16].replace(":", "")
    return f"{day}-{clock}-" + "".join(LETTERS[byte % 32] for byte in random_bytes[:4])


if sys.platform == "linux":
    COUNTS_SLEEP = True

    def steady() -> float:
        """Seconds since the machine started, sleep included (clock_gettime(2), CLOCK_BOOTTIME)."""
        return time.clock_gettime(time.CLOCK_BOOTTIME)
elif sys.platform == "darwin":
    COUNTS_SLEEP = True

    def steady() -> float:
        """Seconds since the machine started; on macOS CLOCK_MONOTONIC goes on in sleep (its clock_gettime(3))."""
        return time.clock_gettime(time.CLOCK_MONOTONIC)
else:
    COUNTS_SLEEP = False

    def steady() -> float:
        """Seconds since an unknown start; whether sleep counts is the system's choice."""
        return time.monotonic()


class SystemClock:
    """The clocks of this machine."""

    def __init__(self) -> None:
        self.boot = boot_id()

    def now(self) -> Moment:
        """Wall and steady time, asked one after the other."""
        return Moment(utc_text(datetime.now(UTC)), steady(), self.boot)


def boot_id() -> str:
    """Which boot this is; where the system does not say, a name for this start of the program.

    The second is on the safe side: times of two starts are not compared then, and what depends on them is asked anew.
    """
    return read_small(BOOT_ID) or f"start-{os.getpid()}-{os.urandom(6).hex()}"


class ShiftedClock(SystemClock):
    """The clocks of this machine, so many seconds ahead: for dry runs, in which waits are stepped through."""

    def __init__(self, ahead_s: float = 0.0) -> None:
        super().__init__()
        self.ahead_s = ahead_s

    def now(self) -> Moment:
        """Both clocks are ahead by the same."""
        real = super().now()
        ahead = timedelta(seconds=self.ahead_s)
        return Moment(utc_text(wall_of(real) + ahead), real.tick + self.ahead_s, real.boot)

    def advance(self, seconds: float) -> None:
        """Time goes by."""
        self.ahead_s += max(0.0, seconds)


class SteppedClock:
    """Time for played runs and tests: it stands still until told."""

    def __init__(self, start: str = "2026-11-25T08:00:00.000Z", boot: str = "played") -> None:
        self.wall = datetime.fromisoformat(start)
        self.tick = 0.0
        self.boot = boot

    def now(self) -> Moment:
        """The moment it stands at."""
        return Moment(utc_text(self.wall), round(self.tick, 3), self.boot)

    def advance(self, seconds: float) -> None:
        """Time goes by, for both clocks."""
        self.wall += timedelta(seconds=seconds)
        self.tick += seconds

    def set_wall(self, seconds: float) -> None:
        """Somebody sets the wall clock, by so many seconds on (or back)."""
        self.wall += timedelta(seconds=seconds)
