"""Events of a dry run with a scenario: what it is, and what of it no run at a press has. None of them changes the run."""

from runner.engine.events.event import Event
from runner.engine.frozen import dataclass

TRAINING = {
    "criteria": "the criteria were shown before an assessment began",
    "played": "the steps up to this one were played by the program",
    "fault": "a fault came",
    "shown": "what the equipment showed where the step asks",
    "given": "the scenario answered in the trainee's place",
    "answered": "a fault had its right response",
    "hint": "a hint was taken",
    "question": "the coach asked, and judged the answer",
    "time": "the time was stepped through a wait",
    "unsafe": "an unsafe act, for as long as the fault had no right response",
    "tried": "something was tried in the name of somebody who was not there, and refused",
    "over": "the scenario is over",
    "stopped": "the coach, or an unsafe act in an assessment, stopped it",
}
"""The kinds of what is noted."""


@dataclass(frozen=True, slots=True)
class ScenarioTaken(Event):
    """The dry run follows a scenario, which is pinned whole."""

    scenario: str
    title: str
    text: str
    digest: str
    """SHA-256 of the text, in hexadecimal."""
    assessed: bool
    """True for an assessment: no hints, and an unsafe act ends it."""
    trainee: str
    coach: str
    seed: int
    """Decides which of the seeded faults come, and where."""
    faults: tuple[tuple[str, str], ...]
    """(fault, step) of those that come."""
    criteria: tuple[tuple[str, str], ...]
    """(criterion, words) as shown."""


@dataclass(frozen=True, slots=True)
class TrainingNoted(Event):
    """Something of a dry run with a scenario."""

    kind: str
    """criteria, played, fault, shown, given, answered, hint, question, time, unsafe, tried, over or stopped."""
    step: str
    """Where it was; may be empty."""
    about: str
    """The fault, ask, question or criterion that it is about; may be empty."""
    words: str
    """As they were shown or said."""
    number: float
    """The level of a hint, the seconds that were stepped, the share of a question that was answered (0, 0.5 or 1)."""
