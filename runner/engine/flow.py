"""The order rules: which step may begin, what it needs, and what beginning and ending it changes.

This is the section on the meaning of a procedure as code, over a small hashable `Position`. The runner and the path
proof both use it, so what is proved is what runs. Nothing here knows values, people's names, clocks or files.
"""

from typing import NamedTuple

from runner.engine.position import Cursor, Position
from runner.procedure.model import UNKNOWN, Facts, Phase, Procedure, Step, StepList, TrackedState, Trouble
from runner.say.text import say


class Block(NamedTuple):
    """Why the step that is up may not begin."""

    kind: str
    """need (a state has not the value it needs), owner (the other person has it) or conflict (a step in progress in
    another list needs what this one makes, or makes what this one needs or makes)."""
    state: int
    """Index of the tracked state that it is about."""
    words: str


def start(procedure: Procedure) -> Position:
    """The position before anything has happened."""
    states = tuple(state.at_start for state in procedure.states)
    return _entered(procedure, 0, states, tuple("" for _ in states))


def ended(procedure: Procedure, position: Position) -> bool:
    """True where every phase has ended."""
    return position.phase >= len(procedure.phases)


def phase_on(procedure: Procedure, position: Position) -> Phase | None:
    """The phase that is on, None where all have ended."""
    return None if ended(procedure, position) else procedure.phases[position.phase]


def list_of(procedure: Procedure, position: Position, lane: int) -> StepList:
    """The list of a lane of the phase that is on."""
    return procedure.phases[position.phase].lists[lane]


def current(procedure: Procedure, position: Position, lane: int) -> Step | None:
    """The step that is up in a lane, None where its list has ended."""
    steps = list_of(procedure, position, lane).steps
    at = position.cursors[lane].step
    return steps[at] if at < len(steps) else None


def find(procedure: Procedure, position: Position, step_id: str) -> tuple[int, int] | None:
    """(lane, place in its list) of a step of the phase that is on; None for a step of another phase."""
    phase = phase_on(procedure, position)
    return None if phase is None else places(phase).get(step_id)


MOST_PLACES = 256
_PLACES: dict[int, tuple[Phase, dict[str, tuple[int, int]]]] = {}
"""By identity of the phase, which is kept with them so that no other takes it."""


def places(phase: Phase) -> dict[str, tuple[int, int]]:
    """(lane, place in its list) of each step of a phase by its id, the first of those with the same."""
    known = _PLACES.get(id(phase))
    if known is None:
        if len(_PLACES) >= MOST_PLACES:
            _PLACES.clear()
        found: dict[str, tuple[int, int]] = {}
        for lane, steps in enumerate(phase.lists):
            for at, step in enumerate(steps.steps):
                found.setdefault(step.id, (lane, at))
        known = _PLACES[id(phase)] = (phase, found)
    return known[1]


def unmet(position: Position, step: Step) -> Facts:
    """The needs of a step that do not hold; an unknown state meets none."""
    return tuple((state, value) for state, value in step.needs if position.states[state] != value)


def unmet_in_progress(position: Position, step: Step) -> Facts:
    """The needs of a step in progress that no longer hold. What it makes itself is unknown meanwhile, and was
    needed only to begin: lowering a load needs the crane carrying, and leaves it free."""
    own = {state for state, _ in step.makes}
    return tuple((state, value) for state, value in unmet(position, step) if state not in own)


def blocks(procedure: Procedure, position: Position, lane: int) -> tuple[Block, ...]:
    """Everything that keeps the step that is up in a lane from beginning; empty where it may begin."""
    step = current(procedure, position, lane)
    if step is None:
        return ()
    found = [
        Block("need", state, need_words(procedure.states[state], value, position.states[state]))
        for state, value in unmet(position, step)
    ]
    if len(position.cursors) == 1:
        return tuple(found)  # nobody else has anything, or is at work
    steps = list_of(procedure, position, lane)
    for state in sorted({state for state, _ in step.needs + step.makes}):
        owner = position.owners[state]
        if owner and owner != steps.person:
            found.append(
                Block(
                    "owner",
                    state,
                    say("{label}: {role} has it", label=procedure.states[state].label, role=_role(procedure, owner)),
                )
            )
    makes = {state for state, _ in step.makes}
    touches = makes | {state for state, _ in step.needs}
    for other, cursor in enumerate(position.cursors):
        if other == lane or not cursor.begun:
            continue
        busy = current(procedure, position, other)
        if busy is None:
            continue
        relied_on, changing = {state for state, _ in busy.needs}, {state for state, _ in busy.makes}
        for state in sorted((makes & relied_on) | (touches & changing)):
            label = procedure.states[state].label
            if state in changing:
                words = say("step {number} is in progress and changes {label}", number=busy.number, label=label)
            else:
                words = say("step {number} is in progress and relies on {label}", number=busy.number, label=label)
            found.append(Block("conflict", state, words))
    return tuple(found)


def begun(procedure: Procedure, position: Position, lane: int) -> Position:
    """The step that is up in a lane has begun: what it makes is unknown from here, and taken if it has one owner."""
    step = _up(procedure, position, lane)
    cursors = _with(position.cursors, lane, Cursor(position.cursors[lane].step, begun=True))
    if not step.makes:
        return Position(position.phase, cursors, position.states, position.owners)
    taker = list_of(procedure, position, lane).person or step.by
    states, owners = list(position.states), list(position.owners)
    for state, _ in step.makes:
        states[state] = UNKNOWN
        if procedure.states[state].one_owner and not owners[state]:
            owners[state] = taker
    return Position(position.phase, cursors, tuple(states), tuple(owners))


def done(procedure: Procedure, position: Position, lane: int) -> Position:
    """The step in progress is done: what it makes has its new value, and the next step of the list is up."""
    step = _up(procedure, position, lane)
    taker = list_of(procedure, position, lane).person or step.by
    return _moved_on(procedure, _made(procedure, position, step.makes, taker), lane)


def passed(procedure: Procedure, position: Position, lane: int) -> Position:
    """The step that is up does not apply or is left out: nothing is made, the next one is up."""
    return _moved_on(procedure, position, lane)


def repeated(position: Position, lane: int) -> Position:
    """The step in progress is to be done once more; what it makes stays unknown."""
    cursor = Cursor(position.cursors[lane].step)
    return position._replace(cursors=_with(position.cursors, lane, cursor))


def troubled(procedure: Procedure, position: Position, lane: int, trouble: Trouble) -> Position:
    """The attempt has ended in a trouble; what the step makes stays unknown, and the author's way on is taken."""
    match trouble.way_on:
        case "go_on":
            return _moved_on(procedure, position, lane)
        case "back_to":
            ids = [step.id for step in list_of(procedure, position, lane).steps]
            return returned(position, lane, ids.index(trouble.back_to))
        case _:  # stop: the step is up again once the run goes on
            return repeated(position, lane)


def returned(position: Position, lane: int, to: int) -> Position:
    """The list goes on from its step `to`; states stay what they are."""
    return position._replace(cursors=_with(position.cursors, lane, Cursor(to)))


def seen(procedure: Procedure, position: Position, state: int, value: int) -> Position:
    """A person has looked and says what a state is."""
    return _made(procedure, position, ((state, value),))


def safe_act_done(procedure: Procedure, position: Position, makes: Facts) -> Position:
    """An act of stopping and making safe is done; a step in progress that makes the same is to be done again."""
    for lane in undone_by(procedure, position, makes):
        position = repeated(position, lane)
    return _made(procedure, position, makes)


def undone_by(procedure: Procedure, position: Position, makes: Facts) -> tuple[int, ...]:
    """Lanes with a step in progress that makes a state which these acts change."""
    changed = {state for state, _ in makes}
    steps = [current(procedure, position, lane) for lane in range(len(position.cursors))]
    return tuple(
        lane
        for lane, step in enumerate(steps)
        if step is not None and position.cursors[lane].begun and changed & {state for state, _ in step.makes}
    )


def interrupted(procedure: Procedure, position: Position) -> Position:
    """After an interruption every state that does not keep is unconfirmed, which counts as unknown."""
    states = tuple(
        value if tracked.keeps else UNKNOWN for tracked, value in zip(procedure.states, position.states, strict=True)
    )
    return position._replace(states=states)


def missing_at_end(procedure: Procedure, position: Position) -> Facts:
    """(state, value it must have) for every state that is not at its end value."""
    return tuple(
        (index, tracked.at_end)
        for index, tracked in enumerate(procedure.states)
        if tracked.at_end is not None and position.states[index] != tracked.at_end
    )


def need_words(tracked: TrackedState, wanted: int, found: int) -> str:
    """A need that does not hold, as a person reads it."""
    if found == UNKNOWN:
        return say("{label} must be {value}; it is not known", label=tracked.label, value=tracked.of[wanted])
    return say(
        "{label} must be {value}; it is {now}", label=tracked.label, value=tracked.of[wanted], now=tracked.of[found]
    )


def _role(procedure: Procedure, role: str) -> str:
    return dict(procedure.people).get(role, role)


def _up(procedure: Procedure, position: Position, lane: int) -> Step:
    step = current(procedure, position, lane)
    if step is None:
        raise ValueError(f"lane {lane} has ended")  # a fault of the caller, never of an author or operator
    return step


def _with(cursors: tuple[Cursor, ...], lane: int, cursor: Cursor) -> tuple[Cursor, ...]:
    return (cursor,) if len(cursors) == 1 else (*cursors[:lane], cursor, *cursors[lane + 1 :])


def _made(procedure: Procedure, position: Position, makes: Facts, taker: str = "") -> Position:
    if not makes:
        return position
    states, owners = list(position.states), list(position.owners)
    for state, value in makes:
        states[state] = value
        if procedure.states[state].one_owner:
            owners[state] = "" if value == 0 else owners[state] or taker
    return Position(position.phase, position.cursors, tuple(states), tuple(owners))


def _moved_on(procedure: Procedure, position: Position, lane: int) -> Position:
    at = position.cursors[lane].step + 1
    cursors = _with(position.cursors, lane, Cursor(at))
    lists = procedure.phases[position.phase].lists
    if at < len(lists[lane].steps) or any(
        cursor.step < len(steps.steps) for cursor, steps in zip(cursors, lists, strict=True)
    ):
        return Position(position.phase, cursors, position.states, position.owners)
    return _entered(procedure, position.phase + 1, position.states, position.owners)


def _entered(procedure: Procedure, phase: int, states: tuple[int, ...], owners: tuple[str, ...]) -> Position:
    """The first phase from `phase` on that has a step."""
    while phase < len(procedure.phases) and not any(steps.steps for steps in procedure.phases[phase].lists):
        phase += 1
    lists = procedure.phases[phase].lists if phase < len(procedure.phases) else ()
    return Position(phase, tuple(Cursor(0) for _ in lists), states, owners)
