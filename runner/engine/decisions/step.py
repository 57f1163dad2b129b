"""Beginning and ending steps: cautions, holds, needs, waits, second looks, repeats and leaving out."""

from runner.engine import events as ev
from runner.engine import flow
from runner.engine import intents as want
from runner.engine.decisions.check import (
    Up,
    basis,
    missing_values,
    not_the_doer,
    same_person,
    step_up,
    unmet_words,
)
from runner.engine.decisions.pieces import held_refusal
from runner.engine.decisions.ticks import may_not_release, refused_on_record
from runner.engine.decisions.trouble import ended_in_trouble, out_of_limits
from runner.engine.held import held_values, own_values, resting_on
from runner.engine.intents import Refusal
from runner.engine.lookup import named_facts
from runner.engine.moment import Moment, seconds_between, seconds_words
from runner.engine.shown import fill_in, role_label, values_now
from runner.engine.state import RunState, StepRecord
from runner.formula.evaluate import evaluate
from runner.formula.scope import names_needed
from runner.procedure.model import Procedure, Repeat, Step

Decided = tuple[ev.Event, ...] | Refusal


def read_cautions(procedure: Procedure, state: RunState, intent: want.ReadCautions) -> Decided:
    """The cautions of the step that is up have been read, before the act."""
    up = step_up(procedure, state, intent.step)
    if isinstance(up, Refusal):
        return up
    if up.begun or state.record(intent.step).cautions_read or not up.step.cautions:
        return Refusal(f"Step {up.step.number} has no cautions left to read.")
    refused = not_the_doer(procedure, state, up.step, intent.by)
    names = tuple(caution.id for caution in up.step.cautions)
    return refused or (ev.CautionsRead(intent.by, intent.at, intent.step, names),)


def release_hold(procedure: Procedure, state: RunState, intent: want.ReleaseHold) -> Decided:
    """Released by a person with the role who is not the one doing the step, every confirmation ticked."""
    up = step_up(procedure, state, intent.step)
    if isinstance(up, Refusal):
        return up
    step, record = up.step, state.record(intent.step)
    if step.hold is None:
        return Refusal(f"Step {step.number} has no hold.")
    if record.hold == "released":
        return Refusal(f"The hold of step {step.number} has been released by {record.released_by}.")
    if step.cautions and not record.cautions_read:
        return Refusal(f"Read the cautions of step {step.number} first.")
    refused = may_not_release(state, procedure, step, intent)
    if refused is not None:
        return refused
    unmet = unmet_words(procedure, state, step, begun=up.begun)
    if unmet:
        words = f"What step {step.number} needs does not hold; there is nothing to release yet."
        kept = refused_on_record(intent, step, "release", words).kept
        return Refusal(words, unmet, kept)
    unticked = tuple(text for text in step.hold.confirm if text not in intent.confirmed)
    if unticked:
        return Refusal("Every point must be confirmed before the hold is released.", unticked)
    stands_on = basis(procedure, state, step)
    return (ev.HoldReleased(intent.by, intent.at, step.id, step.hold.release, step.hold.confirm, stands_on),)


def begin_step(procedure: Procedure, state: RunState, intent: want.BeginStep) -> Decided:
    """The step begins where nothing stands against it."""
    up = step_up(procedure, state, intent.step)
    if isinstance(up, Refusal):
        return up
    step = up.step
    if up.begun:
        return Refusal(f"Step {step.number} has begun already.")
    refused = not_the_doer(procedure, state, step, intent.by) or _may_not_begin(procedure, state, up)
    if refused is not None:
        return refused
    act, missing = fill_in(state, step.do)
    if missing:
        return Refusal(f"Step {step.number} shows values that are not known yet.", missing)
    attempt = state.record(step.id).attempt + 1
    events: list[ev.Event] = [ev.StepBegun(intent.by, intent.at, step.id, step.number, attempt, act)]
    events += [
        ev.WaitBegun("", intent.at, step.id, ask.name, ask.at_least_s) for ask in step.asks if ask.kind == "wait"
    ]
    return tuple(events)


def _may_not_begin(procedure: Procedure, state: RunState, up: Up) -> Refusal | None:
    step, record = up.step, state.record(up.step.id)
    if step.cautions and not record.cautions_read:
        return Refusal(f"Read the cautions of step {step.number} first.")
    held = held_values(procedure, state, step)
    if held:
        return held_refusal(procedure, step, held)
    missing = missing_values(state, step.uses - own_values(procedure, step))
    if missing:
        return Refusal(f"Step {step.number} stands on values that do not count now.", missing)
    if step.when is not None and evaluate(step.when.expr, values_now(state), procedure.scope) is not True:
        return Refusal(f"Whether step {step.number} applies cannot be worked out: {step.when.text}")
    unmet = unmet_words(procedure, state, step)
    others = tuple(b.words for b in flow.blocks(procedure, state.position, up.lane) if b.kind != "need")
    if unmet or others:
        return Refusal(f"Step {step.number} may not begin.", unmet + others)
    if step.hold is not None and record.hold != "released":
        return Refusal(f"Step {step.number} is held: {role_label(procedure, step.hold.release)} must release it.")
    return _is_the_other(procedure, state, step)


def _is_the_other(procedure: Procedure, state: RunState, step: Step) -> Refusal | None:
    """Refused where the one who does the step released it, looked second or accepted its pieces: roles may have passed on."""
    record, doer = state.record(step.id), state.crew.get(step.by, "")
    if record.released_by and same_person(record.released_by, doer):
        return Refusal(f"{doer} released the hold of step {step.number}; another person must do it, or release it.")
    if record.second_by and same_person(record.second_by, doer):
        return Refusal(f"{doer} was the second to look at step {step.number}; another person must do it.")
    for known in resting_on(procedure, state, step, "accepted"):
        if same_person(known.accepted_by, doer):
            words = f"{doer} accepted {known.name.replace('_', ' ')} for step {step.number}"
            return Refusal(f"{words}; another person must do it.")
    return None


def end_step(procedure: Procedure, state: RunState, intent: want.EndStep) -> Decided:
    """The step is done, where all it asks is answered and what it needs still holds."""
    up = step_up(procedure, state, intent.step)
    if isinstance(up, Refusal):
        return up
    step, record = up.step, state.record(intent.step)
    refused = not_the_doer(procedure, state, step, intent.by)
    if refused is not None:
        return refused
    if not up.begun:
        return Refusal(f"Step {step.number} has not begun.")
    unmet = unmet_words(procedure, state, step, begun=True)
    if unmet:
        return Refusal(f"Step {step.number} cannot end: what it needs does not hold.", unmet)
    if step.hold is not None and record.hold != "released":
        return Refusal(f"The release of step {step.number} was revoked; it must be released again.")
    refused = _is_the_other(procedure, state, step)
    if refused is not None:
        return refused
    held = held_values(procedure, state, step)
    if held:
        return held_refusal(procedure, step, held)
    unanswered = _unanswered(step, record)
    if unanswered:
        return Refusal(f"Step {step.number} is not answered yet.", unanswered)
    if step.second is not None and not record.looked_twice:
        return Refusal(f"{role_label(procedure, step.second.by)} must look too before step {step.number} ends.")
    waited = _wait_ended(step, record, intent.at)
    if isinstance(waited, Refusal):
        return waited
    return _repeat_or_done(procedure, state, intent, step, waited)


def _unanswered(step: Step, record: StepRecord) -> tuple[str, ...]:
    def open_(name: str) -> bool:
        given = record.answers.get(name)
        return given is None or given.verdict != "in"

    return tuple(ask.ask or ask.name for ask in step.asks if ask.kind != "wait" and open_(ask.name))


def _wait_ended(step: Step, record: StepRecord, at: Moment) -> tuple[ev.Event, ...] | Refusal:
    """The waiting time is over, or how long it still runs; after another boot nobody knows, so it runs again."""
    events: list[ev.Event] = []
    for ask in step.asks:
        if ask.kind != "wait" or record.wait_over:
            continue
        waited = None if record.wait_from is None else seconds_between(record.wait_from, at)
        if waited is None:
            return (ev.WaitBegun("", at, step.id, ask.name, ask.at_least_s),)
        if waited < ask.at_least_s:
            return Refusal(f"Wait: {seconds_words(ask.at_least_s - waited)} to go of {seconds_words(ask.at_least_s)}.")
        late = ask.at_most_s is not None and waited > ask.at_most_s
        events.append(ev.WaitEnded("", at, step.id, ask.name, round(waited, 3), late))
    return tuple(events)


def _repeat_or_done(
    procedure: Procedure, state: RunState, intent: want.EndStep, step: Step, waited: tuple[ev.Event, ...]
) -> Decided:
    if any(isinstance(event, ev.WaitBegun) for event in waited):
        return waited
    events = list(waited)
    late = [event for event in waited if isinstance(event, ev.WaitEnded) and event.late]
    if late:
        words = f"step {step.number} took longer than its longest wait: {seconds_words(late[0].waited_s)}"
        events.append(out_of_limits(state, intent, step, words))
    if step.repeat is not None:
        missing = missing_values(state, names_needed(step.repeat.until, procedure.scope))
        if missing:
            return Refusal(f"Step {step.number} ends when {step.repeat.text}.", missing)
        if evaluate(step.repeat.until, values_now(state), procedure.scope) is not True:
            return (*events, *_not_yet(procedure, state, intent, step, step.repeat))
    made = named_facts(procedure, step.makes)
    events.append(ev.StepDone(intent.by, intent.at, step.id, step.number, made))
    return tuple(events)


def _not_yet(
    procedure: Procedure, state: RunState, intent: want.EndStep, step: Step, repeat: Repeat
) -> tuple[ev.Event, ...]:
    """Once more; after the last time without success the author's `else`, or an exception and once more all the same."""
    passes = state.record(step.id).passes + 1
    again = ev.StepRepeated(intent.by, intent.at, step.id, passes, repeat.text)
    if passes < repeat.at_most:
        return (again,)
    events = ended_in_trouble(
        procedure, state, intent, step, repeat.otherwise, f"{passes} times, and not {repeat.text}"
    )
    return events if repeat.otherwise else (*events, again)


def leave_out(procedure: Procedure, state: RunState, intent: want.LeaveOut) -> Decided:
    """An optional step that has not begun is left out; what it makes does not happen."""
    up = step_up(procedure, state, intent.step)
    if isinstance(up, Refusal):
        return up
    step = up.step
    if not step.optional:
        return Refusal(f"Step {step.number} may not be left out. Note an exception and go back, or stop.")
    if up.begun:
        return Refusal(f"Step {step.number} has begun; end it, or meet one of its troubles.")
    refused = not_the_doer(procedure, state, step, intent.by)
    if refused is not None:
        return refused
    if not intent.reason.strip():
        return Refusal("Say why the step is left out.")
    if step.optional != "reason":
        label, holder = role_label(procedure, step.optional), state.crew.get(step.optional, "")
        if not holder or not same_person(holder, intent.authority):
            return Refusal(f"{label} must agree that step {step.number} is left out.")
        if same_person(holder, state.crew.get(step.by, "")):
            return Refusal(f"{holder} does step {step.number}; another person must agree.")
    return (ev.StepLeftOut(intent.by, intent.at, step.id, step.number, intent.reason.strip(), intent.authority),)
