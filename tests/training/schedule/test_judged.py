"""The best orders against CP-SAT, and every plan against the order rules of the engine."""

from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from runner.engine import flow
from runner.procedure.model import Procedure
from runner.training.schedule.arranged import arranged
from runner.training.schedule.split import PEOPLE, Work, shared, work_of
from runner.training.schedule.timed import Timed
from runner.training.schedule.two_lists import Search
from tests.engine.bench import compiled
from tests.training.schedule.judge import Lane, least_of_lanes, least_of_split
from tests.training.simulate.test_runs import SHIPPED, shipped

MINUTE = 60.0


@st.composite
def lanes(draw: st.DrawFn) -> tuple[Lane, Lane]:
    """Two lists: the first may stop the drive, the second may wait for that, and both may need the crane."""
    made = []
    for number in range(2):
        minutes = tuple(draw(st.lists(st.integers(1, 9), min_size=2, max_size=5)))
        places = st.integers(0, len(minutes) - 1)
        first, last = sorted((draw(places), draw(places)))
        crane = (first, last) if first < last and draw(st.booleans()) else None
        drive = draw(st.none() | places)
        made.append(Lane(minutes, crane, drive if number == 0 else None, drive if number == 1 else None))
    if made[0].stops is None:
        made[1] = made[1]._replace(waits=None)
    return made[0], made[1]


def text_of(pair: tuple[Lane, Lane]) -> str:
    """The same as a phase with two lists."""
    lines = ["  - phase: Both", "    press: stopped", "    together:"]
    for role, lane in zip(("unwind", "rewind"), pair, strict=True):
        lines.append(f"      {role}:")
        for at, minutes in enumerate(lane.minutes):
            needs, makes = [], []
            if lane.crane is not None and at == lane.crane[0]:
                makes.append("crane: carrying")
            if lane.crane is not None and at == lane.crane[1]:
                needs.append("crane: carrying")
                makes.append("crane: free")
            if lane.stops == at:
                makes.append("drive: stopped")
            if lane.waits == at:
                needs.append("drive: stopped")
            lines.append(
                f"        - {{id: {role}-{at}, by: {role}, do: Wipe the roller., needs: {{{', '.join(needs)}}}, "
                f"makes: {{{', '.join(makes)}}}, expect: {minutes} min}}".replace(" needs: {},", "").replace(
                    " makes: {},", ""
                )
            )
    return "\n".join(lines) + "\n"


@settings(max_examples=60, deadline=None)
@given(lanes())
def test_no_order_of_two_lists_ends_sooner_than_the_one_that_is_told(pair: tuple[Lane, Lane]) -> None:
    procedure = compiled(text_of(pair))
    seconds = {step.id: step.expect_s or 0.0 for own in procedure.phases[0].lists for step in own.steps}
    plan = Search(procedure, seconds, frozenset()).plan(flow.start(procedure))
    assert max(one.end for one in plan) == pytest.approx(MINUTE * least_of_lanes(pair))
    assert_played(procedure, plan)


def assert_played(procedure: Procedure, plan: tuple[Timed, ...]) -> None:
    """The engine's order rules let every step of the plan begin when it does."""
    position = flow.start(procedure)
    moves = [(one.start, True, one) for one in plan] + [(one.end, False, one) for one in plan]
    for _, begins, one in sorted(moves, key=lambda move: (round(move[0], 6), move[1], move[2].person)):
        if begins:
            assert flow.blocks(procedure, position, one.person) == ()
            assert flow.current(procedure, position, one.person).id == one.step  # type: ignore[union-attr] # one is up
            position = flow.begun(procedure, position, one.person)
        else:
            position = flow.done(procedure, position, one.person)
    assert flow.ended(procedure, position)


@st.composite
def works(draw: st.DrawFn) -> Work:
    """Work of one list."""
    count = draw(st.integers(1, 9))
    after = tuple(tuple(sorted(draw(st.sets(st.integers(0, at - 1), max_size=2)))) if at else () for at in range(count))
    places = st.sets(st.integers(0, count - 1), min_size=2, max_size=3)
    together = tuple(frozenset(group) for group in draw(st.lists(places, max_size=2))) if count > 2 else ()
    return Work(tuple(float(draw(st.integers(1, 9))) for _ in range(count)), after, together)


@settings(max_examples=80, deadline=None)
@given(works())
def test_no_split_of_a_list_ends_sooner_than_the_one_that_is_told(work: Work) -> None:
    found = shared(work)
    assert found.proved
    assert found.end == least_of_split(work)
    assert found.end == least_by_trying(work)


def least_by_trying(work: Work) -> float:
    """All ways to deal the steps out."""
    least = sum(work.seconds)
    for dealt in product(range(PEOPLE), repeat=len(work.seconds)):
        if any(len({dealt[at] for at in group}) > 1 for group in work.together):
            continue
        free, ends = [0.0] * PEOPLE, list[float]()
        for at, who in enumerate(dealt):
            free[who] = max(free[who], max((ends[other] for other in work.after[at]), default=0.0)) + work.seconds[at]
            ends.append(free[who])
        least = min(least, max(free))
    return least


@pytest.mark.parametrize("name", SHIPPED)
def test_phases_of_the_shipped_procedures_are_arranged_as_the_solver_would(name: str) -> None:
    procedure = shipped(name)
    found = arranged(procedure, {})
    assert found.stuck == ""
    for phase, one in zip(procedure.phases, found.phases, strict=True):
        if len(phase.lists) == 1:
            work = work_of(procedure, phase.lists[0].steps, found.taken.seconds)
            assert one.bound_s == least_of_split(work._replace(seconds=tuple(map(float, work.seconds))))
        assert one.bound_s <= one.two_s <= one.comes_s <= one.one_s
