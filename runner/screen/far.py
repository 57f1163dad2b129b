"""What the far view says of a run: number, state, act and the values to set, from the same view as all else.

Where the run stands still, that is what it says instead of the step. Hidden values stay hidden.
"""

from runner.engine.moment import seconds_words
from runner.engine.shown import fill_in
from runner.engine.state import RunState
from runner.procedure.template import Template
from runner.say.text import mark, say
from runner.screen.blocks import Far
from runner.screen.view import Stage, StepView, View

HALTS = {"pause": mark("PAUSED"), "make-safe": mark("STOP, MAKE SAFE")}
INTERRUPTED = mark("INTERRUPTED")

ALARM = "!"


def far_of(seen: View, state: RunState, interrupted: bool) -> Far:
    """The far view of a run; `state` is veiled as screens may show it."""
    if state.outcome:
        return Far("", say(state.outcome).upper(), "")
    if state.halted == "make-safe":
        left = [act for at, act in enumerate(state.safe_acts) if at not in state.safe_acts_done]
        return Far("", say(HALTS["make-safe"]), left[0] if left else "", loud=True, mark=ALARM)
    if state.halted or interrupted:
        return Far("", say(HALTS.get(state.halted, INTERRUPTED)), state.intention, loud=True, mark=ALARM)
    if seen.step is None:
        waits = say("waits for {lists}", lists=", ".join(seen.waiting_for)) if seen.waiting_for else ""
        return Far("", say("all phases have ended") if seen.ended else say("list ended"), waits)
    step = seen.step
    words, loud = state_words(step)
    loud = loud or bool(step.blocked)
    return Far(step.step.number, words, step.act, values(step, state), loud, ALARM if loud else step.mark.strip())


def state_words(step: StepView) -> tuple[str, bool]:
    """How the step stands in few words, and whether somebody has to do something else first."""
    match step.stage:
        case Stage.CAUTIONS:
            return say("{signal}, read the cautions", signal=say(step.cautions[0].signal).upper()), True
        case Stage.HOLD | Stage.PIECES:
            return say("HELD"), True
        case Stage.WAIT:
            return say("wait {time}", time=seconds_words(step.wait_left or 0.0)), False
        case Stage.SECOND:
            return say("second look"), False
        case _:
            return (say("not yet"), True) if step.blocked else (say(step.status.value), False)


def values(step: StepView, state: RunState) -> tuple[tuple[str, str], ...]:
    """What is to be set: the values in the act; without any, what the reading that is asked for may be."""
    shown = []
    for slot in step.step.do.slots:
        known = state.values.get(slot.name)
        if known is not None and known.verdict != "hidden" and slot.name not in step.unknown:
            shown.append((slot.name.replace("_", " "), fill_in(state, Template("", (slot,)))[0]))
    if not shown and step.prompt is not None and step.prompt.limits and not step.alone:
        shown.append((say("allowed"), step.prompt.limits))
    return tuple(shown)
