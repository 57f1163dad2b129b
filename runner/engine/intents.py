"""What a person wants now. An intent may be refused and leaves no trace in the state then.

`by` is the name of the person who wants it. `at` is stamped by `record.run.Run.submit`, so that no screen asks the
time. Steps are named by id.
"""

from dataclasses import field
from typing import NamedTuple

from runner.engine.events.event import Event
from runner.engine.events.training import ScenarioTaken, TrainingNoted
from runner.engine.frozen import dataclass
from runner.engine.moment import UNSTAMPED, Moment
from runner.procedure.site_facts import NONE, Facts


@dataclass(frozen=True, slots=True)
class Intent:
    """The common part of all intents."""

    by: str
    at: Moment = field(default=UNSTAMPED, kw_only=True)
    verified: tuple[str, ...] = field(default=(), kw_only=True)
    """Names whose PIN was checked for this intent, outside the engine. Set by `record.run.Run.submit` alone."""
    told: tuple[tuple[str, str, str], ...] = field(default=(), kw_only=True)
    """(role, name, why) of those who take a role without standing in the register of qualifications. Set there as well."""
    paper: str = field(default="", kw_only=True)
    """When it was done on paper, as typed, where it is entered later; empty where it is entered as it is done."""


class LeftOpen(NamedTuple):
    """An exception that an earlier run at the same equipment left open."""

    run: str
    number: int
    title: str
    """Of the procedure of that run."""
    kind: str
    severity: str
    words: str
    owner: str
    blocking: bool
    by: str
    at: str
    """UTC, RFC 3339."""


@dataclass(frozen=True, slots=True)
class BeginRun(Intent):
    """Start a run of the compiled procedure, with the job's values as typed."""

    run: str
    mode: str
    """live or dry."""
    played: bool
    """True where answers come from a file and time is stepped, not from people at a press."""
    crew: tuple[tuple[str, str], ...]
    """(role, name of the person)."""
    inputs: tuple[tuple[str, str], ...]
    """(name, as typed)."""
    program: str
    """Name and version of this program."""
    origins: tuple[tuple[str, str], ...] = ()
    """(input, how its value came: typed, job file ...), where that is known."""
    site_people: tuple[str, ...] = ()
    """Names that the site file knows: each gives a PIN."""
    unknown: str = ""
    """What the site says of other names: refused or allowed; empty without a site file."""
    facts: Facts = NONE
    """What the site says of pieces, lifting gear and shifts."""
    left_open: tuple[LeftOpen, ...] = ()
    """Exceptions that follow the press into this run. Set by `record.run.Run.begin` from the store alone."""


@dataclass(frozen=True, slots=True)
class ReadCautions(Intent):
    """The cautions of the step that is up have been read."""

    step: str


@dataclass(frozen=True, slots=True)
class NameReleaser(Intent):
    """`by` means to release the hold of the step that is up; refused, on record, where they may not."""

    step: str


@dataclass(frozen=True, slots=True)
class NameSecond(Intent):
    """`by` means to look second at the step that is up; refused, on record, where they may not."""

    step: str


@dataclass(frozen=True, slots=True)
class TickConfirmation(Intent):
    """Tick a point of the hold, or take the tick back; `by` is the person who means to release."""

    step: str
    point: str
    ticked: bool = True


@dataclass(frozen=True, slots=True)
class TickRoller(Intent):
    """Tick the next roller of the path that is being threaded, or take the last tick back."""

    step: str
    number: int
    """Of the roller, from 1: a tick counts for the roller that was seen."""
    ticked: bool = True


@dataclass(frozen=True, slots=True)
class ReleaseHold(Intent):
    """Release the hold of the step that is up; `by` is the releaser, `confirmed` the texts they ticked."""

    step: str
    confirmed: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class AcceptPieces(Intent):
    """Accept the nearest choice of pieces for the step that is up; `by` is a person of the role that may."""

    step: str
    name: str
    """The split."""
    why: str


@dataclass(frozen=True, slots=True)
class BeginStep(Intent):
    """Begin the step that is up."""

    step: str


@dataclass(frozen=True, slots=True)
class GiveAnswer(Intent):
    """Answer one ask of a step that has begun, as typed."""

    step: str
    name: str
    typed: str


@dataclass(frozen=True, slots=True)
class GiveSecondLook(Intent):
    """The second person's answers; empty answers where nothing is asked: they agree with what they see."""

    step: str
    answers: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, slots=True)
class EndStep(Intent):
    """The step is done as written."""

    step: str


@dataclass(frozen=True, slots=True)
class MeetTrouble(Intent):
    """A trouble of the step has come about: its attempt ends and the author's way on is taken."""

    step: str
    trouble: str
    words: str = ""


@dataclass(frozen=True, slots=True)
class LeaveOut(Intent):
    """Leave out an optional step that has not begun."""

    step: str
    reason: str
    authority: str = ""
    """The name of the person who agrees, where the author asks for a role's agreement."""


@dataclass(frozen=True, slots=True)
class GoBack(Intent):
    """Go back to an earlier step of the same list; the steps from there are to be done again."""

    step: str
    reason: str


@dataclass(frozen=True, slots=True)
class NoteException(Intent):
    """Something is not as expected. Never refused for want of a place: `step` may be empty."""

    step: str
    kind: str
    """One of runner.engine.state.EXCEPTION_KINDS."""
    severity: str
    """note, minor or serious."""
    words: str
    owner: str = ""


@dataclass(frozen=True, slots=True)
class CloseException(Intent):
    """An open exception is dealt with."""

    number: int
    words: str


@dataclass(frozen=True, slots=True)
class ReadExceptions(Intent):
    """`by` has read all carried exceptions that nobody has read yet."""


@dataclass(frozen=True, slots=True)
class AcceptException(Intent):
    """`by`, of a role that releases holds here, takes it on that work goes on with a carried exception that blocks."""

    number: int
    why: str


@dataclass(frozen=True, slots=True)
class LookAt(Intent):
    """Say what a tracked state is, having looked."""

    state: str
    value: str


@dataclass(frozen=True, slots=True)
class Pause(Intent):
    """Interrupt the run; `intention` says what was to be done next."""

    intention: str


@dataclass(frozen=True, slots=True)
class MakeSafe(Intent):
    """Stop and make safe, past every hold. Never refused while the run is open."""

    words: str = ""


@dataclass(frozen=True, slots=True)
class DoSafeAct(Intent):
    """One act of the make-safe list is done."""

    number: int
    """Counted from 0 in the list that applies."""


@dataclass(frozen=True, slots=True)
class SkipSafeAct(Intent):
    """One act of the make-safe list is not needed, and why."""

    number: int
    reason: str


@dataclass(frozen=True, slots=True)
class Resume(Intent):
    """Go on after a pause, an interruption or making safe."""


@dataclass(frozen=True, slots=True)
class HandOver(Intent):
    """A role passes from `by` to another person, who has read back what is open."""

    role: str
    to: str
    read_back: str


@dataclass(frozen=True, slots=True)
class SignOn(Intent):
    """A person takes a role that nobody has."""

    role: str


@dataclass(frozen=True, slots=True)
class CorrectAnswer(Intent):
    """A given answer was wrong; the old one stays on record."""

    step: str
    name: str
    typed: str
    reason: str


@dataclass(frozen=True, slots=True)
class NoteTraining(Intent):
    """Keep what no run at a press has; `ends`: and end the dry run with it."""

    noted: ScenarioTaken | TrainingNoted
    ends: bool = False


@dataclass(frozen=True, slots=True)
class Finish(Intent):
    """End the run as done."""


@dataclass(frozen=True, slots=True)
class Abandon(Intent):
    """End the run unfinished."""

    reason: str


@dataclass(frozen=True, slots=True)
class DisposeExceptions(Intent):
    """After the end of the run a reviewer decides what becomes of exceptions."""

    numbers: tuple[int, ...]
    disposition: str
    """One of runner.engine.state.DISPOSITIONS."""
    words: str


@dataclass(frozen=True, slots=True)
class SignRun(Intent):
    """After the end of the run a person puts their name to the record as it is now."""

    meaning: str
    """One of runner.engine.state.MEANINGS."""
    words: str = ""
    head: str = field(default="", kw_only=True)
    """The hash of the newest line. Set by `record.run.Run.submit` alone, as is the next."""
    count: int = field(default=0, kw_only=True)
    """How many lines the record has."""


AnyIntent = (
    BeginRun
    | ReadCautions
    | NameReleaser
    | NameSecond
    | TickConfirmation
    | TickRoller
    | ReleaseHold
    | AcceptPieces
    | BeginStep
    | GiveAnswer
    | GiveSecondLook
    | EndStep
    | MeetTrouble
    | LeaveOut
    | GoBack
    | NoteException
    | CloseException
    | ReadExceptions
    | AcceptException
    | LookAt
    | Pause
    | MakeSafe
    | DoSafeAct
    | SkipSafeAct
    | Resume
    | HandOver
    | SignOn
    | CorrectAnswer
    | NoteTraining
    | Finish
    | Abandon
    | DisposeExceptions
    | SignRun
)
"""Every kind of intent."""


@dataclass(frozen=True, slots=True)
class WithPin:
    """An intent with the PINs of those who must give one. Never kept: it ends where they are checked."""

    intent: AnyIntent
    pins: tuple[tuple[str, str], ...] = field(repr=False)
    """(name, PIN as typed)."""


Wanted = AnyIntent | WithPin
"""What a run takes."""


@dataclass(frozen=True, slots=True)
class Refusal:
    """Why an intent was not taken, in the operator's words."""

    reason: str
    missing: tuple[str, ...] = field(default=())
    """What is missing, one thing a line."""
    kept: tuple[Event, ...] = field(default=())
    """What goes on record all the same: who wanted to do what they may not."""
    pin_of: str = ""
    """The person whose PIN is all that is missing; empty where it is something else."""
    when: bool = False
    """True where all that is missing is when it was done on paper."""
