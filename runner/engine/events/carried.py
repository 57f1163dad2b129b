"""Events of exceptions that follow the press: what an earlier run at the same equipment left open is carried into the
next one, read by name before work goes on, and accepted there where it would keep the work from going on.
"""

from runner.engine.events.event import Event
from runner.engine.frozen import dataclass


@dataclass(frozen=True, slots=True)
class ExceptionCarried(Event):
    """An exception of an earlier run at the same equipment was open when this run began; `by` is empty."""

    number: int
    """In this run: it is closed under this number."""
    earlier_run: str
    """Where it was noted."""
    earlier_number: int
    """Its number there."""
    title: str
    """Of the procedure of that run."""
    kind: str
    severity: str
    words: str
    owner: str
    blocking: bool
    """True where no step begins before it is closed or accepted for this run."""
    noted_by: str
    noted_at: str
    """UTC, RFC 3339."""


@dataclass(frozen=True, slots=True)
class ExceptionRead(Event):
    """A carried exception was read before work went on; `by` is the person who read it."""

    number: int
    earlier_run: str
    earlier_number: int


@dataclass(frozen=True, slots=True)
class ExceptionAccepted(Event):
    """Work goes on in this run though a carried exception that blocks is open; `by` is the person who takes that on."""

    number: int
    earlier_run: str
    earlier_number: int
    role: str
    why: str
