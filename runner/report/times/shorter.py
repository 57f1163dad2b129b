"""What would shorten the standstill: the causes that lie on the chains, each with what to look at, the largest first.

Only what is on the chain while the press is stopped counts. Nothing here says that a hold, a look, a wait of the procedure
or a caution may be left out; what counts of a release or a second look is the waiting for somebody to come.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from runner.report.times.run_times import RunTimes
from runner.report.times.visits import DONE, KEPT, RELEASE, Stretches

if TYPE_CHECKING:
    from runner.report.times.figures import Figures

ADVICE: dict[str, str] = {
    "release": "Let the one who releases know when work comes near, so that the look begins at once.",
    "second": "Let the second person know when work comes near.",
    "list": "See whether a new revision can share or order the steps so that neither list stands; lint proves its order.",
    "again": "See what the troubles have in common, and what could keep them from coming.",
    "halt": "See why the run was halted, and whether that could have been foreseen.",
    "between": "See what is fetched, looked for or waited for here; stage it while the press runs.",
    "running": "It needs no state and makes none: see whether a new revision can have it done while the press runs.",
}
"""What to look at, by kind of cause; the one list of kinds."""


@dataclass(frozen=True, slots=True)
class Cause:
    """Something that made the standstill longer."""

    kind: str
    """Of ADVICE."""
    what: str
    runs: int
    """In how many runs."""
    seconds: float
    """In all of them together. To take it away would save at most so much: another chain may then be the longest."""


def causes_of(runs: Sequence["Figures"]) -> tuple[Cause, ...]:
    """The causes over runs, the largest first."""
    seconds: dict[tuple[str, str], float] = {}
    held: dict[tuple[str, str], int] = {}
    for run in runs:
        for kind, what, took in run.causes:
            seconds[kind, what] = seconds.get((kind, what), 0.0) + took
            held[kind, what] = held.get((kind, what), 0) + 1
    found = [Cause(kind, what, held[kind, what], took) for (kind, what), took in seconds.items()]
    return tuple(sorted(found, key=lambda cause: (-cause.seconds, cause.what)))


def parts_of(run: RunTimes, stretches: Stretches) -> Iterator[tuple[str, str, float]]:
    """(kind, what, seconds) along the chain of one run; each second is in one part at most, but that a list which waits
    does so beside the steps of the other."""
    plan = run.plan
    for at, link in enumerate(run.chain):
        step = plan[link.visit.step]
        if step.press != "stopped":
            continue
        before = plan[run.chain[at - 1].visit.step] if at else None
        if before is not None and before.press == "stopped":
            yield "between", "time between two steps", stretches.net(link.since - link.gap, link.since)
        start = link.since - link.gap
        yield "halt", "halts", link.until - start - stretches.net(start, link.until)
        own = stretches.net(link.since, link.until)
        if link.visit.how != DONE:
            yield "again", "attempts that ended in a trouble, were repeated or broken off", own
            continue
        for wait in link.visit.waits:
            took = stretches.net(max(wait.since, link.since), max(wait.until, link.since))
            own -= took
            if wait.what == KEPT:
                continue
            role, kind = (step.release, "release") if wait.what == RELEASE else (step.second, "second")
            yield kind, f"waiting for {role or 'a role'}: {wait.what}", took
        if link.crossed:
            name = step.of_list or step.by
            yield "list", f"{name} waited for the other list", stretches.net(start - link.waited, start)
        if not step.bound:
            yield "running", f"step {step.number} {step.id}", own
