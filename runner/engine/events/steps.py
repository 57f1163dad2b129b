"""Events of the plain way through the steps. What was shown to a person stands in the event."""

from runner.engine.events.event import Event
from runner.engine.frozen import dataclass


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
