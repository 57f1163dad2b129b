"""Events of the run as a whole: its beginning, interruptions, people and end. Frozen, past tense, complete in themselves."""

from runner.engine.events.event import Event, Scalar
from runner.engine.frozen import dataclass


@dataclass(frozen=True, slots=True)
class RunBegun(Event):
    """The first event: the procedure is pinned whole."""

    run: str
    mode: str
    played: bool
    procedure: str
    title: str
    revision: int
    status: str
    digest: str
    sources: tuple[tuple[str, str], ...]
    """(path, text): the procedure, then its fragments."""
    crew: tuple[tuple[str, str], ...]
    identity: str
    """How people were identified: 'identity not verified' without a site file."""
    program: str
    site_people: tuple[str, ...] = ()
    """Names that the site file knew: each gives a PIN."""
    unknown: str = ""
    """What the site said of other names: refused or allowed; empty without a site file."""
    equipment: str = ""
    """Of the procedure; exceptions that stay open follow it."""


@dataclass(frozen=True, slots=True)
class InputGiven(Event):
    """A value from the job ticket."""

    name: str
    ask: str
    typed: str
    shown: str
    value: Scalar
    magnitude: float | None
    unit: str
    verdict: str
    """in or unlikely."""
    origin: str = ""
    """How it came: typed, job file and the like; empty where that is not known."""


@dataclass(frozen=True, slots=True)
class Paused(Event):
    """The run is interrupted on purpose."""

    intention: str


@dataclass(frozen=True, slots=True)
class MadeSafe(Event):
    """Stopped and made safe, past every hold."""

    words: str
    acts: tuple[str, ...]
    """The author's list as shown."""


@dataclass(frozen=True, slots=True)
class SafeActDone(Event):
    """One act of the list is done."""

    number: int
    act: str
    made: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class SafeActNotNeeded(Event):
    """One act of the list is said to be not needed, and why; it changes no state."""

    number: int
    act: str
    reason: str


@dataclass(frozen=True, slots=True)
class Resumed(Event):
    """The run goes on; the states named are unconfirmed until looked at."""

    after: str
    """pause, make-safe or interruption (the program had ended)."""
    unconfirmed: tuple[tuple[str, str], ...]
    """(state, value before)."""
    intention: str


@dataclass(frozen=True, slots=True)
class SignedOn(Event):
    """A person took a role."""

    role: str


@dataclass(frozen=True, slots=True)
class HandedOver(Event):
    """A role passed to another person, who read back what is open."""

    role: str
    to: str
    read_back: str


@dataclass(frozen=True, slots=True)
class IdentityGiven(Event):
    """How it was established that `by` is that person, for the act that follows in the same action."""

    act: str
    """What the person wanted, as one word of the program: release-hold and the like."""
    step: str
    """Where it was for a step; may be empty."""
    how: str
    """verified by PIN, or identity not verified."""


@dataclass(frozen=True, slots=True)
class PinRefused(Event):
    """A wrong PIN was given for a name. The PIN itself is never kept."""

    name: str
    act: str
    step: str
    tries: int
    """How many wrong ones in a row for this name."""
    wait_s: float
    """How long no PIN is taken for this name from here."""


@dataclass(frozen=True, slots=True)
class Finished(Event):
    """The run ended as done."""

    open_exceptions: int


@dataclass(frozen=True, slots=True)
class Abandoned(Event):
    """The run ended unfinished."""

    reason: str


@dataclass(frozen=True, slots=True)
class Sealed(Event):
    """The record is closed: this line vouches for all before it. The few events that may follow are sealed anew."""

    head: str
    """The hash of the line before."""
    count: int
    """How many lines stand before."""
    outcome: str
    """finished or abandoned."""
    key: str = ""
    """The public Ed25519 key of the terminal, 64 hexadecimal digits; empty where it is not signed."""
    signature: str = ""
    """By that key, 128 hexadecimal digits."""


@dataclass(frozen=True, slots=True)
class TailSetAside(Event):
    """On opening, an incomplete last line was set aside: nobody had been told that it was kept."""

    bytes_set_aside: int
    file: str


@dataclass(frozen=True, slots=True)
class ClockStepped(Event):
    """The wall clock and the steady clock disagree by more than two seconds since the last event."""

    seconds: float
