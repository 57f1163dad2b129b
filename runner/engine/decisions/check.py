"""Refusals that several decisions share, in the operator's words."""

from typing import NamedTuple

from runner.engine import flow
from runner.engine.intents import Refusal
from runner.engine.lookup import index, step_named
from runner.engine.shown import role_label
from runner.engine.state import RunState, name_key
from runner.procedure.model import UNKNOWN, Procedure, Step
from runner.say.text import mark, say


class Up(NamedTuple):
    """A step that is up in a lane."""

    step: Step
    lane: int
    begun: bool


def step_up(procedure: Procedure, state: RunState, step_id: str) -> Up | Refusal:
    """The named step, if it is the one that is up in its list and the run is going on."""
    step = step_named(procedure, step_id)
    if step is None:
        return Refusal(say("There is no step {step}.", step=step_id))
    if state.halted:
        return Refusal(say("The run is halted ({how}). Resume it first.", how=say(HALT_WORDS[state.halted])))
    at = flow.find(procedure, state.position, step_id)
    cursor = None if at is None else state.position.cursors[at[0]]
    if at is None or cursor is None or cursor.step != at[1]:
        return Refusal(
            say("Step {number} is not the one that is up.", number=step.number), what_is_up(procedure, state)
        )
    return Up(step, at[0], cursor.begun)


HALT_WORDS = {"pause": mark("paused"), "make-safe": mark("stopped and made safe")}


def what_is_up(procedure: Procedure, state: RunState) -> tuple[str, ...]:
    """The steps that are up, a line each."""
    lanes = range(len(state.position.cursors))
    steps = [flow.current(procedure, state.position, lane) for lane in lanes]
    return tuple(say("step {number} is up", number=step.number) for step in steps if step is not None)


def not_the_doer(procedure: Procedure, state: RunState, step: Step, name: str) -> Refusal | None:
    """Refused where another person than the one with the step's role acts."""
    holder = state.crew.get(step.by, "")
    if holder and holder == name:
        return None
    label = role_label(procedure, step.by)
    if not holder:
        return Refusal(say("Nobody has signed on as {label}. Sign on first.", label=label))
    if not same_person(holder, name):
        return Refusal(say("Step {number} is for {label} ({holder}).", number=step.number, label=label, holder=holder))
    return None


def same_person(one: str, other: str) -> bool:
    """Names are compared without regard to case and spacing; nothing verifies an identity here."""
    return one == other or name_key(one) == name_key(other)


def value_now(state: RunState, procedure: Procedure, name: str) -> str:
    """The value of a tracked state by name, `unknown` where nobody vouches for it."""
    at = index(procedure).states[name]
    value = state.position.states[at]
    return "unknown" if value == UNKNOWN else procedure.states[at].of[value]


def basis(procedure: Procedure, state: RunState, step: Step) -> tuple[tuple[str, str], ...]:
    """What a release of the step's hold stands on: the states that the step needs, as they are."""
    names = [procedure.states[at].name for at, _ in step.needs]
    return tuple((name, value_now(state, procedure, name)) for name in names)


def unmet_words(procedure: Procedure, state: RunState, step: Step, *, begun: bool = False) -> tuple[str, ...]:
    """Needs of a step that do not hold, with what was known before an interruption."""
    words = []
    unmet = flow.unmet_in_progress(state.position, step) if begun else flow.unmet(state.position, step)
    for at, wanted in unmet:
        tracked = procedure.states[at]
        before = state.unconfirmed.get(tracked.name)
        line = flow.need_words(tracked, wanted, state.position.states[at])
        if before is not None and state.position.states[at] == UNKNOWN:
            line = say(
                "{label} must be {value}; look at it again (it was {before} before)",
                label=tracked.label,
                value=tracked.of[wanted],
                before=before,
            )
        words.append(line)
    return tuple(words)


def missing_values(state: RunState, names: frozenset[str]) -> tuple[str, ...]:
    """Values of these names that do not count now, and why."""
    words = []
    for name in sorted(names):
        known = state.values.get(name)
        if known is None:
            words.append(say("{name} is not known yet", name=name))
        elif known.stale:
            words.append(say("{name} must be given or worked out again", name=name))
        elif known.verdict == "out" and known.ends:
            words.append(f"{name}: {known.shown}. {say(OTHER_PIECES)}")
        elif not known.counts:
            words.append(
                f"{name}: {known.shown}" + (say(" (allowed: {limits})", limits=known.limits) if known.limits else "")
            )
    return tuple(words)


OTHER_PIECES = mark(
    "What can be done: correct an input that is wrong; get other pieces and have the rack in the procedure changed; or stop"
)
"""Said where no choice of pieces is within tolerance and nobody may accept the nearest."""
