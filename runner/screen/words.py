"""Sentences that stand on more than one page, and what is said after an intent was taken or refused.

The program says "you confirm"; it never says that a machine is safe. Values are echoed with their unit.
"""

from runner.engine import events as ev
from runner.engine.intents import Refusal
from runner.record.head_code import head_code
from runner.say.text import mark, say

AID = mark(
    "This program is an aid to trained people. It is not a lockout, an interlock or a load limiter, and it sees "
    "nothing of the press: it knows only what you confirm."
)
FIRST = mark(
    "Local codes, the machine's manual and licensed practice come first. Where this procedure says otherwise, stop "
    "and ask."
)
IDENTITY = mark("Names are as typed: identity not verified.")
BY_PIN = mark("Each person types their own PIN at their first act; until then: identity not verified.")
CONFIRM = mark("By going on you confirm what you have seen or done. Nothing here makes a machine safe.")
SAVING = mark("Saving. Keys wait.")
LOOKS = mark("Colours: {name}. It is kept for the next time.")
COLOURLESS = mark("NO_COLOR is set: no colours.")
TOO_SMALL = mark("{hold} TOO SMALL {width}x{height}, needs 60x18; only F4 acts")
PICK = mark("Pick one: its number or the arrows, then Enter.")
BROKEN = mark("THE RECORD COULD NOT BE WRITTEN")
BROKEN_WHAT = mark(
    "Nothing is accepted any more. What you were told was kept is kept; whether your last act is shows when the run is "
    "opened again. Make the press safe by the posted rules, look at the disk, and open the run again."
)
STOPPED = "who stopped, asked after stopping"
"""Kept with a second entry of stopping, where it was another than the one under whose name it was put down at once."""


def cautions(pins: bool) -> tuple[str, ...]:
    """The usual cautions, shown before a run begins; `pins` is true where a site file asks for them."""
    return say(AID), say(FIRST), say(BY_PIN if pins else IDENTITY)


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
            return (say("Second look kept.") if event.hidden else f"{event.ask}: {event.shown}"), False
        case ev.Answered(verdict="unlikely"):
            return say("{shown} is unusual here. If it is so, type it once more.", shown=event.shown), True
        case ev.Answered():
            again = f" {say('Look again and type it again.')}" if event.entry == 1 else ""
            limits = say(" (allowed: {limits})", limits=event.limits) if event.limits else ""
            return say("OUT OF LIMITS: {shown}{limits}.", shown=event.shown, limits=limits) + again, True
        case ev.SafeActNotNeeded():
            return say("Not needed: {act} {reason}", act=event.act, reason=event.reason), True
        case ev.RollerTakenBack():
            return say("Taken back: {roller}.", roller=event.roller), True
        case ev.ConfirmationTakenBack():
            return say("Not confirmed any more: {point}.", point=event.point), True
        case ev.LookedTwice():
            if event.agrees:
                return say("{by} has looked: agrees.", by=event.by), False
            return say("The two looks differ: {words}. Look again, both.", words=event.words), True
        case ev.StepNotApplicable():
            return say("Step {number} does not apply: {why}.", number=event.number, why=event.why), False
        case ev.StepRepeated():
            return say(
                "Not yet so that {condition}: the step is done again ({passes} so far).",
                condition=event.until,
                passes=event.passes,
            ), True
        case ev.HoldRevoked():
            return say("The release no longer counts: {why}. It must be released again.", why=event.why), True
        case ev.PiecesAccepted():
            return say("Accepted by {by}: {shown}.", by=event.by, shown=event.shown), False
        case ev.HoldReleased():
            return say("Released by {by}.", by=event.by), False
        case ev.TroubleMet():
            return f"{event.sign} {event.do}", True
        case ev.ExceptionNoted(by=""):
            return say("Exception {number} noted: {words}", number=event.number, words=event.words), True
        case ev.ExceptionNoted():
            return say("Exception {number} noted.", number=event.number), True
        case ev.ExceptionAccepted():
            return say(
                "Exception {number} is accepted for this run by {name}.", number=event.number, name=event.by
            ), False
        case ev.ExceptionClosed():
            return say("Exception {number} closed.", number=event.number), False
        case ev.WentBack():
            return say("Steps from here are to be done again."), True
        case ev.WaitEnded(late=True):
            return say("The longest waiting time had passed; it is noted."), True
        case ev.WorkedOut(verdict="in"):
            return "", False
        case ev.WorkedOut():
            return f"{event.name}: {event.shown}", True
        case ev.StateSeen() if event.was == event.value:
            state = event.state.replace("_", " ")
            return say("You confirm: {state} {value}, as it was before.", state=state, value=event.value), False
        case ev.StateSeen() if event.was not in ("", "unknown"):
            state = event.state.replace("_", " ")
            return say(
                "You confirm: {state} {value}; it was {was} before.", state=state, value=event.value, was=event.was
            ), True
        case ev.StateSeen():
            return say("You confirm: {state} {value}.", state=event.state.replace("_", " "), value=event.value), False
        case ev.StepLeftOut():
            return say("Step {number} is left out.", number=event.number), True
        case ev.MadeSafe() if event.words == STOPPED:
            return say("Put down: {by} stopped.", by=event.by), False
        case ev.AnswerCorrected():
            return say("Corrected to {shown}; {old} stays on record.", shown=event.shown, old=event.old), False
        case ev.HandedOver():
            return say("{to} takes over.", to=event.to), False
        case ev.SignedOn():
            return say("{by} has signed on.", by=event.by), False
        case ev.QualificationMissing():
            return say("Told, and on record: {why}", why=event.why), True
        case ev.ClockStepped():
            return say("The clock of this computer was set; durations are still right."), False
        case _:
            return "", False


def refused(refusal: Refusal) -> str:
    """A refusal in one text; what is missing is named."""
    if not refusal.missing:
        return refusal.reason
    return f"{refusal.reason.rstrip('.')}: {'; '.join(text.rstrip('.') for text in refusal.missing)}."


def head_words(head: str) -> str:
    """The head code, as people write it on paper."""
    return head_code(head)
