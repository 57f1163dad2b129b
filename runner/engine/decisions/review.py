"""After the end of a run: what becomes of its exceptions, and who puts their name to its record.

The reviewer is the lead; who worked at the press in another role does not review the run. Nothing here closes the
record for good: what is added after a signature is not signed by it, and the state and the report say so.
"""

from runner.engine import events as ev
from runner.engine import intents as want
from runner.engine.decisions.check import same_person
from runner.engine.intents import Refusal
from runner.engine.shown import role_label
from runner.engine.state import (
    APPROVED_BY,
    DISPOSITIONS,
    DONE_BY,
    MEANINGS,
    NOT_VERIFIED,
    REVIEWED_BY,
    REVIEWER,
    VERIFIED,
    NotedException,
    RunState,
)
from runner.procedure.model import Procedure
from runner.say.text import say

Decided = tuple[ev.Event, ...] | Refusal

AFTER_END = want.CorrectAnswer | want.NoteException | want.CloseException | want.DisposeExceptions | want.SignRun
"""What may still be wanted when a run has ended."""


def dispose(procedure: Procedure, state: RunState, intent: want.DisposeExceptions) -> Decided:
    """The decision about one exception or several; a later one counts instead of an earlier one."""
    refused = not_ended(state) or may_not_review(procedure, state, intent.by)
    if refused is not None:
        return refused
    if intent.disposition not in DISPOSITIONS:
        return Refusal(say("A decision is one of: {decisions}.", decisions=", ".join(DISPOSITIONS)))
    if not intent.words.strip():
        return Refusal(say("Say in a few words why."))
    known = {noted.number for noted in state.exceptions}
    strange = [str(number) for number in intent.numbers if number not in known]
    if strange or not intent.numbers:
        return Refusal(
            say("There is no exception {number}.", number=", ".join(strange)) if strange else say("Name an exception.")
        )
    how = how_known(intent)
    return tuple(
        ev.ExceptionDisposed(
            intent.by.strip(), intent.at, number, intent.disposition, intent.words.strip(), REVIEWER, how
        )
        for number in dict.fromkeys(intent.numbers)
    )


def sign(procedure: Procedure, state: RunState, intent: want.SignRun) -> Decided:
    """A name under the record as it is now."""
    refused = not_ended(state)
    if refused is not None:
        return refused
    if intent.meaning not in MEANINGS:
        return Refusal(say("A signature means one of: {meanings}.", meanings=", ".join(MEANINGS)))
    if not intent.head or intent.count < 1:
        return Refusal(say("There is no record to sign."))
    roles = roles_of(state, intent.by)
    if intent.meaning == DONE_BY:
        if not roles:
            return Refusal(
                say("{name} has no role in this run; only who worked in it signs as done by.", name=intent.by.strip())
            )
        return (signed(intent, roles[0]),)
    refused = may_not_review(procedure, state, intent.by)
    if refused is not None:
        return refused
    open_ = tuple(
        say("exception {number}: {words}", number=noted.number, words=noted.words) for noted in undisposed(state)
    )
    if open_:
        return Refusal(say("Before the run is signed something is decided about each exception."), open_)
    current = {signature.meaning for signature in state.signatures if not signature.added}
    if intent.meaning == APPROVED_BY and REVIEWED_BY not in current:
        return Refusal(
            say("Before it is approved, somebody signs the record as it is now as {meaning}.", meaning=say(REVIEWED_BY))
        )
    return (signed(intent, REVIEWER),)


def signed(intent: want.SignRun, role: str) -> ev.RunSigned:
    """The signature as an event."""
    return ev.RunSigned(
        intent.by.strip(), intent.at, intent.meaning, role, intent.words.strip(), how_known(intent), intent.head,
        intent.count,
    )  # fmt: skip


def not_ended(state: RunState) -> Refusal | None:
    """A run is reviewed and signed when it has ended."""
    return None if state.outcome else Refusal(say("The run has not ended: it is reviewed and signed after its end."))


def may_not_review(procedure: Procedure, state: RunState, name: str) -> Refusal | None:
    """Refused where a person did other work in the run than the lead's. Common practice, no source."""
    for role in roles_of(state, name):
        if role != REVIEWER:
            words = say(
                "{name} worked in this run as {role}; another person reviews it.",
                name=name.strip(),
                role=role_label(procedure, role),
            )
            return Refusal(words)
    return None


def roles_of(state: RunState, name: str) -> tuple[str, ...]:
    """The roles that a person had at the end of the run, and those of the steps that they began."""
    return tuple(role for role, holder in state.crew.items() if holder and same_person(holder, name))


def undisposed(state: RunState) -> tuple[NotedException, ...]:
    """Exceptions of this run about which the review has decided nothing; what an earlier run left open is of that run."""
    return tuple(noted for noted in state.exceptions if not noted.disposition and not noted.run)


def how_known(intent: want.DisposeExceptions | want.SignRun) -> str:
    """How it was established who it is."""
    return VERIFIED if any(same_person(intent.by, name) for name in intent.verified) else NOT_VERIFIED
