"""Beginning and ending steps: cautions, holds, needs, waits, second looks, repeats and leaving out."""

from runner.engine import events as ev
from runner.engine import flow
from runner.engine import intents as want
from runner.engine.decisions.carried import keeps_from_beginning
from runner.engine.decisions.check import (
    Up,
    basis,
    missing_values,
    not_the_doer,
    same_person,
    step_up,
    unmet_words,
)
from runner.engine.decisions.lifting import may_not_lift
from runner.engine.decisions.paper import waited_on_paper
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
from runner.say.text import say

Decided = tuple[ev.Event, ...] | Refusal


def read_cautions(procedure: Procedure, state: RunState, intent: want.ReadCautions) -> Decided:
    """The cautions of the step that is up have been read, before the act."""
    up = step_up(procedure, state, intent.step)
    if isinstance(up, Refusal):
        return up
    if up.begun or state.record(intent.step).cautions_read or not up.step.cautions:
        return Refusal(say("Step {number} has no cautions left to read.", number=up.step.number))
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
        return Refusal(say("Step {number} has no hold.", number=step.number))
    if record.hold == "released":
        return Refusal(
            say(
                "The hold of step {number} has been released by {person}.",
                number=step.number,
                person=record.released_by,
            )
        )
    if step.cautions and not record.cautions_read:
        return Refusal(say("Read the cautions of step {number} first.", number=step.number))
    refused = may_not_release(state, procedure, step, intent)
    if refused is not None:
        return refused
    unmet = unmet_words(procedure, state, step, begun=up.begun)
    if unmet:
        words = say("What step {number} needs does not hold; there is nothing to release yet.", number=step.number)
        kept = refused_on_record(intent, step, "release", words).kept
        return Refusal(words, unmet, kept)
    unticked = tuple(text for text in step.hold.confirm if text not in intent.confirmed)
    if unticked:
        return Refusal(say("Every point must be confirmed before the hold is released."), unticked)
    stands_on = basis(procedure, state, step)
    return (ev.HoldReleased(intent.by, intent.at, step.id, step.hold.release, step.hold.confirm, stands_on),)


def begin_step(procedure: Procedure, state: RunState, intent: want.BeginStep) -> Decided:
    """The step begins where nothing stands against it."""
    up = step_up(procedure, state, intent.step)
    if isinstance(up, Refusal):
        return up
    step = up.step
    if up.begun:
        return Refusal(say("Step {number} has begun already.", number=step.number))
    refused = not_the_doer(procedure, state, step, intent.by) or _may_not_begin(procedure, state, up, intent.at)
    if refused is not None:
        return refused
    act, missing = fill_in(state, step.do)
    if missing:
        return Refusal(say("Step {number} shows values that are not known yet.", number=step.number), missing)
    attempt = state.record(step.id).attempt + 1
    events: list[ev.Event] = [ev.StepBegun(intent.by, intent.at, step.id, step.number, attempt, act)]
    events += [
        ev.WaitBegun("", intent.at, step.id, ask.name, ask.at_least_s) for ask in step.asks if ask.kind == "wait"
    ]
    return tuple(events)


def _may_not_begin(procedure: Procedure, state: RunState, up: Up, at: Moment) -> Refusal | None:
    step, record = up.step, state.record(up.step.id)
    carried = keeps_from_beginning(procedure, state, step)
    if carried:
        return Refusal(say("Step {number} may not begin.", number=step.number), carried)
    if step.cautions and not record.cautions_read:
        return Refusal(say("Read the cautions of step {number} first.", number=step.number))
    held = held_values(procedure, state, step)
    if held:
        return held_refusal(procedure, step, held)
    missing = missing_values(state, step.uses - own_values(procedure, step))
    if missing:
        return Refusal(say("Step {number} stands on values that do not count now.", number=step.number), missing)
    if step.when is not None and evaluate(step.when.expr, values_now(state), procedure.scope) is not True:
        return Refusal(
            say(
                "Whether step {number} applies cannot be worked out: {condition}",
                number=step.number,
                condition=step.when.text,
            )
        )
    unlifted = may_not_lift(state, step, at.utc[:10])
    if unlifted is not None:
        return unlifted
    unmet = unmet_words(procedure, state, step)
    others = tuple(b.words for b in flow.blocks(procedure, state.position, up.lane) if b.kind != "need")
    if unmet or others:
        return Refusal(say("Step {number} may not begin.", number=step.number), unmet + others)
    if step.hold is not None and record.hold != "released":
        return Refusal(
            say(
                "Step {number} is held: {role} must release it.",
                number=step.number,
                role=role_label(procedure, step.hold.release),
            )
        )
    return _is_the_other(procedure, state, step)


def _is_the_other(procedure: Procedure, state: RunState, step: Step) -> Refusal | None:
    """Refused where the one who does the step released it, looked second or accepted its pieces: roles may have passed on."""
    record, doer = state.record(step.id), state.crew.get(step.by, "")
    if record.released_by and same_person(record.released_by, doer):
        return Refusal(
            say(
                "{doer} released the hold of step {number}; another person must do it, or release it.",
                doer=doer,
                number=step.number,
            )
        )
    if record.second_by and same_person(record.second_by, doer):
        return Refusal(
            say(
                "{doer} was the second to look at step {number}; another person must do it.",
                doer=doer,
                number=step.number,
            )
        )
    for known in resting_on(procedure, state, step, "accepted"):
        if same_person(known.accepted_by, doer):
            words = say(
                "{doer} accepted {name} for step {number}; another person must do it.",
                doer=doer,
                name=known.name.replace("_", " "),
                number=step.number,
            )
            return Refusal(words)
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
        return Refusal(say("Step {number} has not begun.", number=step.number))
    unmet = unmet_words(procedure, state, step, begun=True)
    if unmet:
        return Refusal(say("Step {number} cannot end: what it needs does not hold.", number=step.number), unmet)
    if step.hold is not None and record.hold != "released":
        return Refusal(say("The release of step {number} was revoked; it must be released again.", number=step.number))
    refused = _is_the_other(procedure, state, step)
    if refused is not None:
        return refused
    held = held_values(procedure, state, step)
    if held:
        return held_refusal(procedure, step, held)
    unanswered = _unanswered(step, record)
    if unanswered:
        return Refusal(say("Step {number} is not answered yet.", number=step.number), unanswered)
    if step.second is not None and not record.looked_twice:
        return Refusal(
            say(
                "{role} must look too before step {number} ends.",
                role=role_label(procedure, step.second.by),
                number=step.number,
            )
        )
    waited = _wait_ended(step, record, intent)
    if isinstance(waited, Refusal):
        return waited
    return _repeat_or_done(procedure, state, intent, step, waited)


def _unanswered(step: Step, record: StepRecord) -> tuple[str, ...]:
    def open_(name: str) -> bool:
        given = record.answers.get(name)
        return given is None or given.verdict != "in"

    return tuple(ask.ask or ask.name for ask in step.asks if ask.kind != "wait" and open_(ask.name))


def _wait_ended(step: Step, record: StepRecord, intent: want.EndStep) -> tuple[ev.Event, ...] | Refusal:
    """The waiting time is over, or how long it still runs; after another boot nobody knows, so it runs again. Where
    both its ends are from paper, it is what the paper says."""
    at = intent.at
    events: list[ev.Event] = []
    for ask in step.asks:
        if ask.kind != "wait" or record.wait_over:
            continue
        waited = waited_on_paper(record.wait_paper, intent)
        if waited is None and record.wait_from is not None:
            waited = seconds_between(record.wait_from, at)
        if waited is None:
            return (ev.WaitBegun("", at, step.id, ask.name, ask.at_least_s),)
        if waited < ask.at_least_s:
            return Refusal(
                say(
                    "Wait: {left} to go of {time}.",
                    left=seconds_words(ask.at_least_s - waited),
                    time=seconds_words(ask.at_least_s),
                )
            )
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
        words = say(
            "step {number} took longer than its longest wait: {time}",
            number=step.number,
            time=seconds_words(late[0].waited_s),
        )
        events.append(out_of_limits(state, intent, step, words))
    if step.repeat is not None:
        missing = missing_values(state, names_needed(step.repeat.until, procedure.scope))
        if missing:
            return Refusal(
                say("Step {number} ends when {condition}.", number=step.number, condition=step.repeat.text), missing
            )
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
        procedure,
        state,
        intent,
        step,
        repeat.otherwise,
        say("{passes} times, and not {condition}", passes=passes, condition=repeat.text),
    )
    return events if repeat.otherwise else (*events, again)


def leave_out(procedure: Procedure, state: RunState, intent: want.LeaveOut) -> Decided:
    """An optional step that has not begun is left out; what it makes does not happen."""
    up = step_up(procedure, state, intent.step)
    if isinstance(up, Refusal):
        return up
    step = up.step
    if not step.optional:
        return Refusal(
            say("Step {number} may not be left out. Note an exception and go back, or stop.", number=step.number)
        )
    if up.begun:
        return Refusal(say("Step {number} has begun; end it, or meet one of its troubles.", number=step.number))
    refused = not_the_doer(procedure, state, step, intent.by)
    if refused is not None:
        return refused
    if not intent.reason.strip():
        return Refusal(say("Say why the step is left out."))
    if step.optional != "reason":
        label, holder = role_label(procedure, step.optional), state.crew.get(step.optional, "")
        if not holder or not same_person(holder, intent.authority):
            return Refusal(say("{label} must agree that step {number} is left out.", label=label, number=step.number))
        if same_person(holder, state.crew.get(step.by, "")):
            return Refusal(
                say("{holder} does step {number}; another person must agree.", holder=holder, number=step.number)
            )
    return (ev.StepLeftOut(intent.by, intent.at, step.id, step.number, intent.reason.strip(), intent.authority),)
