"""A scenario as values: what the equipment shows, what goes wrong, what counts as right, what is unsafe.

Texts are as written; what a value means is decided where the procedure is known. Every part knows its place.
"""

from typing import NamedTuple

from runner.procedure.finding import Place
from runner.procedure.job import Given


class Shown(NamedTuple):
    """What an ask shows."""

    ask: str
    values: tuple[str, ...]
    """One after the other, an entry each attempt of the step; the last one stays."""
    gauge: tuple[float, float] | None
    """The ends of the dial, in the unit of the ask; None: it stands on a card."""
    words: str
    given: bool
    place: Place

    def at(self, attempt: int) -> str:
        """What is shown at an attempt, counted from 1."""
        return self.values[min(max(attempt, 1), len(self.values)) - 1]


class Deed(NamedTuple):
    """A right response, an unsafe act, or what a criterion looks for."""

    kind: str
    """Its key: trouble, out, note, begin, answered ..."""
    of: str
    """What stands under the key; empty for a flag and for a look."""
    looks: tuple[tuple[str, str], ...]
    """For a look: (state, value)."""
    place: Place


class Fault(NamedTuple):
    """Something that goes wrong on purpose."""

    id: str
    kind: str
    at: tuple[str, ...]
    """Steps, of which one is drawn."""
    words: str
    shows: tuple[Shown, ...]
    absent: str
    seeded: bool
    right: tuple[Deed, ...]
    unsafe: tuple[Deed, ...]
    hints: tuple[str, ...]
    place: Place
    places: tuple[tuple[str, Place], ...]
    """Where its keys stand."""


class Question(NamedTuple):
    """What the coach asks."""

    id: str
    at: str
    ask: str
    listen_for: tuple[str, ...]
    place: Place


class Criterion(NamedTuple):
    """What the result is judged by."""

    id: str
    words: str
    deed: Deed
    place: Place


class Scenario(NamedTuple):
    """A whole file."""

    id: str
    procedure: str
    file: str
    title: str
    purpose: str
    trainee: str
    level: str
    inputs: tuple[Given, ...]
    crew: tuple[Given, ...]
    shows: tuple[Shown, ...]
    start_at: str
    stop_after: str
    faults: tuple[Fault, ...]
    draw: int
    hints: tuple[tuple[str, tuple[str, ...]], ...]
    questions: tuple[Question, ...]
    criteria: tuple[Criterion, ...]
    places: tuple[tuple[str, Place], ...]
    """Where its keys stand; under `hints/STEP` those of the steps."""

    def place(self, key: str) -> Place:
        """Where a key stands; the beginning of the file where it is left out."""
        return dict(self.places).get(key) or dict(self.places)["scenario"]

    def fault(self, fault_id: str) -> Fault | None:
        """The fault of that id."""
        return next((fault for fault in self.faults if fault.id == fault_id), None)
