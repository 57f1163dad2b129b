"""The figures of all runs of one procedure, in the order in which they began.

Times are those of finished runs that the steady clock spans; exceptions are those of all runs. A figure that some runs
lack is made of the others, and says of how many.
"""

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from runner.report.times.figures import Chain, Figures
from runner.report.times.individuals import Individuals, individuals
from runner.report.times.plan import Plan, Planned
from runner.report.times.shorter import Cause, causes_of
from runner.report.times.spread import Spread, spread_of


@dataclass(frozen=True, slots=True)
class StepTimes:
    """One step over the runs."""

    step: str
    number: str
    by: str
    press: str
    spread: Spread
    """Each time that it was done, in s."""
    on_chain: int
    """In how many runs it lay on the chain."""


@dataclass(frozen=True, slots=True)
class Reason:
    """Waits of one reason."""

    reason: str
    runs: int
    spread: Spread
    """Of the single waits, in s."""
    total: float


@dataclass(frozen=True, slots=True)
class Often:
    """An exception and how often it came."""

    step: str
    what: str
    count: int
    runs: int


@dataclass(frozen=True, slots=True)
class Gathered:
    """Everything that is said of one procedure."""

    procedure: str
    title: str
    plan: Plan
    """Steps as the newest run has them, then those that only older ones have."""
    runs: tuple[Figures, ...]
    timed: tuple[Figures, ...]
    """Those whose times count."""
    stood: Spread | None
    chart: Individuals | None
    """Of the standstill, in s."""
    charted: tuple[Figures, ...]
    """The runs in the chart and in `stood`."""
    steps: tuple[StepTimes, ...]
    waits: tuple[Reason, ...]
    exceptions: tuple[Often, ...]
    causes: tuple[Cause, ...]
    chain: Chain
    """Of the newest run whose times count."""


def gather(title: str, runs: Iterable[Figures]) -> Gathered:
    """The figures of at least one run of one procedure. A step is the same where its id is, whatever the revision."""
    ordered = tuple(sorted(runs, key=lambda run: (run.began, run.run)))
    plan: dict[str, Planned] = {}
    for one in {id(run.plan): run.plan for run in reversed(ordered)}.values():
        plan = {**plan, **{step: known for step, known in one.items() if step not in plan}}
    timed = tuple(run for run in ordered if run.counts)
    charted = tuple(run for run in timed if run.stood is not None)
    stood = [run.stood for run in charted if run.stood is not None]
    return Gathered(
        procedure=ordered[-1].procedure,
        title=title,
        plan=plan,
        runs=ordered,
        timed=timed,
        stood=spread_of(stood),
        chart=individuals(stood),
        charted=charted,
        steps=tuple(steps_of(timed, plan)),
        waits=waits_by_reason(timed),
        exceptions=exceptions_by_count(ordered),
        causes=causes_of(charted),
        chain=timed[-1].chain() if timed else (),
    )


def steps_of(runs: Sequence[Figures], plan: Plan) -> list[StepTimes]:
    """Steps that were done, in the order of the procedure."""
    chained: Counter[str] = Counter()
    for steps, count in Counter(run.on_chain for run in runs).items():
        chained.update(dict.fromkeys(steps, count))
    alike: dict[tuple[str, ...], list[Sequence[float]]] = {}
    for run in runs:
        alike.setdefault(run.done, []).append(run.took)
    seconds: dict[str, list[float]] = {step: [] for step in plan}
    for steps, rows in alike.items():
        for step, took in zip(steps, zip(*rows, strict=True), strict=True):
            seconds[step] += took
    found = []
    for step, known in plan.items():
        spread = spread_of(seconds[step])
        if spread is not None:
            found.append(StepTimes(step, known.number, known.by, known.press, spread, chained[step]))
    return found


def waits_by_reason(runs: Sequence[Figures]) -> tuple[Reason, ...]:
    """All waits, the reason that took most in all first."""
    seconds: dict[str, list[float]] = {}
    held: Counter[str] = Counter()
    for run in runs:
        held.update(run.waits.keys())
        for reason, took in run.waits.items():
            seconds.setdefault(reason, []).extend(took)
    found = [
        Reason(reason, held[reason], spread, sum(took))
        for reason, took in seconds.items()
        if (spread := spread_of(took)) is not None
    ]
    return tuple(sorted(found, key=lambda one: (-one.total, one.reason)))


def exceptions_by_count(runs: Sequence[Figures]) -> tuple[Often, ...]:
    """Exceptions by step and what, the most frequent first."""
    counts = Counter(one for run in runs for one in run.exceptions)
    held = Counter(one for run in runs for one in set(run.exceptions))
    found = [Often(step, what, count, held[step, what]) for (step, what), count in counts.items()]
    return tuple(sorted(found, key=lambda one: (-one.count, one.step, one.what)))
