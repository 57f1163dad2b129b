"""The state of a run, derived from events and nothing else; everything a screen needs is here.

Mappings are never changed in place: `evolve` makes new ones. What a person reads about a value was put into the
event that brought it.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import Enum
from types import MappingProxyType

from runner.engine.events import Scalar
from runner.engine.moment import Moment
from runner.engine.position import Position

EXCEPTION_KINDS = ("people", "equipment", "material", "value", "procedure", "other")
"""What an exception is about. Common practice, no source."""

SEVERITIES = ("note", "minor", "serious")


class StepStatus(Enum):
    """How far a step is, as place keeping shows it: word and mark."""

    TO_DO = "to do"
    BEGUN = "begun"
    DONE = "done"
    NOT_APPLICABLE = "does not apply"
    LEFT_OUT = "left out"
    TROUBLED = "ended in trouble"
    AGAIN = "to be done again"


@dataclass(frozen=True, slots=True)
class GivenAnswer:
    """An answer of the attempt that is on."""

    by: str
    typed: str
    shown: str
    value: Scalar
    verdict: str
    entry: int
    outs: int = 0
    """How many of the entries for this ask were out of limits."""


@dataclass(frozen=True, slots=True)
class StepRecord:
    """What has happened to one step."""

    status: StepStatus = StepStatus.TO_DO
    attempt: int = 0
    """How often it has begun."""
    passes: int = 0
    """How often a repeat has gone round since it came up."""
    begun_at: Moment | None = None
    ended_at: Moment | None = None
    begun_by: str = ""
    cautions_read: bool = False
    hold: str = ""
    """Empty, reached or released."""
    released_by: str = ""
    basis: tuple[tuple[str, str], ...] = ()
    """State values that the release stands on."""
    answers: Mapping[str, GivenAnswer] = field(default_factory=lambda: MappingProxyType({}))
    """Of this attempt, by ask; only verdict `in` counts."""
    second_answers: Mapping[str, GivenAnswer] = field(default_factory=lambda: MappingProxyType({}))
    looked_twice: bool = False
    second_by: str = ""
    wait_from: Moment | None = None
    wait_over: bool = False


@dataclass(frozen=True, slots=True)
class KnownValue:
    """A value that formulas may use."""

    name: str
    value: Scalar
    shown: str
    source: str
    """ticket, worked out, or the id of the step that asked for it."""
    unit: str = ""
    """In which it is shown; empty for text."""
    stale: bool = False
    """True where it must be given or worked out again before it counts."""
    verdict: str = "in"
    """in, out, held, failed, or accepted: held until a person accepted the nearest choice."""
    working: str = ""
    formula: str = ""
    limits: str = ""
    ends: tuple[tuple[tuple[str, int], ...], ...] = ()
    inputs: tuple[tuple[str, str], ...] = ()
    """(name, shown) of what it was worked out from."""
    origins: tuple[tuple[str, str], ...] = ()
    """(name, where it came from) of these, of table rows and of constants."""
    rough: str = ""
    gives: str = ""
    origin: str = ""
    """Where the value itself came from, in words."""
    accepted_by: str = ""
    accepted_why: str = ""

    @property
    def counts(self) -> bool:
        """True where formulas and steps may use it."""
        return not self.stale and self.verdict in ("in", "accepted")


@dataclass(frozen=True, slots=True)
class NotedException:
    """An exception on record."""

    number: int
    kind: str
    severity: str
    words: str
    step: str
    owner: str
    blocking: bool
    by: str
    at: Moment
    closed: str = ""
    """How it was dealt with; empty while open."""


@dataclass(frozen=True, slots=True)
class RunState:
    """Everything about a run."""

    position: Position
    run: str = ""
    mode: str = ""
    """live or dry; empty before the run has begun."""
    played: bool = False
    identity: str = ""
    crew: Mapping[str, str] = field(default_factory=lambda: MappingProxyType({}))
    """Role to person's name."""
    inputs: tuple[str, ...] = ()
    records: Mapping[str, StepRecord] = field(default_factory=lambda: MappingProxyType({}))
    """By step id; a step without a record has not been touched."""
    values: Mapping[str, KnownValue] = field(default_factory=lambda: MappingProxyType({}))
    exceptions: tuple[NotedException, ...] = ()
    unconfirmed: Mapping[str, str] = field(default_factory=lambda: MappingProxyType({}))
    """State to the value it had before the interruption; unknown in `position` until looked at."""
    halted: str = ""
    """Empty, pause, make-safe: nothing goes on until resumed."""
    intention: str = ""
    """What was to be done next, as said at the pause."""
    safe_acts: tuple[str, ...] = ()
    """The make-safe list as shown, while halted for it."""
    safe_acts_done: tuple[int, ...] = ()
    outcome: str = ""
    """Empty while open, then finished or abandoned."""
    began: Moment | None = None
    last: Moment | None = None
    """When the newest event happened."""

    def record(self, step: str) -> StepRecord:
        """The record of a step, empty where nothing has happened to it."""
        return self.records.get(step, UNTOUCHED)

    @property
    def open_exceptions(self) -> tuple[NotedException, ...]:
        """Those that nobody has dealt with."""
        return tuple(e for e in self.exceptions if not e.closed)


UNTOUCHED = StepRecord()
