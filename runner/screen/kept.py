"""The last act on record in words, for whoever opens a run again: after a failed write only the record knows it.

What has to be looked at afresh is named without its value, and an answer that a second person has to find for
themselves stays hidden here too.
"""

from runner.engine import events as ev
from runner.engine.lookup import step_named
from runner.engine.shown import role_label
from runner.procedure.model import Procedure
from runner.screen.view import HIDDEN


def kept_words(procedure: Procedure, event: ev.Event, unseen: frozenset[str]) -> str:
    """What was done, by whom and when. `unseen` are names of answers that are not shown now."""
    return f"{_act(procedure, event, unseen)} ({event.by}, {event.at.utc[:19].replace('T', ' ')} UTC)"


def _act(procedure: Procedure, event: ev.Event, unseen: frozenset[str]) -> str:
    match event:
        case ev.RunBegun() | ev.InputGiven():
            return "the run begun"
        case ev.CautionsRead():
            return f"cautions of {_step(procedure, event.step)} read"
        case ev.HoldReleased():
            return f"hold of {_step(procedure, event.step)} released"
        case ev.ConfirmationTicked():
            return f"ticked at the hold of {_step(procedure, event.step)}: {event.point}"
        case ev.ConfirmationTakenBack():
            return f"tick taken back at the hold of {_step(procedure, event.step)}: {event.point}"
        case ev.ActRefused():
            return f"refused at {_step(procedure, event.step)} ({event.act}): {event.why}"
        case ev.RollerThreaded():
            return f"{_step(procedure, event.step)}: roller {event.number} ticked, {event.roller}"
        case ev.RollerTakenBack():
            return f"{_step(procedure, event.step)}: tick of roller {event.number} taken back, {event.roller}"
        case ev.SafeActNotNeeded():
            return f"not needed: {event.act} {event.reason}"
        case ev.OldValueUsed():
            return (
                f"{event.name.replace('_', ' ')} was corrected from {event.old} to {event.new} after steps had used it"
            )
        case ev.PiecesAccepted():
            return f"{event.name.replace('_', ' ')} accepted for {_step(procedure, event.step)}"
        case ev.StepBegun():
            return f"{_step(procedure, event.step)} begun"
        case ev.StepDone():
            return f"{_step(procedure, event.step)} done"
        case ev.StepRepeated():
            return f"{_step(procedure, event.step)} to be done once more"
        case ev.StepLeftOut():
            return f"{_step(procedure, event.step)} left out"
        case ev.Answered():
            shown = HIDDEN if event.hidden or event.name in unseen else event.shown
            return f"{_step(procedure, event.step)} answered: {event.ask}: {shown}"
        case ev.AnswerCorrected():
            return f"{event.name.replace('_', ' ')} corrected to {HIDDEN if event.name in unseen else event.shown}"
        case ev.LookedTwice():
            return f"second look at {_step(procedure, event.step)}, {'agrees' if event.agrees else 'differs'}"
        case ev.TroubleMet():
            return f"trouble at {_step(procedure, event.step)}: {event.sign}"
        case ev.WentBack():
            return f"gone back to {_step(procedure, event.step)}"
        case ev.ExceptionNoted():
            return f"exception {event.number} noted: {event.words}"
        case ev.ExceptionClosed():
            return f"exception {event.number} closed"
        case ev.StateSeen():
            return f"looked at: {event.state.replace('_', ' ')}"
        case ev.Paused():
            return "paused"
        case ev.MadeSafe():
            return "stop and make safe"
        case ev.SafeActDone():
            return f"ticked: {event.act}"
        case ev.Resumed():
            return "resumed"
        case ev.HandedOver():
            return f"{role_label(procedure, event.role)} handed over to {event.to}"
        case ev.SignedOn():
            return f"signed on as {role_label(procedure, event.role)}"
        case ev.IdentityGiven():
            return f"{event.by}: {event.how}"
        case ev.Finished():
            return "finished"
        case ev.Abandoned():
            return "abandoned"
        case _:
            return type(event).__name__


def _step(procedure: Procedure, step_id: str) -> str:
    step = step_named(procedure, step_id)
    return f"step {step.number if step is not None else step_id}"
