"""The state of a run, derived from events and nothing else; everything a screen needs is here.

Mappings are never changed in place: `evolve` makes new ones. What a person reads about a value was put into the
event that brought it.
"""

from collections.abc import Mapping
from dataclasses import field
from enum import Enum
from types import MappingProxyType

from runner.engine.events import Scalar
from runner.engine.frozen import dataclass
from runner.engine.moment import Moment
from runner.engine.position import Position
from runner.procedure.site_facts import NONE, Facts
from runner.say.text import mark

EXCEPTION_KINDS = (
    mark("people"), mark("equipment"), mark("material"), mark("value"), mark("procedure"), mark("other"),
)  # fmt: skip
"""What an exception is about. Common practice, no source."""

NOT_VERIFIED, VERIFIED = mark("identity not verified"), mark("verified by PIN")
"""How it was established who a person is."""
BY_PIN = mark("people of the site file, each by PIN")
"""How people are identified where there is a site file."""

SEVERITIES = (mark("note"), mark("minor"), mark("serious"))

DISPOSITIONS = (
    mark("accepted as is"), mark("reworked"), mark("repeat"), mark("rejected"), mark("no action"),
)  # fmt: skip
"""What a reviewer decides about an exception. Informed by ISO 9001:2015, 8.7.1 and ISO 9000:2015, 3.12 (rework,
concession, scrap; from memory); `repeat` and `no action` are common practice, no source."""

DONE_BY, REVIEWED_BY, APPROVED_BY = mark("done by"), mark("reviewed by"), mark("approved by")
MEANINGS = (DONE_BY, REVIEWED_BY, APPROVED_BY)
"""What a signature means. Informed by 21 CFR 11.50 (a) (3): review, approval, responsibility, authorship."""

REVIEWER = "lead"
"""The role that reviews a run: by this short name in procedures and in the site file."""


class StepStatus(Enum):
    """How far a step is, as place keeping shows it: word and mark."""

    TO_DO = mark("to do")
    BEGUN = mark("begun")
    DONE = mark("done")
    NOT_APPLICABLE = mark("does not apply")
    LEFT_OUT = mark("left out")
    TROUBLED = mark("ended in trouble")
    AGAIN = mark("to be done again")


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
    paper: str = ""
    """When it was done on paper (UTC), where it was entered later."""


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
    wait_paper: tuple[str, str] = ("", "")
    """(when, as typed) the waiting time began on paper; empty where it began as it was entered."""
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
        return not self.stale and (self.verdict == "in" or self.verdict == "accepted")  # noqa: PLR1714  # asked very often


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
    run: str = ""
    """The earlier run that left it open; empty for one of this run."""
    of: int = 0
    """Its number there."""
    read_by: str = ""
    """Who read it before work went on, where it was carried."""
    accepted_by: str = ""
    """Who took it on that work goes on with it in this run."""

    @property
    def keeps(self) -> bool:
        """True where it keeps the run from finishing, and, carried, from beginning a step."""
        return self.blocking and not self.closed and not self.accepted_by

    disposition: str = ""
    """What the review decided; empty before."""
    disposed: str = ""
    """The reviewer's words."""
    disposed_by: str = ""


@dataclass(frozen=True, slots=True)
class Signature:
    """A name under the record as it was."""

    by: str
    at: Moment
    meaning: str
    words: str
    how: str
    head: str
    count: int
    """Lines of the record that it covers."""
    added: int = 0
    """How many corrections and decisions of the review came after it."""


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
    site: Facts = NONE
    """What the site file said of pieces, lifting gear and shifts."""
    unqualified: tuple[str, ...] = ()
    """What the register of qualifications says of those who took a role without standing in it."""
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
    signatures: tuple[Signature, ...] = ()
    late: tuple[Moment, str, str] | None = None
    """(when entered, when done on paper, as typed) of the newest action that was entered late."""
    papers: Mapping[str, str] = field(default_factory=lambda: MappingProxyType({}))
    """Person, as `name_key` writes the name, to the newest time on paper that they entered."""
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
