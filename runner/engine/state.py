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

NOT_VERIFIED, VERIFIED = "identity not verified", "verified by PIN"
"""How it was established who a person is."""
BY_PIN = "people of the site file, each by PIN"
"""How people are identified where there is a site file."""

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
    threaded: tuple[str, ...] = ()
    """Who ticked each roller of this attempt, in the order of the path."""
    confirmed: tuple[tuple[str, str], ...] = ()
    """(point, who) of the hold's points that are ticked."""
    confirmed_before: tuple[tuple[str, str], ...] = ()
    """Those that were ticked before an interruption, and have to be looked at again."""
    after_trouble: tuple[str, str] = ("", "")
    """(sign, what to do first) of the trouble that led here; empty once the step begins."""
    old: tuple[tuple[str, int], ...] = ()
    """(value, exception) of corrections after this step had gone by the old value."""


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
class WrongPins:
    """Wrong PINs in a row for one name."""

    tries: int
    at: Moment
    wait_s: float
    """How long after `at` no PIN is taken."""


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
    site_people: tuple[str, ...] = ()
    """Names that give a PIN; none without a site file."""
    unknown: str = ""
    """What becomes of other names: refused, allowed; empty without a site file."""
    identities: Mapping[str, str] = field(default_factory=lambda: MappingProxyType({}))
    """Person, as `name_key` writes the name, to how it was established last who they are."""
    recognised: tuple[str, ...] = ()
    """Of these persons, those for whom that was since the last interruption."""
    wrong_pins: Mapping[str, WrongPins] = field(default_factory=lambda: MappingProxyType({}))
    """By person, as `name_key` writes the name, until a right one."""
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
    safe_acts_not_needed: tuple[int, ...] = ()
    outcome: str = ""
    """Empty while open, then finished or abandoned."""
    began: Moment | None = None
    last: Moment | None = None
    """When the newest event happened."""

    def record(self, step: str) -> StepRecord:
        """The record of a step, empty where nothing has happened to it."""
        return self.records.get(step, UNTOUCHED)

    @property
    def safe_acts_open(self) -> tuple[int, ...]:
        """Numbers of the acts of the list that are neither done nor said to be not needed."""
        dealt_with = {*self.safe_acts_done, *self.safe_acts_not_needed}
        return tuple(number for number in range(len(self.safe_acts)) if number not in dealt_with)

    @property
    def open_exceptions(self) -> tuple[NotedException, ...]:
        """Those that nobody has dealt with."""
        return tuple(e for e in self.exceptions if not e.closed)


def name_key(name: str) -> str:
    """A person's name as it is compared: case and spacing make no other person."""
    return " ".join(name.split()).casefold()


UNTOUCHED = StepRecord()
