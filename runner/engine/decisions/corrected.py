"""What a correction comes too late for: steps that went by the old value, and steps passed over because of it.

They are named in an exception, for a person to decide; nothing is done over or taken back by itself.
"""

from runner.engine import events as ev
from runner.engine import intents as want
from runner.engine.evolve import evolve
from runner.engine.moment import Moment
from runner.engine.shown import values_now
from runner.engine.state import RunState, StepStatus
from runner.formula.evaluate import evaluate
from runner.formula.scope import names_needed
from runner.procedure.model import Procedure, Step, steps_of
from runner.say.text import say

GONE_BY = (StepStatus.BEGUN, StepStatus.DONE, StepStatus.TROUBLED)
"""Steps that went by the values that they show, as far as they came."""


def come_too_late(
    procedure: Procedure, state: RunState, events: tuple[ev.Event, ...], intent: want.CorrectAnswer
) -> tuple[ev.Event, ...]:
    """The events that follow where steps went by the old value: which, and the exception that asks what becomes of them.

    `state` is the one before the correction, `events` are all that the correction leads to.
    """
    after = state
    for event in events:
        after = evolve(procedure, after, event)
    changed = changed_values(state, after)
    corrected = next((event for event in events if isinstance(event, ev.AnswerCorrected)), None)
    if corrected is None or not changed:
        return ()
    steps = [step for step in steps_of(procedure) if step.id != corrected.step]
    done = tuple(s for s in steps if state.record(s.id).status in GONE_BY and s.uses & changed)
    passed = tuple(s for s in steps if _applies_now(procedure, after, s, changed))
    if not done and not passed:
        return ()
    number, name = len(after.exceptions) + 1, corrected.name
    words = say(
        "{name} corrected from {old} to {shown}", name=name.replace("_", " "), old=corrected.old, shown=corrected.shown
    )
    words += _named(say("; done with the old value: "), done) + _named(say("; passed over by the old value: "), passed)
    return _events(intent.at, corrected, done, passed, number, words)


def changed_values(before: RunState, after: RunState) -> frozenset[str]:
    """Names of values that are others now, or that do not count any more."""
    return frozenset(
        name
        for name, known in after.values.items()
        if name in before.values
        and (known.value != before.values[name].value or known.counts != before.values[name].counts)
    )


def _applies_now(procedure: Procedure, after: RunState, step: Step, changed: frozenset[str]) -> bool:
    if step.when is None or after.record(step.id).status is not StepStatus.NOT_APPLICABLE:
        return False
    if not names_needed(step.when.expr, procedure.scope) & changed:
        return False
    return evaluate(step.when.expr, values_now(after), procedure.scope) is True


def _named(lead: str, steps: tuple[Step, ...]) -> str:
    return lead + ", ".join(say("step {number}", number=step.number) for step in steps) if steps else ""


def _events(
    at: Moment, corrected: ev.AnswerCorrected, done: tuple[Step, ...], passed: tuple[Step, ...], number: int, words: str
) -> tuple[ev.Event, ...]:
    noted = ev.ExceptionNoted("", at, number, "value", "serious", words, corrected.step, "", blocking=False)
    used = ev.OldValueUsed(
        "", at, corrected.name, corrected.old, corrected.shown, tuple(step.id for step in done),
        tuple(step.id for step in passed), number,
    )  # fmt: skip
    return noted, used
