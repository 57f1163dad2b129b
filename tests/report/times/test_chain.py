"""The chain against the critical path method: in a schedule where everybody begins as soon as they may, it is the longest path.

Judge: the longest path through the same steps as shortest path with negative lengths, by scipy's Bellman-Ford (J. E. Kelley
and M. R. Walker, Critical-Path Planning and Scheduling, 1959, from memory, for the method).
"""

import numpy
import pytest
from hypothesis import given, settings
from hypothesis import strategies as some
from scipy.sparse import csr_matrix
from scipy.sparse.csgraph import bellman_ford

from runner.engine import events as ev
from runner.engine.events import Event
from runner.report.times.plan import Plan, Planned
from runner.report.times.run_times import run_times
from tests.report.times.small import LENA, UMA, begun, moment, planned, run_of

Made = tuple[int, int, frozenset[int]]
"""List, seconds, and which earlier steps it needs."""


@some.composite
def jobs(draw: some.DrawFn) -> list[Made]:
    """Steps of two lists, in an order in which they could be done."""
    count = draw(some.integers(1, 12))
    return [
        (draw(some.integers(0, 1)), draw(some.integers(1, 50)), frozenset(draw(some.sets(some.integers(0, at - 1), max_size=2))) if at else frozenset())
        for at in range(count)
    ]  # fmt: skip


def before(job: list[Made], at: int) -> set[int]:
    """The steps that must have ended: the one before in the list, and those of the other that it needs."""
    lane, _, needs = job[at]
    own = [i for i in range(at) if job[i][0] == lane][-1:]
    return {*own, *(need for need in needs if job[need][0] != lane)}


def longest(job: list[Made]) -> float:
    """By scipy, over nodes 0 (start) and 1 + step; an edge's length is what the step at its end takes."""
    lengths = numpy.zeros((len(job) + 1, len(job) + 1))
    for at, (_, seconds, _) in enumerate(job):
        for earlier in before(job, at) or {-1}:
            lengths[earlier + 1, at + 1] = -seconds
    return float(-bellman_ford(csr_matrix(lengths), indices=0).min())


@settings(max_examples=150, deadline=None)
@given(jobs())
def test_the_chain_of_a_schedule_without_idle_time_is_the_critical_path(job: list[Made]) -> None:
    ends: list[int] = []
    events: list[Event] = []
    plan: dict[str, Planned] = {}
    relied: dict[int, set[int]] = {at: set() for at in range(len(job))}
    """States that a step needs and a later one makes: the later one has to wait until it is done."""
    for at, (_, _, needs) in enumerate(job):
        for need in needs:
            if (at + need) % 3 == 1:
                relied[need].add(1000 * at + need)
    for at, (lane, seconds, needs) in enumerate(job):
        start = max((ends[earlier] for earlier in before(job, at)), default=0)
        ends.append(start + seconds)
        name = f"step-{at}"
        made = {1000 * at + need for need in needs if (at + need) % 3 == 1}
        made |= {need for need in needs if (at + need) % 3 == 2}  # both make the same state
        wanted = {need for need in needs if (at + need) % 3 == 0}
        plan[name] = planned(name, f"1.{at}", 1, lane, needs=wanted | relied[at], makes={at} | made)
        events += [
            ev.StepBegun(UMA, moment(start), name, "", 1, ""),
            ev.StepDone(UMA, moment(start + seconds), name, "", ()),
        ]
    whole: Plan = plan
    chain = run_times(run_of([*events, ev.Finished(LENA, moment(max(ends)), 0)], begun()), whole).chain
    assert all(link.gap == 0 for link in chain)
    assert sum(link.until - link.since for link in chain) == pytest.approx(longest(job)) == max(ends)
