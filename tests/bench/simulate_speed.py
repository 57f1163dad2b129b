"""Prints how many whole runs a core simulates in a second without disk: python -m tests.bench.simulate_speed [RUNS]

Goal: 200 runs of change-roll a second. The machine is told by a loop of plain Python timed beside it, as runs a million turns
of that loop: a figure that stays when the machine is slower. Where the time goes is told by the engine's own parts.
"""

import cProfile
import pstats
import sys
import time

from runner.training.simulate.many import Simulation, seeds_of
from runner.training.simulate.rates import PLAIN, Rates
from tests.training.simulate.test_runs import shipped

TURNS = 1_000_000
PARTS = {
    "drawing the job": ("jobs.py", "draw"),
    "beginning a run": ("walk.py", "begun"),
    "what is decided": ("decide.py", "_decided"),
    "what follows": ("settle.py", "settled"),
    "of which values": ("settle.py", "_worked_out"),
    "of which state": ("evolve.py", "evolve"),
}


def loop_seconds() -> float:
    """A million turns of a plain loop."""
    began, total = time.process_time(), 0
    for number in range(TURNS):
        total += number & 7
    return time.process_time() - began


def main() -> None:
    """Speed of each shipped procedure, then the parts of change-roll."""
    runs = int(sys.argv[1]) if len(sys.argv) > 1 else 100
    for name in ("change-roll", "web-break", "slitter-knives"):
        procedure = shipped(name)
        for word, rates in (("as set", Rates()), ("plain", PLAIN)):
            simulation = Simulation(procedure, rates)
            began = time.process_time()
            _ = simulation.jobs.anchors
            drawn = time.process_time() - began
            yardstick = loop_seconds()
            began = time.process_time()
            simulation.play(seeds_of(1, runs))
            spent = time.process_time() - began
            print(
                f"{name:<16} {word:<7} {runs / spent:7.1f} runs/s  {simulation.events / spent:9.0f} events/s  "
                f"{runs / spent * yardstick:6.3f} runs a million turns  (jobs before: {drawn:.1f} s)"
            )
    simulation = Simulation(shipped("change-roll"), Rates())
    _ = simulation.jobs.anchors
    profile = cProfile.Profile()
    profile.runcall(simulation.play, seeds_of(1, min(runs, 40)))
    told(pstats.Stats(profile))


def told(stats: pstats.Stats) -> None:
    """The share of each part, with what it calls."""
    entries = stats.stats  # type: ignore[attr-defined] # the table behind the report, as its documentation says
    for words, (file, name) in PARTS.items():
        spent = sum(row[3] for (path, _, function), row in entries.items() if function == name and path.endswith(file))
        print(f"{words:<18} {100 * spent / stats.total_tt:5.1f} %")  # type: ignore[attr-defined] # the same


if __name__ == "__main__":
    main()
