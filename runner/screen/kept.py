"""The last act on record in words, for whoever opens a run again: after a failed write only the record knows it.

What has to be looked at afresh is named without its value, and an answer that a second person has to find for
themselves stays hidden here too.
"""

from runner.engine import events as ev
from runner.engine.lookup import step_named
from runner.engine.shown import role_label
from runner.procedure.model import Procedure
from runner.say.text import say
from runner.screen.view import HIDDEN


def kept_words(procedure: Procedure, event: ev.Event, unseen: frozenset[str]) -> str:
    """What was done, by whom and when. `unseen` are names of answers that are not shown now."""
    return f"{_act(procedure, event, unseen)} ({event.by}, {event.at.utc[:19].replace('T', ' ')} UTC)"


def act_words(procedure: Procedure, event: ev.Event, unseen: frozenset[str]) -> str:
    """What was done and by whom, just now."""
    return f"{_act(procedure, event, unseen)} ({event.by})"


def _act(procedure: Procedure, event: ev.Event, unseen: frozenset[str]) -> str:
    match event:
        case ev.RunBegun() | ev.InputGiven():
            return say("the run begun")
        case ev.SiteRead():
            return say("site file read")
        case ev.QualificationMissing():
            return say("{name} without a qualification", name=event.name)
        case ev.CautionsRead():
            return say("cautions of {step} read", step=_step(procedure, event.step))
        case ev.HoldReleased():
            return say("hold of {step} released", step=_step(procedure, event.step))
        case ev.ConfirmationTicked():
            return say("ticked at the hold of {step}: {point}", step=_step(procedure, event.step), point=event.point)
        case ev.ConfirmationTakenBack():
            return say(
                "tick taken back at the hold of {step}: {point}", step=_step(procedure, event.step), point=event.point
            )
        case ev.ActRefused():
            return say(
                "refused at {step} ({act}): {why}", step=_step(procedure, event.step), act=event.act, why=event.why
            )
        case ev.RollerThreaded():
            return say(
                "{step}: roller {number} ticked, {roller}",
                step=_step(procedure, event.step),
                number=event.number,
                roller=event.roller,
            )
        case ev.RollerTakenBack():
            return say(
                "{step}: tick of roller {number} taken back, {roller}",
                step=_step(procedure, event.step),
                number=event.number,
                roller=event.roller,
            )
        case ev.SafeActNotNeeded():
            return say("not needed: {act} {reason}", act=event.act, reason=event.reason)
        case ev.OldValueUsed():
            return say(
                "{name} was corrected from {old} to {new} after steps had used it",
                name=event.name.replace("_", " "),
                old=event.old,
                new=event.new,
            )
        case ev.PiecesAccepted():
            return say(
                "{name} accepted for {step}", name=event.name.replace("_", " "), step=_step(procedure, event.step)
            )
        case ev.StepBegun():
            return say("{step} begun", step=_step(procedure, event.step))
        case ev.StepDone():
            return say("{step} done", step=_step(procedure, event.step))
        case ev.StepRepeated():
            return say("{step} to be done once more", step=_step(procedure, event.step))
        case ev.StepLeftOut():
            return say("{step} left out", step=_step(procedure, event.step))
        case ev.Answered():
            shown = say(HIDDEN) if event.hidden or event.name in unseen else event.shown
            return say("{step} answered: {ask}: {shown}", step=_step(procedure, event.step), ask=event.ask, shown=shown)
        case ev.AnswerCorrected():
            return say(
                "{name} corrected to {shown}",
                name=event.name.replace("_", " "),
                shown=say(HIDDEN) if event.name in unseen else event.shown,
            )
        case ev.LookedTwice():
            return say(
                "second look at {step}, {result}",
                step=_step(procedure, event.step),
                result=say("agrees") if event.agrees else say("differs"),
            )
        case ev.TroubleMet():
            return say("trouble at {step}: {sign}", step=_step(procedure, event.step), sign=event.sign)
        case ev.WentBack():
            return say("gone back to {step}", step=_step(procedure, event.step))
        case ev.ExceptionNoted():
            return say("exception {number} noted: {words}", number=event.number, words=event.words)
        case ev.ExceptionCarried():
            return say("exception {number} of an earlier run carried over", number=event.number)
        case ev.ExceptionRead():
            return say("exception {number} of an earlier run read", number=event.number)
        case ev.ExceptionAccepted():
            return say("exception {number} accepted for this run", number=event.number)
        case ev.ExceptionClosed():
            return say("exception {number} closed", number=event.number)
        case ev.StateSeen():
            return say("looked at: {state}", state=event.state.replace("_", " "))
        case ev.Paused():
            return say("paused")
        case ev.MadeSafe():
            return say("stop and make safe")
        case ev.SafeActDone():
            return say("ticked: {act}", act=event.act)
        case ev.Resumed():
            return say("resumed")
        case ev.HandedOver():
            return say("{role} handed over to {to}", role=role_label(procedure, event.role), to=event.to)
        case ev.SignedOn():
            return say("signed on as {role}", role=role_label(procedure, event.role))
        case ev.IdentityGiven():
            return f"{event.by}: {event.how}"
        case ev.ScenarioTaken():
            return say("scenario taken: {title}", title=event.title)
        case ev.TrainingNoted():
            return say("of the scenario: {words}", words=event.words)
        case ev.EnteredLate():
            return say("from paper, of {time} UTC", time=event.done_at[:16].replace("T", " "))
        case ev.ExceptionDisposed():
            return say("exception {number} decided: {words}", number=event.number, words=say(event.disposition))
        case ev.RunSigned():
            return say("record signed as {meaning}", meaning=say(event.meaning))
        case ev.Sealed():
            return say("record sealed")
        case ev.Finished():
            return say("finished")
        case ev.Abandoned():
            return say("abandoned")
        case _:
            return type(event).__name__


def _step(procedure: Procedure, step_id: str) -> str:
    step = step_named(procedure, step_id)
    return say("step {number}", number=step.number if step is not None else step_id)
