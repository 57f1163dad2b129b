"""Events of the review and of signing, and of what was done on paper and entered later.

Those of the review come after the end of the run. Frozen, past tense, complete in themselves.
"""

from runner.engine.events.event import Event
from runner.engine.frozen import dataclass


@dataclass(frozen=True, slots=True)
class EnteredLate(Event):
    """What follows in the same action was done on paper and is entered later: `at` is when it was entered."""

    act: str
    """What was entered, as one word of the program: give-answer and the like."""
    step: str
    """Where it was for a step; may be empty."""
    done_at: str
    """When it was done, as the paper says: RFC 3339, UTC, milliseconds."""
    typed: str
    """The same as it was typed."""


@dataclass(frozen=True, slots=True)
class ExceptionDisposed(Event):
    """A reviewer has decided what becomes of an exception; a later decision counts instead of an earlier one."""

    number: int
    disposition: str
    """accepted as is, reworked, repeat, rejected or no action."""
    words: str
    role: str
    how: str
    """How it was established who the reviewer is."""


@dataclass(frozen=True, slots=True)
class RunSigned(Event):
    """A person put their name to the record as it was: nothing that comes after `count` lines is signed by it."""

    meaning: str
    """done by, reviewed by or approved by."""
    role: str
    """In which they signed; may be empty."""
    words: str
    how: str
    """How it was established who they are."""
    head: str
    """The hash of the last line that they signed."""
    count: int
    """How many lines the record had."""
