"""Answers: judged by the ask's own kind, re-entered once when out of limits, corrected with the old one kept,
and looked at by a second person."""

from runner.engine import events as ev
from runner.engine import intents as want
from runner.engine.decisions.check import Up, not_the_doer, same_person, step_up
from runner.engine.decisions.ticks import refused_on_record
from runner.engine.decisions.trouble import ended_in_trouble, out_of_limits
from runner.engine.intents import Intent, Refusal
from runner.engine.lookup import step_named
from runner.engine.shown import role_label, values_now
from runner.engine.state import KnownValue, RunState
from runner.formula.evaluate import evaluate
from runner.procedure.asks import KIND_OF
from runner.procedure.asks.ask import Ask, Judged, Misread
from runner.procedure.model import Procedure, Step
from runner.procedure.ticket import judge_input
from runner.say.text import say

Decided = tuple[ev.Event, ...] | Refusal
AGREEMENT = 0.02
"""Two independent readings agree within this share of the larger. Common practice, no source."""


def give_answer(procedure: Procedure, state: RunState, intent: want.GiveAnswer) -> Decided:
    """One ask of the step in progress is answered."""
    up = step_up(procedure, state, intent.step)
    if isinstance(up, Refusal):
        return up
    step = up.step
    refused = not_the_doer(procedure, state, step, intent.by) or _not_begun(up)
    if refused is not None:
        return refused
    ask = _ask(step, intent.name)
    if ask is None or ask.kind == "wait":
        return Refusal(say("Step {number} does not ask for {name}.", number=step.number, name=intent.name))
    judged = _judged(procedure, state, ask, intent.typed)
    if isinstance(judged, Misread):
        return Refusal(judged.message)
    before = state.record(step.id).answers.get(ask.name)
    entry = 1 if before is None or before.verdict == "in" else before.entry + 1
    verdict = judged.verdict
    if verdict == "unlikely" and before is not None and before.verdict == "unlikely" and before.value == judged.value:
        verdict = "in"  # typed the same once more: it is meant
    answered = _answered(intent, step, ask, judged, verdict, entry)
    if verdict == "out" and before is not None and before.verdict != "in" and before.outs:
        words = say("{ask}: {shown} (allowed: {limits})", ask=ask.ask, shown=judged.shown, limits=judged.limits)
        given = KnownValue(ask.name, judged.value, judged.shown, step.id, judged.unit)
        return answered, *ended_in_trouble(procedure, state, intent, step, ask.otherwise, words, (given,))
    return (answered,)


def second_look(procedure: Procedure, state: RunState, intent: want.GiveSecondLook) -> Decided:
    """A second person answers for themselves (independent) or agrees with what they see (together)."""
    up = step_up(procedure, state, intent.step)
    if isinstance(up, Refusal):
        return up
    step, record = up.step, state.record(intent.step)
    refused = may_not_look(procedure, state, step, intent)
    if refused is not None or step.second is None:
        return refused or ()
    asked = [ask for ask in step.asks if ask.kind != "wait"]
    if not up.begun or any(record.answers.get(a.name) is None or record.answers[a.name].verdict != "in" for a in asked):
        return Refusal(say("Step {number} is not answered by the first person yet.", number=step.number))
    if step.second.how == "together":
        return (ev.LookedTwice(intent.by, intent.at, step.id, "together", agrees=True, words=""),)
    return _independent(procedure, state, intent, step, asked)


def may_not_look(procedure: Procedure, state: RunState, step: Step, intent: Intent) -> Refusal | None:
    """The second look is for a person of the role who is not the one doing the step; another is on record with it."""
    if step.second is None:
        return Refusal(say("Step {number} asks for no second look.", number=step.number))
    label, holder = role_label(procedure, step.second.by), state.crew.get(step.second.by, "")
    if not holder or not same_person(holder, intent.by):
        words = say(
            "The second look at step {number} is for {person}.",
            number=step.number,
            person=f"{label} ({holder})" if holder else label,
        )
        return refused_on_record(intent, step, "second look", words)
    if same_person(state.crew.get(step.by, ""), intent.by):
        words = say("{by} does step {number}; another person must look.", by=intent.by, number=step.number)
        return refused_on_record(intent, step, "second look", words)
    return None


def name_second(procedure: Procedure, state: RunState, intent: want.NameSecond) -> Decided:
    """Who means to look; nothing is kept of one who may, for the look says it."""
    up = step_up(procedure, state, intent.step)
    if isinstance(up, Refusal):
        return up
    return may_not_look(procedure, state, up.step, intent) or ()


def _independent(
    procedure: Procedure, state: RunState, intent: want.GiveSecondLook, step: Step, asked: list[Ask]
) -> Decided:
    given, record = dict(intent.answers), state.record(step.id)
    events: list[ev.Event] = []
    differ: list[str] = []
    for ask in asked:
        if ask.name not in given:
            return Refusal(say("Answer for yourself; the first answers are not shown."), (ask.ask,))
        judged = _judged(procedure, state, ask, given[ask.name])
        if isinstance(judged, Misread):
            return Refusal(judged.message)
        typed = want.GiveAnswer(intent.by, step.id, ask.name, given[ask.name], at=intent.at)
        events.append(_answered(typed, step, ask, judged, judged.verdict, 1, hidden=True))
        first = record.answers[ask.name].value
        if judged.verdict == "out" or not _agree(ask, first, judged.value):
            differ.append(
                say(
                    "{ask}: {first} and {second}",
                    ask=ask.ask,
                    first=record.answers[ask.name].shown,
                    second=judged.shown,
                )
            )
    agrees = not differ
    events.append(ev.LookedTwice(intent.by, intent.at, step.id, "independent", agrees, "; ".join(differ)))
    if differ:
        events.append(out_of_limits(state, intent, step, say("two looks differ: {answers}", answers="; ".join(differ))))
    return tuple(events)


def _agree(ask: Ask, first: ev.Scalar, second: ev.Scalar) -> bool:
    """Texts are equal; numbers agree in the unit that was asked for: 20 and 25 degC differ by a quarter."""
    if isinstance(first, str) or isinstance(second, str) or ask.unit is None:
        return first == second
    one, other = ask.unit.magnitude(float(first)), ask.unit.magnitude(float(second))
    return abs(one - other) <= AGREEMENT * max(abs(one), abs(other)) * (1 + 1e-9)


def correct_answer(procedure: Procedure, state: RunState, intent: want.CorrectAnswer) -> Decided:
    """A given answer was wrong. The new one must be within limits; the old one stays on record."""
    known = state.values.get(intent.name)
    if known is None or known.source == "worked out":
        return Refusal(say("{name} has not been given.", name=intent.name))
    if not intent.reason.strip():
        return Refusal(say("Say why the answer is corrected."))
    refused = _may_not_correct(procedure, state, intent, known.source)
    if refused is not None:
        return refused
    judged = _judged_again(procedure, state, intent)
    if isinstance(judged, Refusal):
        return judged
    step = step_named(procedure, known.source)
    if step is not None and step.repeat is not None:
        corrected = values_now(state) | {intent.name: judged.value}
        if evaluate(step.repeat.until, corrected, procedure.scope) is not True:
            return Refusal(
                say(
                    "With {shown} it is not so that {condition}. Go back to the step instead.",
                    shown=judged.shown,
                    condition=step.repeat.text,
                )
            )
    if judged.verdict == "out":
        return Refusal(
            say(
                "{shown} is out of limits ({limits}). Go back to the step instead.",
                shown=judged.shown,
                limits=judged.limits,
            )
        )
    return (
        ev.AnswerCorrected(
            intent.by, intent.at, "" if known.source == "ticket" else known.source, intent.name, known.shown,
            intent.typed, judged.shown, judged.value, judged.magnitude, judged.unit, intent.reason.strip(),
        ),
    )  # fmt: skip


def _may_not_correct(procedure: Procedure, state: RunState, intent: want.CorrectAnswer, source: str) -> Refusal | None:
    """An answer is corrected by the one who does its step; what two people looked at is answered anew."""
    step = step_named(procedure, source)
    if step is None:
        return None
    if state.values[intent.name].stale:
        return Refusal(say("Step {number} asks for it again; answer it there.", number=step.number))
    if step.second is not None:
        return Refusal(say("Two people answered for step {number}. Go back to the step instead.", number=step.number))
    return not_the_doer(procedure, state, step, intent.by)


def _judged_again(procedure: Procedure, state: RunState, intent: want.CorrectAnswer) -> Judged | Refusal:
    source = state.values[intent.name].source
    if source == "ticket":
        given = next(i for i in procedure.inputs if i.name == intent.name)
        judged = judge_input(given, intent.typed)
    else:
        step = step_named(procedure, source)
        ask = _ask(step, intent.name) if step is not None else None
        if ask is None:
            return Refusal(say("{name} is not asked for.", name=intent.name))
        judged = _judged(procedure, state, ask, intent.typed)
    return Refusal(judged.message) if isinstance(judged, Misread) else judged


def _judged(procedure: Procedure, state: RunState, ask: Ask, typed: str) -> Judged | Misread:
    return KIND_OF[ask.kind].accept(ask, typed, values_now(state), procedure.scope)


def _answered(
    intent: want.GiveAnswer, step: Step, ask: Ask, judged: Judged, verdict: str, entry: int, hidden: bool = False
) -> ev.Answered:
    return ev.Answered(
        intent.by, intent.at, step.id, ask.name, ask.kind, ask.ask, intent.typed, judged.shown, judged.value,
        judged.magnitude, judged.unit, judged.limits, verdict, entry, hidden,
    )  # fmt: skip


def _ask(step: Step, name: str) -> Ask | None:
    return next((ask for ask in step.asks if ask.name == name), None)


def _not_begun(up: Up) -> Refusal | None:
    return None if up.begun else Refusal(say("Step {number} has not begun.", number=up.step.number))
