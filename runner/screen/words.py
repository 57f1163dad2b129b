"""Sentences that stand on more than one page, and what is said after an intent was taken or refused.

The program says "you confirm"; it never says that a machine is safe. Values are echoed with their unit.
"""

from runner.engine import events as ev
from runner.engine.intents import Refusal

AID = (
    "This program is an aid to trained people. It is not a lockout, an interlock or a load limiter, and it sees "
    "nothing of the press: it knows only what you confirm."
)
FIRST = (
    "Local codes, the machine's manual and licensed practice come first. Where this procedure says otherwise, stop "
    "and ask."
)
IDENTITY = "Names are as typed: identity not verified."
BY_PIN = "Each person types their own PIN at their first act; until then: identity not verified."
CONFIRM = "By going on you confirm what you have seen or done. Nothing here makes a machine safe."
SAVING = "Saving. Keys wait."
LOOKS = "Colours: {name}. It is kept for the next time."
COLOURLESS = "NO_COLOR is set: no colours."
TOO_SMALL = "{hold} TOO SMALL {width}x{height}, needs 60x18; only F4 acts"
PICK = "Pick one: its number or the arrows, then Enter."
BROKEN = "THE RECORD COULD NOT BE WRITTEN"
BROKEN_WHAT = (
    "Nothing is accepted any more. What you were told was kept is kept; whether your last act is shows when the run is "
    "opened again. Make the press safe by the posted rules, look at the disk, and open the run again."
)
STOPPED = "who stopped, asked after stopping"
"""Kept with a second entry of stopping, where it was another than the one under whose name it was put down at once."""


def cautions(pins: bool) -> tuple[str, ...]:
    """The usual cautions, shown before a run begins; `pins` is true where a site file asks for them."""
    return AID, FIRST, BY_PIN if pins else IDENTITY


def told(events: tuple[ev.Event, ...]) -> tuple[str, bool]:
    """What is said after events were kept, and whether it is something abnormal; empty where the page says it all."""
    words: list[str] = []
    abnormal = False
    for event in events:
        said, odd = _one(event)
        if said:
            words.append(said)
            abnormal = abnormal or odd
    return "  ".join(words), abnormal


def _one(event: ev.Event) -> tuple[str, bool]:
    match event:
        case ev.Answered(verdict="in"):
            return ("Second look kept." if event.hidden else f"{event.ask}: {event.shown}"), False
        case ev.Answered(verdict="unlikely"):
            return f"{event.shown} is unusual here. If it is so, type it once more.", True
        case ev.Answered():
            again = "Look again and type it again." if event.entry == 1 else ""
            limits = f" (allowed: {event.limits})" if event.limits else ""
            return f"OUT OF LIMITS: {event.shown}{limits}. {again}".rstrip(), True
        case ev.SafeActNotNeeded():
            return f"Not needed: {event.act} {event.reason}", True
        case ev.RollerTakenBack():
            return f"Taken back: {event.roller}.", True
        case ev.ConfirmationTakenBack():
            return f"Not confirmed any more: {event.point}.", True
        case ev.LookedTwice():
            if event.agrees:
                return f"{event.by} has looked: agrees.", False
            return f"The two looks differ: {event.words}. Look again, both.", True
        case ev.StepNotApplicable():
            return f"Step {event.number} does not apply: {event.why}.", False
        case ev.StepRepeated():
            return f"Not yet so that {event.until}: the step is done again ({event.passes} so far).", True
        case ev.HoldRevoked():
            return f"The release no longer counts: {event.why}. It must be released again.", True
        case ev.PiecesAccepted():
            return f"Accepted by {event.by}: {event.shown}.", False
        case ev.HoldReleased():
            return f"Released by {event.by}.", False
        case ev.TroubleMet():
            return f"{event.sign} {event.do}", True
        case ev.ExceptionNoted(by=""):
            return f"Exception {event.number} noted: {event.words}", True
        case ev.ExceptionNoted():
            return f"Exception {event.number} noted.", True
        case ev.ExceptionClosed():
            return f"Exception {event.number} closed.", False
        case ev.WentBack():
            return "Steps from here are to be done again.", True
        case ev.WaitEnded(late=True):
            return "The longest waiting time had passed; it is noted.", True
        case ev.WorkedOut(verdict="in"):
            return "", False
        case ev.WorkedOut():
            return f"{event.name}: {event.shown}", True
        case ev.StateSeen():
            return f"You confirm: {event.state.replace('_', ' ')} {event.value}.", False
        case ev.StepLeftOut():
            return f"Step {event.number} is left out.", True
        case ev.MadeSafe() if event.words == STOPPED:
            return f"Put down: {event.by} stopped.", False
        case ev.AnswerCorrected():
            return f"Corrected to {event.shown}; {event.old} stays on record.", False
        case ev.HandedOver():
            return f"{event.to} takes over.", False
        case ev.SignedOn():
            return f"{event.by} has signed on.", False
        case ev.ClockStepped():
            return "The clock of this computer was set; durations are still right.", False
        case _:
            return "", False


def refused(refusal: Refusal) -> str:
    """A refusal in one text; what is missing is named."""
    if not refusal.missing:
        return refusal.reason
    return f"{refusal.reason.rstrip('.')}: {'; '.join(text.rstrip('.') for text in refusal.missing)}."


def head_words(head: str) -> str:
    """The first 16 digits of a hash in groups that can be read out."""
    return " ".join(head[at : at + 4] for at in range(0, min(16, len(head)), 4))
