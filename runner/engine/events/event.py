"""What all events have in common.

An event holds only text, numbers, truth values and tuples of those, so that a journal line keeps it exactly.
"""

from dataclasses import field

from runner.engine.frozen import dataclass
from runner.engine.moment import Moment

Scalar = str | float | bool


@dataclass(frozen=True, slots=True)
class Event:
    """The common part of all events: who and when."""

    by: str
    """The name of the person; empty for what followed by itself."""
    at: Moment
    terminal: str = field(default="", kw_only=True)
    """The terminal at which it was done, where several share the run; empty for the one that keeps the record. Set by
    `record.run.Run` alone."""
