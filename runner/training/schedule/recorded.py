"""What records say of the same procedure: how long each step took, the standstill, and the chain of the newest run."""

from typing import NamedTuple

from runner.report.times.gathered import Gathered
from runner.training.schedule.chart import Bar, minutes


class Recorded(NamedTuple):
    """Of the runs whose times count. Seconds."""

    runs: int
    medians: dict[str, float]
    """By step."""
    stood: float | None
    """Median from last good to first good; None where no run has it."""
    chain: tuple[Bar, ...]
    """Of the newest run: what followed what without a gap of somebody else's making."""


NOTHING = Recorded(0, {}, None, ())


def recorded(found: Gathered) -> Recorded:
    """What there is to compare with."""
    first = found.chain[0].since if found.chain else 0.0
    chain = []
    for link in found.chain:
        number = found.plan[link.step].number if link.step in found.plan else link.step
        start, end = link.since - first, link.since - first + link.took
        words = f"step {number} {link.step}: {minutes(start)} to {minutes(end)} min, as recorded"
        chain.append(Bar(start, end, number, words))
    medians = {step.step: step.spread.median for step in found.steps}
    return Recorded(len(found.timed), medians, found.stood.median if found.stood is not None else None, tuple(chain))
