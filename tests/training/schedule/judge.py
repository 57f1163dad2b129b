"""A judge from outside: the CP-SAT solver of OR-tools, given the same work in its own terms. Times in whole minutes."""

from typing import Any, NamedTuple

import pytest

from runner.training.schedule.split import PEOPLE, Work

cp_model = pytest.importorskip("ortools.sat.python.cp_model", reason="OR-tools, the judge, is not installed")

LONGEST = 10_000


class Lane(NamedTuple):
    """A list: minutes of its steps, the first and last that have the crane, and where the drive is stopped or must be."""

    minutes: tuple[int, ...]
    crane: tuple[int, int] | None
    stops: int | None
    waits: int | None


def least_of_lanes(lanes: tuple[Lane, Lane]) -> int:
    """The soonest end of two lists: one has the crane at a time, and a step waits for the stop."""
    model = cp_model.CpModel()
    ends, sections, stopped, waiting = [], [], [], []
    for number, lane in enumerate(lanes):
        starts = [model.NewIntVar(0, LONGEST, f"s{number}.{at}") for at in range(len(lane.minutes))]
        for at in range(1, len(starts)):
            model.Add(starts[at] >= starts[at - 1] + lane.minutes[at - 1])
        ends.append(starts[-1] + lane.minutes[-1])
        if lane.crane is not None:
            first, last = lane.crane
            size, until = model.NewIntVar(0, LONGEST, ""), model.NewIntVar(0, LONGEST, "")
            model.Add(until == starts[last] + lane.minutes[last])
            sections.append(model.NewIntervalVar(starts[first], size, until, f"crane{number}"))
        if lane.stops is not None:
            stopped.append(starts[lane.stops] + lane.minutes[lane.stops])
        if lane.waits is not None:
            waiting.append(starts[lane.waits])
    model.AddNoOverlap(sections)
    for wait in waiting:
        for stop in stopped:
            model.Add(wait >= stop)
    return solved(model, ends)


def least_of_split(work: Work) -> int:
    """The soonest end of one list for two people, each keeping its order."""
    model, count = cp_model.CpModel(), len(work.seconds)
    starts = [model.NewIntVar(0, LONGEST, f"s{at}") for at in range(count)]
    who = [model.NewIntVar(0, PEOPLE - 1, f"p{at}") for at in range(count)]
    for at in range(count):
        for other in range(at):
            same = model.NewBoolVar(f"same{other}.{at}")
            model.Add(who[other] == who[at]).OnlyEnforceIf(same)
            model.Add(who[other] != who[at]).OnlyEnforceIf(same.Not())
            model.Add(starts[at] >= starts[other] + int(work.seconds[other])).OnlyEnforceIf(same)
            if other in work.after[at]:
                model.Add(starts[at] >= starts[other] + int(work.seconds[other]))
    for group in work.together:
        first, *others = sorted(group)
        for other in others:
            model.Add(who[first] == who[other])
    return solved(model, [starts[at] + int(work.seconds[at]) for at in range(count)])


def solved(model: Any, ends: list[Any]) -> int:
    """The least end, proved."""
    whole = model.NewIntVar(0, LONGEST, "whole")
    model.AddMaxEquality(whole, ends)
    model.Minimize(whole)
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    assert solver.Solve(model) == cp_model.OPTIMAL
    return round(solver.ObjectiveValue())
