"""Many runs of one procedure, and what they come to: outcomes, coverage, refusals and dead ends with their seeds, times.

A run's seed is the seed of them all with its number, `1-734`, and plays that run again wherever it stands.
"""

import re
from collections import Counter
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field

from runner.procedure.model import Procedure
from runner.training.simulate.coverage import Coverage
from runner.training.simulate.door import Opener, open_unkept
from runner.training.simulate.jobs import Jobs
from runner.training.simulate.rates import Rates
from runner.training.simulate.schedule import stopped_seconds
from runner.training.simulate.times import Times
from runner.training.simulate.walk import Walk

SEEDS_KEPT = 5
"""Of each refusal and dead end."""
NUMBER = re.compile(r"-?[0-9]+(\.[0-9]+)?")
"""Refusals that differ in numbers alone are one."""


@dataclass(slots=True)
class Met:
    """A refusal or dead end: how often, how it read first, in which runs."""

    words: str
    count: int = 0
    seeds: list[str] = field(default_factory=list)

    def join(self, later: "Met") -> None:
        """Those of later runs."""
        self.count += later.count
        self.seeds = list(dict.fromkeys((*self.seeds, *later.seeds)))[:SEEDS_KEPT]


class Simulation:
    """Plays runs and adds them up."""

    def __init__(self, procedure: Procedure, rates: Rates, opener: Opener = open_unkept) -> None:
        self.procedure, self.rates, self.opener = procedure, rates, opener
        self.jobs = Jobs(procedure)
        self.coverage = Coverage(procedure)
        self.times = Times(procedure)
        self.outcomes: Counter[str] = Counter()
        self.runs = self.events = self.jobs_refused = 0
        self.refusals: dict[tuple[str, str, str], Met] = {}
        self.dead_ends: dict[str, Met] = {}

    def play(self, seeds: Iterable[str], told: Callable[[int], None] = lambda _: None) -> "Simulation":
        """All runs; `told` hears after each how many there are."""
        for seed in seeds:
            self.add(self.one(seed))
            told(self.runs)
        return self

    def one(self, seed: str) -> Walk:
        """One run, by its seed."""
        return Walk(self.procedure, self.jobs, seed, self.rates, self.opener).play()

    def add(self, walk: Walk) -> None:
        """What a run came to."""
        self.runs += 1
        self.events += len(walk.events)
        self.outcomes[walk.outcome] += 1
        self.jobs_refused += bool(walk.job_refused)
        self.coverage.add(walk.events, walk.job_refused)
        for refused in walk.refused:
            key = (refused.act, refused.step, NUMBER.sub("#", refused.words))
            met = self.refusals.setdefault(key, Met(refused.words))
            note(met, walk.seed)
        if walk.dead_end:
            note(self.dead_ends.setdefault(NUMBER.sub("#", walk.dead_end), Met(walk.dead_end)), walk.seed)
        if walk.outcome == "finished":
            self.times.add(walk.schedule, walk.clock.tick, stopped_seconds(self.procedure, walk.schedule))


def note(met: Met, seed: str) -> None:
    """Once more."""
    met.count += 1
    if len(met.seeds) < SEEDS_KEPT and seed not in met.seeds:
        met.seeds.append(seed)


def seeds_of(seed: int, runs: int) -> Iterable[str]:
    """The seeds of so many runs."""
    return (f"{seed}-{number}" for number in range(runs))
