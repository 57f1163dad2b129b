"""One simulated run told event by event, with what was refused and where it ended."""

from typing import NamedTuple

from runner.engine import events as ev
from runner.procedure.clean import clean
from runner.training.simulate.walk import Refused, Walk

SAID = (
    "number",
    "step",
    "name",
    "typed",
    "shown",
    "verdict",
    "trouble",
    "state",
    "value",
    "words",
    "reason",
    "why",
    "act",
)
"""Fields of an event that are told, in this order, where it has them."""


class Line(NamedTuple):
    """One event."""

    seconds: float
    event: str
    by: str
    words: str


class Story(NamedTuple):
    """The whole run."""

    seed: str
    outcome: str
    dead_end: str
    job_refused: tuple[str, ...]
    refused: tuple[Refused, ...]
    events: tuple[Line, ...]

    def lines(self) -> list[str]:
        """For a terminal."""
        told = [f"{one.seconds / 60:7.1f}  {one.event:<18} {one.by:<18} {one.words}".rstrip() for one in self.events]
        told += [f"a job came first that may not begin: {clean(line)}" for line in self.job_refused]
        told += [f"refused: {one.act} {one.step}: {clean(one.words)}" for one in self.refused]
        return [
            *told,
            *([f"dead end: {clean(self.dead_end)}"] if self.dead_end else []),
            f"{self.seed}: {self.outcome}",
        ]

    def data(self) -> dict[str, object]:
        """For JSON."""
        return {
            **self._asdict(),
            "refused": [one._asdict() for one in self.refused],
            "events": [one._asdict() for one in self.events],
        }


def story_of(walk: Walk) -> Story:
    """What happened in a run."""
    events = tuple(line_of(event) for event in walk.events)
    return Story(walk.seed, walk.outcome, walk.dead_end, walk.job_refused, tuple(walk.refused), events)


def line_of(event: ev.Event) -> Line:
    """An event in one line."""
    found = (getattr(event, name, "") for name in SAID)
    words = " | ".join(clean(str(one)) for one in found if one not in {"", None})
    return Line(event.at.tick, type(event).__name__, event.by, words)
