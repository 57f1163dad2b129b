"""The figures of one run: whole time, standstill, work with the press running and stopped, waits by reason, chain, exceptions.

The standstill, last good to first good, lasts from the moment work comes to the first step of a phase that the author
marks `press: stopped` until the last such step has ended. Words of people are not read here, since names stand in them.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

from runner.engine import events as ev
from runner.report.contents.names import Entries
from runner.report.times.chain import Link, chain_of
from runner.report.times.plan import Plan, depends
from runner.report.times.visits import PASSED, RELEASE, SECOND, Stretches, Visit, stretches_of

PRESS = ("running", "stopped")

FINISHED, ABANDONED, OPEN = "finished", "abandoned", "open"


@dataclass(frozen=True, slots=True)
class Wait:
    """Somebody waited. The reason speaks of roles and lists."""

    reason: str
    seconds: float
    """Without the time in which the run was halted."""


@dataclass(frozen=True, slots=True)
class RunTimes:
    """One run. Times in s."""

    run: str
    procedure: str
    revision: int
    began: str
    """UTC, RFC 3339."""
    outcome: str
    plan: Plan
    """Of the procedure as it was when the run began."""
    stretches: Stretches | None
    """None where the steady clock does not span the run; then there are no times."""
    stood: float | None
    """Last good to first good, halts included; None where the press did not stop, or it is not known."""
    work: tuple[float, float]
    """Time at steps, of both people together, with the press running and stopped; without halts and waits."""
    waits: tuple[Wait, ...]
    chain: tuple[Link, ...]
    exceptions: tuple[tuple[str, str], ...]
    """(step, what) of each: the sign of the trouble it came from, else its kind."""

    @property
    def whole(self) -> float | None:
        """From the first event to the last."""
        return None if self.stretches is None else self.stretches.last

    @property
    def counts(self) -> bool:
        """Whether its times count among those of others: it was finished, and they are known."""
        return self.outcome == FINISHED and self.stretches is not None


def run_times(entries: Entries, plan: Plan) -> RunTimes:
    """The figures of a run, of which there is at least the beginning."""
    begun = entries[0][1]
    assert isinstance(begun, ev.RunBegun)  # whoever calls has read the first line
    run = stretches_of(up_to_the_end(entries), plan)
    return RunTimes(
        run=begun.run,
        procedure=begun.procedure,
        revision=begun.revision,
        began=begun.at.utc,
        outcome=outcome_of(entries),
        plan=plan,
        stretches=run,
        stood=None if run is None else standstill(run, plan),
        work=(0.0, 0.0) if run is None else work_of(run, plan),
        waits=() if run is None else tuple(waits_of(run, plan)),
        chain=() if run is None else chain_of(run, plan),
        exceptions=tuple(exceptions_of(entries)),
    )


def up_to_the_end(entries: Entries) -> Entries:
    """Without what may stand behind the end of the run in its record: a review of the next day takes no press time."""
    for at in range(len(entries) - 1, -1, -1):
        if isinstance(entries[at][1], ev.Finished | ev.Abandoned):
            return entries[: at + 1]
    return entries


def outcome_of(entries: Entries) -> str:
    """How a run ended."""
    match up_to_the_end(entries)[-1][1]:
        case ev.Finished():
            return FINISHED
        case ev.Abandoned():
            return ABANDONED
        case _:
            return OPEN


def standstill(run: Stretches, plan: Plan) -> float | None:
    """Last good to first good."""
    stopped = [visit for visit in run.visits if plan[visit.step].press == "stopped" and visit.how != PASSED]
    if not stopped:
        return None
    return max(visit.until for visit in stopped) - min(visit.came for visit in stopped)


def work_of(run: Stretches, plan: Plan) -> tuple[float, float]:
    """Time at steps, by what the press does, without halts and without what is waited for within a step."""
    running, stopped = (
        sum(worked(run, visit) for visit in run.visits if plan[visit.step].press == press) for press in PRESS
    )
    return running, stopped


def worked(run: Stretches, visit: Visit) -> float:
    """Seconds of a visit in which somebody did something; waits in it do not overlap."""
    return run.net(visit.came, visit.until) - sum(run.net(wait.since, wait.until) for wait in visit.waits)


def waits_of(run: Stretches, plan: Plan) -> Iterator[Wait]:
    """All waits and halts, in no order."""
    for halt in run.halts:
        yield Wait(f"run halted: {halt.what}", halt.seconds)
    for visit in run.visits:
        for wait in visit.waits:
            yield Wait(reason_of(wait.what, visit.step, plan), run.net(wait.since, wait.until))
    yield from waits_between(run, plan)


def reason_of(what: str, step: str, plan: Plan) -> str:
    """A wait within a step, in words."""
    if what == RELEASE:
        return f"release by {plan[step].release or 'a role'}"
    if what == SECOND:
        return f"second look by {plan[step].second or 'a role'}"
    return "waiting time of the procedure"


def waits_between(run: Stretches, plan: Plan) -> Iterator[Wait]:
    """One list that waits for the other: before a step that depends on it, and at the end of the phase."""
    lists: dict[int, dict[int, list[Visit]]] = {}
    for visit in run.visits:
        step = plan[visit.step]
        lists.setdefault(step.phase, {}).setdefault(step.lane, []).append(visit)
    for lanes in lists.values():
        if len(lanes) < 2:
            continue
        ends = {lane: visits[-1].until for lane, visits in lanes.items()}
        for lane, visits in lanes.items():
            others = [visit for other, theirs in lanes.items() if other != lane for visit in theirs]
            for before, visit in pairwise(visits):
                latest = visit.came if visit.begun is None else visit.begun
                needed = [
                    o.until for o in others if o.until <= latest and depends(plan[visit.step], plan[o.step])
                ]  # fmt: skip
                if needed and max(needed) > before.until:
                    yield Wait(f"{plan[visit.step].of_list}, for the other list", run.net(before.until, max(needed)))
            if max(ends.values()) > ends[lane]:
                name = plan[visits[-1].step].of_list
                yield Wait(f"{name}, for the end of the other list", run.net(ends[lane], max(ends.values())))


def exceptions_of(entries: Entries) -> Iterator[tuple[str, str]]:
    """(step, what) of all exceptions; what a person wrote of them is left in the record."""
    before: ev.Event | None = None
    for _, event in entries:
        if type(event) is ev.ExceptionNoted:
            trouble = isinstance(before, ev.TroubleMet) and before.step == event.step
            yield event.step, before.sign if trouble and isinstance(before, ev.TroubleMet) else event.kind
        before = event
