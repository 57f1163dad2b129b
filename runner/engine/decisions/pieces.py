"""Pieces that miss their tolerance: who accepts the nearest choice, and what is said until somebody does."""

from runner.engine import events as ev
from runner.engine import intents as want
from runner.engine.decisions.check import same_person, step_up
from runner.engine.decisions.ticks import refused_on_record
from runner.engine.held import held_values, releaser_of, split_named
from runner.engine.intents import Refusal
from runner.engine.shown import own_shown, role_label
from runner.engine.state import KnownValue, RunState
from runner.procedure.hung import ends_words
from runner.procedure.model import Procedure, Step
from runner.say.text import say

Decided = tuple[ev.Event, ...] | Refusal


def accept_pieces(procedure: Procedure, state: RunState, intent: want.AcceptPieces) -> Decided:
    """Accepted by a person of the role who is not the one doing the step, with a reason."""
    up = step_up(procedure, state, intent.step)
    if isinstance(up, Refusal):
        return up
    step, name = up.step, intent.name.replace("_", " ")
    split, known = split_named(procedure, intent.name), state.values.get(intent.name)
    if known is not None and known.verdict == "accepted" and not known.stale:
        return Refusal(say("{person} has accepted {name} already.", person=known.accepted_by, name=name))
    if split is None or known is None or known not in held_values(procedure, state, step):
        return Refusal(say("There are no pieces called {name} that hold step {number}.", name=name, number=step.number))
    label, holder = role_label(procedure, split.release), state.crew.get(split.release, "")
    if not holder:
        words = say("Nobody has signed on as {label}. Only {label} accepts {name}.", label=label, name=name)
        return refused_on_record(intent, step, "accept", words)
    if not same_person(holder, intent.by):
        return refused_on_record(
            intent,
            step,
            "accept",
            say("Only {label} ({holder}) accepts {name}.", label=label, holder=holder, name=name),
        )
    if same_person(state.crew.get(step.by, ""), intent.by):
        words = say("{by} does step {number}; another person must accept its pieces.", by=intent.by, number=step.number)
        return refused_on_record(intent, step, "accept", words)
    if not intent.why.strip():
        return Refusal(say("Say why the nearest choice will do."))
    wanted = state.values.get(split.mass)
    return (
        ev.PiecesAccepted(
            intent.by, intent.at, step.id, split.name, split.release, own_shown(wanted) if wanted is not None else "",
            own_shown(known), ends_words(known.ends, known.unit), known.gives, intent.why.strip(),
        ),
    )  # fmt: skip


def held_refusal(procedure: Procedure, step: Step, held: tuple[KnownValue, ...]) -> Refusal:
    """A step waits for pieces to be accepted: by whom, and what else can be done."""
    missing = []
    for known in held:
        label = role_label(procedure, releaser_of(procedure, known.name))
        missing.append(
            say(
                "{name}: {shown}. {label} may accept it; or correct an input that is wrong; or stop",
                name=known.name,
                shown=known.shown,
                label=label,
            )
        )
    return Refusal(say("Step {number} is held: its pieces miss what is wanted.", number=step.number), tuple(missing))
