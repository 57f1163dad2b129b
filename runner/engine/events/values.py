"""Events that bring values: worked out with their working, answered as typed, corrected with the old one kept."""

from runner.engine.events.event import Event, Scalar
from runner.engine.frozen import dataclass


@dataclass(frozen=True, slots=True)
class WorkedOut(Event):
    """A calculation has a result."""

    name: str
    formula: str
    inputs: tuple[tuple[str, str], ...]
    """(name, shown) of all that the formula uses."""
    working: str
    """The formula with the numbers put in."""
    shown: str
    value: Scalar
    """SI; for pieces the hung mass in kg."""
    magnitude: float | None
    unit: str
    limits: str
    verdict: str
    """in, out (a limit is broken, the rough check disagrees, or no pieces within tolerance), held (no pieces within
    tolerance, and a role may accept the nearest) or failed (no result; `shown` says why)."""
    ends: tuple[tuple[tuple[str, int], ...], ...] = ()
    """For pieces: for each end, (piece, how many), the heaviest first."""
    origins: tuple[tuple[str, str], ...] = ()
    """(name, where it comes from) of each input, table row and constant."""
    rough: str = ""
    """What the author's rough check says; empty without one."""
    gives: str = ""
    """For pieces: what they really give beside what was wanted; empty where the author does not ask."""


@dataclass(frozen=True, slots=True)
class PiecesAccepted(Event):
    """No choice of pieces is within tolerance, and a person of the role accepted the nearest; `by` is that person.

    It counts until the value is worked out anew.
    """

    step: str
    """The step that was up and waits for it."""
    name: str
    role: str
    wanted: str
    hung: str
    shown: str
    """The pieces at each end."""
    gives: str
    """What they really give, as it was shown; may be empty."""
    why: str


@dataclass(frozen=True, slots=True)
class Answered(Event):
    """One ask was answered."""

    step: str
    name: str
    kind: str
    ask: str
    typed: str
    shown: str
    value: Scalar
    magnitude: float | None
    unit: str
    limits: str
    verdict: str
    """in, out or unlikely; only `in` counts as the answer."""
    entry: int
    """1 for the first entry in this attempt, 2 for the re-entry."""
    hidden: bool = False
    """True for the second person's answer in an independent second look."""


@dataclass(frozen=True, slots=True)
class AnswerCorrected(Event):
    """A given answer was wrong; the old one stays here."""

    step: str
    name: str
    old: str
    typed: str
    shown: str
    value: Scalar
    magnitude: float | None
    unit: str
    reason: str


@dataclass(frozen=True, slots=True)
class LookedTwice(Event):
    """The second person looked; `by` is that person."""

    step: str
    how: str
    agrees: bool
    words: str
