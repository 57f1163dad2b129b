"""Events that leave the plain way: troubles, going back, exceptions and looks at the press."""

from runner.engine.events.event import Event
from runner.engine.frozen import dataclass


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
class OldValueUsed(Event):
    """A value was corrected after steps had gone by the old one: somebody must decide about them."""

    name: str
    old: str
    new: str
    done: tuple[str, ...]
    """Steps done, or in progress, with what the correction changed."""
    passed: tuple[str, ...]
    """Steps passed over as not applicable, that would apply now."""
    exception: int
    """The exception that asks for the decision."""


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
