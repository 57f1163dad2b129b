"""What happened: frozen, past tense, complete without looking elsewhere.

An event holds only text, numbers, truth values and tuples of those, so that a journal line keeps it exactly. What was
shown to a person, and the working behind a value, stands in the event: a report quotes, it never recomputes.
`EVENTS` at the end is the one list; the journal's words come from the class names.
"""

from dataclasses import dataclass

from runner.engine.moment import Moment

Scalar = str | float | bool


@dataclass(frozen=True, slots=True)
class Event:
    """The common part of all events: who and when."""

    by: str
    """The name of the person; empty for what followed by itself."""
    at: Moment


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
    """in, out (a limit is broken, or no pieces within tolerance) or failed (no result; `shown` says why)."""
    ends: tuple[tuple[tuple[str, int], ...], ...] = ()
    """For pieces: for each end, (piece, how many)."""


@dataclass(frozen=True, slots=True)
class CautionsRead(Event):
    """The step's cautions were read before the act."""

    step: str
    cautions: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class HoldReached(Event):
    """The engine stops before the step."""

    step: str
    release: str


@dataclass(frozen=True, slots=True)
class HoldReleased(Event):
    """A person of the role released it; `by` is that person."""

    step: str
    role: str
    confirmed: tuple[str, ...]
    basis: tuple[tuple[str, str], ...]
    """(state, value) of what the step needs, as it was when released."""


@dataclass(frozen=True, slots=True)
class HoldRevoked(Event):
    """What the release stood on has changed: it must be released again."""

    step: str
    why: str


@dataclass(frozen=True, slots=True)
class StepBegun(Event):
    """The attempt has begun; what the step makes is unknown from here."""

    step: str
    number: str
    attempt: int
    act: str
    """The instruction as shown, with its numbers."""


@dataclass(frozen=True, slots=True)
class WaitBegun(Event):
    """A waiting time runs from here."""

    step: str
    name: str
    at_least_s: float


@dataclass(frozen=True, slots=True)
class WaitEnded(Event):
    """The waiting time was kept; `late` where the author's longest time had passed."""

    step: str
    name: str
    waited_s: float
    late: bool


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


@dataclass(frozen=True, slots=True)
class StepDone(Event):
    """The step is done; what it makes has its new value."""

    step: str
    number: str
    made: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class StepRepeated(Event):
    """The condition does not hold yet: the step is done again."""

    step: str
    passes: int
    until: str


@dataclass(frozen=True, slots=True)
class StepNotApplicable(Event):
    """Its condition is false for this job."""

    step: str
    number: str
    why: str


@dataclass(frozen=True, slots=True)
class StepLeftOut(Event):
    """An optional step was left out."""

    step: str
    number: str
    reason: str
    authority: str


@dataclass(frozen=True, slots=True)
class TroubleMet(Event):
    """The attempt ended in a trouble; what the step makes stays unknown."""

    step: str
    number: str
    trouble: str
    sign: str
    do: str
    way_on: str
    to: str
    """The step gone back to, where way_on is back_to."""


@dataclass(frozen=True, slots=True)
class WentBack(Event):
    """The list goes on from an earlier step; the steps from there are to be done again."""

    step: str
    reason: str
    again: tuple[str, ...]
    """Steps that are to be done again."""
    stale: tuple[str, ...]
    """Values that must be given or worked out again."""


@dataclass(frozen=True, slots=True)
class ExceptionNoted(Event):
    """Something was not as expected."""

    number: int
    kind: str
    severity: str
    words: str
    step: str
    owner: str
    blocking: bool


@dataclass(frozen=True, slots=True)
class ExceptionClosed(Event):
    """It was dealt with."""

    number: int
    words: str


@dataclass(frozen=True, slots=True)
class StateSeen(Event):
    """A person looked; `was` is what the runner took it for, or unknown."""

    state: str
    value: str
    was: str


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
class Finished(Event):
    """The run ended as done."""

    open_exceptions: int


@dataclass(frozen=True, slots=True)
class Abandoned(Event):
    """The run ended unfinished."""

    reason: str


@dataclass(frozen=True, slots=True)
class TailSetAside(Event):
    """On opening, an incomplete last line was set aside: nobody had been told that it was kept."""

    bytes_set_aside: int
    file: str


@dataclass(frozen=True, slots=True)
class ClockStepped(Event):
    """The wall clock and the steady clock disagree by more than two seconds since the last event."""

    seconds: float


EVENTS: tuple[type[Event], ...] = (
    RunBegun,
    InputGiven,
    WorkedOut,
    CautionsRead,
    HoldReached,
    HoldReleased,
    HoldRevoked,
    StepBegun,
    WaitBegun,
    WaitEnded,
    Answered,
    AnswerCorrected,
    LookedTwice,
    StepDone,
    StepRepeated,
    StepNotApplicable,
    StepLeftOut,
    TroubleMet,
    WentBack,
    ExceptionNoted,
    ExceptionClosed,
    StateSeen,
    Paused,
    MadeSafe,
    SafeActDone,
    Resumed,
    SignedOn,
    HandedOver,
    Finished,
    Abandoned,
    TailSetAside,
    ClockStepped,
)
"""Every kind of event, in the order in which a reader meets them."""
