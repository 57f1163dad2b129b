"""Event and state to state, for what comes after the end of a run and for what was entered from paper."""

from types import MappingProxyType

from runner.engine import events as ev
from runner.engine.changed import changed
from runner.engine.state import RunState, Signature, name_key

COUNTED = (ev.AnswerCorrected, ev.ExceptionNoted, ev.ExceptionClosed, ev.ExceptionDisposed)
"""What makes a record another than the one that was signed."""

Reviewed = ev.EnteredLate | ev.ExceptionDisposed | ev.RunSigned


def since_signed(state: RunState, event: ev.Event) -> RunState:
    """What is added after a signature is counted with it."""
    if not state.signatures or not isinstance(event, COUNTED):
        return state
    return changed(state, signatures=tuple(changed(one, added=one.added + 1) for one in state.signatures))


def reviewed(state: RunState, event: Reviewed) -> RunState:
    """The state after one more of these events."""
    match event:
        case ev.EnteredLate():
            papers = MappingProxyType({**state.papers, name_key(event.by): event.done_at})
            return changed(state, late=(event.at, event.done_at, event.typed), papers=papers)
        case ev.ExceptionDisposed():
            disposed = tuple(
                changed(noted, disposition=event.disposition, disposed=event.words, disposed_by=event.by)
                if noted.number == event.number
                else noted
                for noted in state.exceptions
            )
            return changed(state, exceptions=disposed)
        case ev.RunSigned():
            signature = Signature(
                event.by, event.at, event.meaning, event.words, event.how, event.head, event.count
            )  # fmt: skip
            return changed(state, signatures=(*state.signatures, signature))


def paper_of(state: RunState, event: ev.Event) -> tuple[str, str]:
    """When an event was done on paper, and that as typed; empty where it was entered as it was done."""
    late = state.late
    return (late[1], late[2]) if late is not None and late[0] == event.at else ("", "")
