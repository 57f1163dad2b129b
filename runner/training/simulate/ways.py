"""Ways on where a step cannot begin or end for what the press is: look at it, or go back to where it was brought about.

A person looks where nobody vouches for a state; one that is known to be otherwise is brought about again by an earlier
step of the same list, or by the one that asks whether that step applies. Where neither helps it is a dead end.
"""

from collections.abc import Sequence

from runner.engine import flow
from runner.engine import intents as want
from runner.engine.decide import AnyIntent
from runner.engine.state import RunState
from runner.formula.scope import names_needed
from runner.procedure.model import UNKNOWN, Facts, Procedure, Step

BROUGHT_ABOUT_AGAIN = "what the step needs is brought about again"


def unmet_now(procedure: Procedure, state: RunState, lane: int) -> Facts:
    """Needs of the step that is up in a lane that do not hold."""
    step = flow.current(procedure, state.position, lane)
    if step is None:
        return ()
    if state.position.cursors[lane].begun:
        return flow.unmet_in_progress(state.position, step)
    return flow.unmet(state.position, step)


def way_on(procedure: Procedure, state: RunState, lane: int) -> tuple[AnyIntent, ...]:
    """What a person does so that the step that is up in a lane can go on; nothing where there is no way."""
    unmet = unmet_now(procedure, state, lane)
    changing = being_changed(procedure, state)
    step = flow.current(procedure, state.position, lane)
    if step is None or not unmet:
        return ()
    doer = state.crew.get(step.by, "")
    looks = [(at, value) for at, value in unmet if state.position.states[at] == UNKNOWN and at not in changing]
    if looks:
        named = [(procedure.states[at].name, procedure.states[at].of[value]) for at, value in looks]
        return tuple(want.LookAt(doer, name, value) for name, value in named)
    place = place_back(procedure, state, lane, unmet)
    if place is None:
        return ()
    target = flow.list_of(procedure, state.position, lane).steps[place]
    return (want.GoBack(state.crew.get(target.by, doer), target.id, BROUGHT_ABOUT_AGAIN),)


def being_changed(procedure: Procedure, state: RunState) -> frozenset[int]:
    """States that steps in progress make: nobody can say by looking what they will be."""
    found: set[int] = set()
    for lane, cursor in enumerate(state.position.cursors):
        step = flow.current(procedure, state.position, lane)
        if step is not None and cursor.begun:
            found |= {at for at, _ in step.makes}
    return frozenset(found)


def place_back(procedure: Procedure, state: RunState, lane: int, unmet: Facts) -> int | None:
    """The nearest earlier place from which all that is wanted is made again, and whose own needs hold."""
    steps = flow.list_of(procedure, state.position, lane).steps
    wanted = {at: value for at, value in unmet if state.position.states[at] != UNKNOWN}
    for place in range(state.position.cursors[lane].step - 1, -1, -1):
        made = dict(steps[place].makes)
        if not any(wanted.get(at) == value for at, value in made.items()):
            continue
        wanted = {at: value for at, value in wanted.items() if made.get(at) != value}
        wanted |= dict(flow.unmet(state.position, steps[place]))
        if not wanted:
            return asked_again(procedure, steps, place)
    return None


def asked_again(procedure: Procedure, steps: Sequence[Step], place: int) -> int:
    """The place, or an earlier one where the answers are asked by which it is judged whether the step applies."""
    step = steps[place]
    names = names_needed(step.when.expr, procedure.scope) if step.when is not None else frozenset()
    asking = (at for at in range(place) if names & {ask.name for ask in steps[at].asks})
    return next(asking, place)
