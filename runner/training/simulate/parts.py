"""Runs played by several processes at once, and added up as if one had played them all.

Runs are dealt out in batches of neighbouring seeds, and what they came to is added in the order of the seeds, so that the
result is the same for any number of processes. Each run is played by its own seed: its journal is the same as well.
"""

from collections import Counter
from collections.abc import Callable, Iterator
from signal import SIG_IGN, SIGINT, signal
from typing import NamedTuple

from runner.procedure.model import Procedure
from runner.training.simulate.coverage import Spot
from runner.training.simulate.door import Opener
from runner.training.simulate.jobs import Point
from runner.training.simulate.many import Met, Simulation
from runner.training.simulate.rates import Rates
from runner.training.simulate.schedule import Attempt

BATCH = 40
"""Runs that a process plays before it tells of them."""


class Part(NamedTuple):
    """What some of the runs came to, as one process tells another."""

    runs: int
    events: int
    jobs_refused: int
    outcomes: Counter[str]
    spots: Counter[Spot]
    refusals: dict[tuple[str, str, str], Met]
    dead_ends: dict[str, Met]
    totals: list[float]
    stopped: list[float]
    schedules: list[tuple[Attempt, ...]]


class Dealt(NamedTuple):
    """What a process needs to play runs."""

    procedure: Procedure
    rates: Rates
    opener: Opener
    anchors: tuple[Point, ...]
    """Jobs from which runs draw theirs: found once, since that takes a while."""


class Player:
    """The one of this process, once it was told what to play."""

    dealt: Dealt | None = None


def told(dealt: Dealt) -> None:
    """Keep what is to be played. A person who breaks off speaks to the first process, which ends this one."""
    signal(SIGINT, SIG_IGN)
    Player.dealt = dealt


def batch(seeds: tuple[str, ...]) -> Part:
    """Play some runs."""
    assert Player.dealt is not None  # told when the process began
    procedure, rates, opener, anchors = Player.dealt
    simulation = Simulation(procedure, rates, opener)
    simulation.jobs.anchors = anchors
    return part_of(simulation.play(seeds))


def part_of(simulation: Simulation) -> Part:
    """What runs came to, without what they were played with."""
    times = simulation.times
    return Part(
        simulation.runs, simulation.events, simulation.jobs_refused, simulation.outcomes, simulation.coverage.runs,
        simulation.refusals, simulation.dead_ends, times.totals, times.stopped, times.schedules,
    )  # fmt: skip


def add(simulation: Simulation, part: Part) -> None:
    """Add what runs of later seeds came to."""
    simulation.runs += part.runs
    simulation.events += part.events
    simulation.jobs_refused += part.jobs_refused
    simulation.outcomes.update(part.outcomes)
    simulation.coverage.runs.update(part.spots)
    for key, met in part.refusals.items():
        simulation.refusals.setdefault(key, Met(met.words)).join(met)
    for words, met in part.dead_ends.items():
        simulation.dead_ends.setdefault(words, Met(met.words)).join(met)
    simulation.times.join(part.totals, part.stopped, part.schedules)


def batches(seeds: tuple[str, ...]) -> Iterator[tuple[str, ...]]:
    """Neighbouring seeds together."""
    return (seeds[at : at + BATCH] for at in range(0, len(seeds), BATCH))


def play_beside(
    simulation: Simulation, seeds: tuple[str, ...], processes: int, said: Callable[[int], None] = lambda _: None
) -> Simulation:
    """All runs, by so many processes; `said` hears after each batch how many there are."""
    from multiprocessing import Pool

    dealt = Dealt(simulation.procedure, simulation.rates, simulation.opener, simulation.jobs.anchors)
    with Pool(processes, told, (dealt,)) as pool:  # ends its processes at once, however it is left
        for part in pool.imap(batch, batches(seeds)):
            add(simulation, part)
            said(simulation.runs)
    return simulation
