"""Ticks, each on record as it is made: who means to release and confirms which point, who threaded which roller.

The person is asked for first: nobody ticks who may not release, and one who may not is on record with what they wanted.
"""

from runner.engine import events as ev
from runner.engine import intents as want
from runner.engine.decisions.check import not_the_doer, same_person, step_up, unmet_words
from runner.engine.intents import Intent, Refusal
from runner.engine.shown import role_label
from runner.engine.state import RunState
from runner.procedure.asks import KIND_OF
from runner.procedure.asks.ask import Ask, Judged
from runner.procedure.model import Procedure, Step
from runner.say.text import say

Decided = tuple[ev.Event, ...] | Refusal


def refused_on_record(intent: Intent, step: Step, act: str, why: str) -> Refusal:
    """A refusal of a person, who is on record with what they wanted."""
    return Refusal(why, kept=(ev.ActRefused(intent.by, intent.at, step.id, act, why),))


def may_not_release(state: RunState, procedure: Procedure, step: Step, intent: Intent) -> Refusal | None:
    """Released by a person with the role who is not the one doing the step."""
    if step.hold is None:
        return Refusal(say("Step {number} has no hold.", number=step.number))
    label, holder = role_label(procedure, step.hold.release), state.crew.get(step.hold.release, "")
    if not holder:
        return refused_on_record(
            intent,
            step,
            "release",
            say("Nobody has signed on as {label}. Only {label} releases this hold.", label=label),
        )
    if not same_person(holder, intent.by):
        return refused_on_record(
            intent, step, "release", say("Only {label} ({holder}) releases this hold.", label=label, holder=holder)
        )
    if same_person(state.crew.get(step.by, ""), intent.by):
        words = say("{by} does step {number}; another person must release its hold.", by=intent.by, number=step.number)
        return refused_on_record(intent, step, "release", words)
    return None


def name_releaser(procedure: Procedure, state: RunState, intent: want.NameReleaser) -> Decided:
    """Who means to release; nothing is kept of one who may, for the ticks and the release say it."""
    up = step_up(procedure, state, intent.step)
    if isinstance(up, Refusal):
        return up
    return may_not_release(state, procedure, up.step, intent) or ()


def tick_confirmation(procedure: Procedure, state: RunState, intent: want.TickConfirmation) -> Decided:
    """A point of the hold is confirmed by the one who means to release, or is so no more."""
    up = step_up(procedure, state, intent.step)
    if isinstance(up, Refusal):
        return up
    step, record = up.step, state.record(intent.step)
    refused = may_not_release(state, procedure, step, intent)
    if refused is not None or step.hold is None:
        return refused or ()
    if intent.point not in step.hold.confirm:
        return Refusal(say("The hold of step {number} has no such point.", number=step.number), step.hold.confirm)
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
    unmet = unmet_words(procedure, state, step, begun=up.begun)
    if unmet:
        return Refusal(
            say("What step {number} needs does not hold; there is nothing to release yet.", number=step.number), unmet
        )
    if not intent.ticked:
        return (ev.ConfirmationTakenBack(intent.by, intent.at, step.id, intent.point),)
    return (ev.ConfirmationTicked(intent.by, intent.at, step.id, intent.point),)


def tick_roller(procedure: Procedure, state: RunState, intent: want.TickRoller) -> Decided:
    """The next roller is threaded, or the last tick is taken back; with the last roller the threading is answered."""
    up = step_up(procedure, state, intent.step)
    if isinstance(up, Refusal):
        return up
    step, record = up.step, state.record(intent.step)
    refused = not_the_doer(procedure, state, step, intent.by)
    if refused is not None:
        return refused
    ask = threading_of(step)
    if not up.begun or ask is None:
        return Refusal(say("There is nothing to thread at step {number} now.", number=step.number))
    if ask.name in record.answers:
        return Refusal(
            say(
                "The threading of step {number} is answered; go back to the step to thread it anew.", number=step.number
            )
        )
    threaded = len(record.threaded)
    if not intent.ticked:
        if not threaded or intent.number != threaded:
            return Refusal(say("Only the tick that was made last is taken back."))
        roller = ask.of[threaded - 1]
        return (ev.RollerTakenBack(intent.by, intent.at, step.id, ask.name, threaded, roller),)
    if intent.number != threaded + 1 or threaded >= len(ask.of):
        return Refusal(
            say(
                "{threaded} of {count} rollers are ticked; they are ticked in order.",
                threaded=threaded,
                count=len(ask.of),
            )
        )
    ticked = ev.RollerThreaded(intent.by, intent.at, step.id, ask.name, intent.number, ask.of[threaded])
    judged = KIND_OF[ask.kind].accept(ask, str(intent.number), {}, procedure.scope)
    if not isinstance(judged, Judged):
        return (ticked,)
    return ticked, ev.Answered(
        intent.by, intent.at, step.id, ask.name, ask.kind, ask.ask, "all", judged.shown, judged.value,
        judged.magnitude, judged.unit, judged.limits, judged.verdict, 1,
    )  # fmt: skip


def threading_of(step: Step) -> Ask | None:
    """The path that a step threads."""
    return next((ask for ask in step.asks if ask.kind == "thread"), None)
