"""The walks against a second, naive reading of the section on order, over procedures made at random.

The naive reading knows plain order only: a state is what the last step made it, and unknown at the start. It shares no code with the
order rules, so the two can only agree by both being right or both being wrong in the same way.
"""

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from runner.lint.samples import PLAIN
from runner.lint.walk import departing_walks, walk
from runner.procedure.compile import compile_procedure
from runner.procedure.model import Procedure
from tests.lint.examples import whole

STATES = {"web": ("cut", "joined"), "guard": ("open", "closed"), "knife": ("in", "out")}
FACTS = st.dictionaries(st.sampled_from(sorted(STATES)), st.integers(0, 1), max_size=2)
STEP = st.tuples(FACTS, FACTS, st.booleans())
LIST = st.lists(STEP, min_size=1, max_size=4)
PHASES = st.lists(st.lists(LIST, min_size=1, max_size=2), min_size=1, max_size=3)

Step = tuple[dict, dict, bool]


def written(phases: list[list[list[Step]]]) -> str:
    states = "".join(f"  {name}: {{of: [{', '.join(of)}]}}\n" for name, of in STATES.items())
    out = ["people: {unwind: Operator, rewind: Helper}\nstates:\n", states, "phases:\n"]
    for number, lists in enumerate(phases):
        out.append(f"  - phase: Part {number}\n    park: after\n    {'steps' if len(lists) == 1 else 'together'}:\n")
        for lane, steps in enumerate(lists):
            if len(lists) == 2:
                out.append(f"      {('unwind', 'rewind')[lane]}:\n")
            for at, (needs, makes, optional) in enumerate(steps):
                keys = [f"id: s{number}{lane}{at}", f"by: {('unwind', 'rewind')[lane]}", "do: Do it."]
                keys += [f"{word}: {{{facts(of)}}}" for word, of in (("needs", needs), ("makes", makes)) if of]
                keys += ["optional: reason"] if optional else []
                out.append(f"        - {{{', '.join(keys)}}}\n")
    return whole("".join(out))


def facts(chosen: dict) -> str:
    return ", ".join(f"{name}: {STATES[name][value]}" for name, value in chosen.items())


def compiled(phases: list[list[list[Step]]]) -> Procedure:
    found = compile_procedure(written(phases), "made.procedure.yaml", lambda _: None)
    assert found.procedure is not None, found.findings
    return found.procedure


def naive(phases: list[list[list[Step]]], backward: bool, left_out: str = "") -> list[tuple[str, str]]:
    """(step, state) for every need that nobody meets; each is then taken as met. A list whose step lacks something waits
    for the other, unless nothing that is still to come there brings it."""
    now: dict[str, int] = {}
    unmet = []
    for number, lists in enumerate(phases):
        named = [
            [(f"s{number}{lane}{at}", needs, makes) for at, (needs, makes, _) in enumerate(steps)]
            for lane, steps in enumerate(lists)
        ]
        left = named[::-1] if backward else named
        while any(left):
            going = [steps for steps in left if steps]
            ready = [steps for steps in going if lacking(steps[0][1], now) == {}]
            hopeless = [
                steps
                for steps in going
                if not all(
                    any(made.get(state) == value for other in going if other is not steps for _, _, made in other)
                    for state, value in lacking(steps[0][1], now).items()
                )
            ]
            name, needs, makes = [*ready, *hopeless, *going][0].pop(0)
            if name == left_out:
                continue  # it comes up as in plain order, and then nothing happens
            unmet += [(name, state) for state in lacking(needs, now)]
            now.update(needs)
            now.update(makes)
    return unmet


def lacking(needs: dict, now: dict[str, int]) -> dict[str, int]:
    return {state: value for state, value in needs.items() if now.get(state) != value}


@settings(max_examples=150, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(PHASES)
def test_a_walk_stops_exactly_where_a_naive_reading_of_the_order_does(phases: list[list[list[Step]]]) -> None:
    procedure = compiled(phases)
    names = [state.name for state in procedure.states]
    for backward in (False, True):
        stopped = walk(procedure, PLAIN, backward=backward).stopped
        assert sorted((s.step.id, names[s.state]) for s in stopped) == sorted(naive(phases, backward))


@settings(max_examples=100, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(PHASES)
def test_leaving_a_step_out_stops_where_the_naive_reading_does_or_changes_nothing(
    phases: list[list[list[Step]]],
) -> None:
    procedure = compiled(phases)
    names = [state.name for state in procedure.states]
    plain = walk(procedure, PLAIN)
    before = set(naive(phases, False))
    for departed in departing_walks(procedure, (plain,)):
        assert departed.departure is not None
        found = {(s.step.id, names[s.state]) for s in departed.stopped}
        wanted = set(naive(phases, False, departed.departure.step.id))
        assert found - before == wanted - before
