"""Events of lists that are ticked one by one: rollers of a path, points of a hold. Each stands on record as it is made,
so that a run that breaks off in the middle shows what was ticked and by whom.
"""

from runner.engine.events.event import Event
from runner.engine.frozen import dataclass


@dataclass(frozen=True, slots=True)
class RollerThreaded(Event):
    """The next roller of a path was ticked; `by` is the person who threaded it."""

    step: str
    name: str
    """Of the ask."""
    number: int
    """Of the roller in the path, from 1."""
    roller: str
    """With the side on which the web passes, as shown."""


@dataclass(frozen=True, slots=True)
class RollerTakenBack(Event):
    """The tick that was made last does not count."""

    step: str
    name: str
    number: int
    roller: str


@dataclass(frozen=True, slots=True)
class ConfirmationTicked(Event):
    """A point of a hold was confirmed; `by` is the person who means to release it."""

    step: str
    point: str


@dataclass(frozen=True, slots=True)
class ConfirmationTakenBack(Event):
    """A point of a hold is not confirmed any more."""

    step: str
    point: str


@dataclass(frozen=True, slots=True)
class ActRefused(Event):
    """A person wanted to release, to accept or to look second, and was refused; nothing else changed."""

    step: str
    act: str
    """What they wanted to do: release, accept or second look."""
    why: str
