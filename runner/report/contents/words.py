"""How records say moments, durations and verdicts. Every word here stands once and means one thing.

Times are quoted in UTC; a duration that the steady clock cannot vouch for is not known, and said to be.
"""

from collections.abc import Mapping, Sequence

NOT_KNOWN = "not known"

NOTHING = "–"
"""Stands where a cell has nothing to say."""

VERDICTS: Mapping[str, str] = {
    "in": "in limits",
    "out": "OUT OF LIMITS",
    "unlikely": "unlikely, asked for again",
    "held": "OUT OF TOLERANCE, held",
    "failed": "NO RESULT",
}

WAYS_ON: Mapping[str, str] = {"back_to": "gone back to", "go_on": "gone on with the next step", "stop": "stopped"}


def verdict_words(verdict: str, limits: str, is_number: bool) -> str:
    """A verdict as people read it; only a number with limits can lie in them, anything else is accepted or not."""
    if verdict == "in" and not (limits and is_number):
        return "accepted"
    if verdict == "out" and not is_number:
        return "NOT ACCEPTED"
    return VERDICTS.get(verdict, verdict)


def moment_words(utc: str) -> str:
    """`2026-11-25T09:40:14.250Z` (RFC 3339) as `2026-11-25 09:40:14`; anything else as it stands."""
    well_formed = len(utc) >= 20 and utc[10] == "T" and utc.endswith("Z") and utc.isascii()
    return f"{utc[:10]} {utc[11:19]}" if well_formed else utc


def terminal_words(terminal: str) -> str:
    """Where an act was done, if not at the terminal that keeps the record."""
    return f"at the terminal {terminal}" if terminal else ""


def duration_words(seconds: float | None) -> str:
    """Seconds as `40 s`, `6 min 12 s` or `1 h 04 min 10 s`; None is not known."""
    if seconds is None:
        return NOT_KNOWN
    if seconds < 1:
        return "under 1 s" if seconds > 0 else "0 s"
    minutes, rest = divmod(round(seconds), 60)
    hours, minutes = divmod(minutes, 60)
    if hours:
        return f"{hours} h {minutes:02d} min {rest:02d} s"
    return f"{minutes} min {rest:02d} s" if minutes else f"{rest} s"


def counted(count: int, one: str, many: str = "") -> str:
    """`1 exception`, `2 exceptions`."""
    return f"{count} {one if count == 1 else many or one + 's'}"


def pairs_words(pairs: Sequence[Sequence[str]]) -> tuple[str, ...]:
    """(name, value) pairs, one a line."""
    return tuple(f"{name}: {value}" for name, value in pairs)


def joined(parts: Sequence[str]) -> str:
    """Parts that say something, with commas."""
    return ", ".join(part for part in parts if part)
