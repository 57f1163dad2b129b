"""Exceptions that follow the press. An exception that is open when its run ends stays open for its equipment.

The next run there carries it. No step of that run begins before somebody has read it by name, but for those that do only
what a make-safe list does; where it blocks, none begins before it is closed with words, or a person of a role that releases holds here, who is not the one who read it,
accepts it for this run and says why. Closed anywhere it comes no more; accepted it comes again in the run after.
"""

from runner.engine import events as ev
from runner.engine import intents as want
from runner.engine.decisions.check import same_person
from runner.engine.followed import keeping, unread
from runner.engine.intents import Refusal
from runner.engine.shown import role_label
from runner.engine.state import NotedException, RunState
from runner.procedure.model import Procedure, Split, Step, steps_of
from runner.say.text import say

Decided = tuple[ev.Event, ...] | Refusal


def carried_events(intent: want.BeginRun) -> tuple[ev.Event, ...]:
    """What the run begins with, oldest first as the store gives it, numbered from 1."""
    return tuple(
        ev.ExceptionCarried(
            "", intent.at, number, left.run, left.number, left.title, left.kind, left.severity, left.words, left.owner,
            left.blocking, left.by, left.at,
        )
        for number, left in enumerate(intent.left_open, start=1)
    )  # fmt: skip


def read_exceptions(state: RunState, intent: want.ReadExceptions) -> Decided:
    """All that nobody has read yet, in one act of one person."""
    left = unread(state.exceptions)
    if not left:
        return Refusal(say("There is no exception of an earlier run left to read."))
    return tuple(ev.ExceptionRead(intent.by.strip(), intent.at, e.number, e.run, e.of) for e in left)


def accept_exception(procedure: Procedure, state: RunState, intent: want.AcceptException) -> Decided:
    """Accepted for this run alone by a person of a role that releases holds, and not by the one who read it."""
    noted = next((e for e in keeping(state.exceptions) if e.number == intent.number), None)
    if noted is None:
        return Refusal(
            say("There is no exception {number} of an earlier run that waits to be accepted.", number=intent.number)
        )
    if not noted.read_by:
        return Refusal(say("Exception {number} must be read first.", number=noted.number))
    roles = releasing_roles(procedure)
    mine = [role for role in roles if same_person(state.crew.get(role, ""), intent.by)]
    if not roles:
        return Refusal(say("No role of this procedure releases holds, so nobody may accept it: it must be closed."))
    if not mine:
        who = say(" or ").join(holders(procedure, state))
        return Refusal(say("Only {who} accepts exception {number}.", who=who, number=noted.number))
    if same_person(noted.read_by, intent.by):
        words = say(
            "{name} read exception {number}; another person must accept it.", name=intent.by, number=noted.number
        )
        return Refusal(words)
    if not intent.why.strip():
        return Refusal(say("Say why work may go on with it."))
    return (ev.ExceptionAccepted(intent.by, intent.at, noted.number, noted.run, noted.of, mine[0], intent.why.strip()),)


def releasing_roles(procedure: Procedure) -> tuple[str, ...]:
    """The roles that release a hold or accept pieces somewhere in a procedure, in the order of its people."""
    wanted = {step.hold.release for step in steps_of(procedure) if step.hold is not None}
    wanted |= {made.release for made in procedure.calculations if isinstance(made, Split) and made.release}
    return tuple(role for role, _ in procedure.people if role in wanted)


def holders(procedure: Procedure, state: RunState) -> tuple[str, ...]:
    """Those roles as people call them, with the name of who has each."""
    named = ((role_label(procedure, role), state.crew.get(role, "")) for role in releasing_roles(procedure))
    return tuple(f"{label} ({name or say('nobody has signed on')})" for label, name in named)


def keeps_from_beginning(procedure: Procedure, state: RunState, step: Step) -> tuple[str, ...]:
    """Why a step does not begin while carried exceptions are unread, or block, a line each; mostly none."""
    if not state.exceptions or only_makes_safe(procedure, step):
        return ()
    lines = [
        say("exception {number} of an earlier run must be read first", number=e.number)
        for e in unread(state.exceptions)
    ]
    return (*lines, *(keeps_words(procedure, state, e) for e in keeping(state.exceptions) if e.read_by))


def only_makes_safe(procedure: Procedure, step: Step) -> bool:
    """True for a step that brings states only to where a make-safe list brings them: stopping is never kept back."""
    if not step.makes:
        return False
    lists = (procedure.make_safe, *(phase.make_safe for phase in procedure.phases))
    return {fact for acts in lists for act in acts for fact in act.makes}.issuperset(step.makes)


def keeps_words(procedure: Procedure, state: RunState, noted: NotedException) -> str:
    """What is to be done about one that blocks."""
    roles, words = say(" or ").join(holders(procedure, state)), noted.words.rstrip(".")
    if not roles:
        return say("exception {number} of an earlier run blocks ({words}): close it", number=noted.number, words=words)
    return say(
        "exception {number} of an earlier run blocks ({words}): close it, or {who} accepts it for this run",
        number=noted.number, words=words, who=roles,
    )  # fmt: skip
