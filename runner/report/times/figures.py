"""The figures of one run as they go into those of many, and as an index keeps them: plain data and nothing of a person.

Everything here comes from `RunTimes`; what many runs never ask for (single visits) is left behind. The data are lists of
text, numbers and None, so that any store gives them back as they were.
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, NamedTuple

from runner.report.times.plan import Plan, Planned
from runner.report.times.run_times import FINISHED, RunTimes
from runner.report.times.shorter import parts_of
from runner.report.times.visits import DONE


class Linked(NamedTuple):
    """A link of the chain. Times in s."""

    step: str
    how: str
    since: float
    took: float
    gap: float
    waited: float


Chain = tuple[Linked, ...]


@dataclass(frozen=True, slots=True)
class Figures:
    """One run. Times in s."""

    run: str
    procedure: str
    revision: int
    began: str
    """UTC, RFC 3339."""
    outcome: str
    plan: Plan
    whole: float | None
    """From the first event to the last; None where the steady clock does not span the run, which then has no times."""
    stood: float | None
    """Last good to first good."""
    work: tuple[float, float]
    """At steps, with the press running and stopped."""
    waits: Mapping[str, list[float]]
    """By reason, each single wait."""
    done: tuple[str, ...]
    """Steps that were done, once for each time, those of one step together."""
    took: Sequence[float]
    """How long each of these took."""
    on_chain: tuple[str, ...]
    """Steps, each once."""
    causes: tuple[tuple[str, str, float], ...]
    """(kind, what, seconds) of what made the standstill longer, each kind and what once."""
    exceptions: tuple[tuple[str, str], ...]
    """(step, what) of each."""
    chain: Callable[[], Chain]
    """The links in order of time; asked for of one run in many."""

    @property
    def counts(self) -> bool:
        """Whether its times count among those of others: it was finished, and they are known."""
        return self.outcome == FINISHED and self.whole is not None


def whole_parts(seconds: float) -> float:
    """To a millionth of a second: clocks give thousandths, and what is longer is noise of the arithmetic."""
    return round(seconds, 6)


def known(seconds: float | None) -> float | None:
    """The same of what may not be known."""
    return None if seconds is None else whole_parts(seconds)


def figures_of(run: RunTimes) -> Figures:
    """What is kept of a run."""
    waits: dict[str, list[float]] = {}
    for wait in run.waits:
        waits.setdefault(wait.reason, []).append(whole_parts(wait.seconds))
    causes: dict[tuple[str, str], float] = {}
    for kind, what, took in parts_of(run, run.stretches) if run.stretches is not None else ():
        if took > 0:
            causes[kind, what] = causes.get((kind, what), 0.0) + took
    chain = tuple(
        Linked(
            link.visit.step,
            link.visit.how,
            whole_parts(link.since),
            whole_parts(link.until - link.since),
            whole_parts(link.gap),
            whole_parts(link.waited),
        )
        for link in run.chain
    )
    done = [(step, took) for step, times in done_by_step(run).items() for took in times]
    return Figures(
        run.run, run.procedure, run.revision, run.began, run.outcome, run.plan, known(run.whole), known(run.stood),
        (whole_parts(run.work[0]), whole_parts(run.work[1])), waits, tuple(step for step, _ in done),
        [took for _, took in done],
        tuple(dict.fromkeys(link.step for link in chain)),
        tuple((kind, what, whole_parts(took)) for (kind, what), took in causes.items()), run.exceptions, lambda: chain,
    )  # fmt: skip


def done_by_step(run: RunTimes) -> dict[str, list[float]]:
    """How long each step took each time that it was done, without halts."""
    done: dict[str, list[float]] = {}
    for visit in run.stretches.visits if run.stretches is not None else ():
        if visit.how == DONE and run.stretches is not None:
            done.setdefault(visit.step, []).append(whole_parts(run.stretches.net(visit.came, visit.until)))
    return done


def as_data(one: Figures) -> list[Any]:
    """The figures without plan and chain. Steps are places in the plan, in one text: many runs have the same."""
    place = {step: str(at) for at, step in enumerate(one.plan)}
    return [
        one.run, one.procedure, one.revision, one.began, one.outcome, one.whole, one.stood, list(one.work),
        dict(one.waits), " ".join([place[step] for step in one.done]), list(one.took),
        " ".join([place[step] for step in one.on_chain]),
        [list(cause) for cause in one.causes], [list(noted) for noted in one.exceptions],
    ]  # fmt: skip


class Places(dict[str, tuple[str, ...]]):
    """Steps by the text of their places in a plan; made once for all runs that have the same."""

    def __init__(self, plan: Plan) -> None:
        super().__init__()
        self.steps = list(plan)

    def __missing__(self, text: str) -> tuple[str, ...]:
        """IndexError or ValueError where it is no such text."""
        self[text] = tuple([self.steps[int(at)] for at in text.split()])
        return self[text]


def from_data(data: list[Any], plan: Plan, places: Places, chain: Callable[[], Chain]) -> Figures:
    """The figures again; `places` are those of the plan."""
    run, procedure, revision, began, outcome, whole, stood, work, waits, done, took, on_chain, causes, exceptions = data
    return Figures(
        run, procedure, revision, began, outcome, plan, whole, stood, (work[0], work[1]), waits,
        places[done], took, places[on_chain],
        tuple([(kind, what, took) for kind, what, took in causes]), tuple([(step, what) for step, what in exceptions]),
        chain,
    )  # fmt: skip


def plan_data(plan: Plan) -> list[Any]:
    """A plan as plain data."""
    return [
        [
            step.id, step.number, step.phase, step.press, step.lane, step.of_list, step.by, step.release, step.second,
            sorted(step.needs), sorted(step.makes), step.bound,
        ]
        for step in plan.values()
    ]  # fmt: skip


def plan_from(data: list[Any]) -> Plan:
    """The plan again."""
    steps = []
    for row in data:
        row[9:11] = map(frozenset, row[9:11])
        steps.append(Planned(*row))
    return {step.id: step for step in steps}


def chain_data(chain: Chain) -> list[Any]:
    """A chain as plain data."""
    return [list(link) for link in chain]


def chain_from(data: list[Any]) -> Chain:
    """The chain again."""
    return tuple(Linked(*link) for link in data)
