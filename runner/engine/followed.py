"""Exceptions that follow the press, as the state has them: carried into a run, read there, accepted there.

Their numbers are this run's; where they come from stands beside. Pure.
"""

from runner.engine import events as ev
from runner.engine.changed import changed
from runner.engine.moment import Moment
from runner.engine.state import NotedException

Followed = ev.ExceptionCarried | ev.ExceptionRead | ev.ExceptionAccepted


def followed(exceptions: tuple[NotedException, ...], event: Followed) -> tuple[NotedException, ...]:
    """The exceptions of a run after one more of these events."""
    match event:
        case ev.ExceptionCarried():
            # the clock of another run cannot be compared: the time of day alone is kept
            noted = NotedException(
                event.number, event.kind, event.severity, event.words, "", event.owner, event.blocking, event.noted_by,
                Moment(event.noted_at, 0.0, ""), run=event.earlier_run, of=event.earlier_number,
            )  # fmt: skip
            return (*exceptions, noted)
        case ev.ExceptionRead():
            return tuple(changed(e, read_by=event.by) if e.number == event.number else e for e in exceptions)
        case ev.ExceptionAccepted():
            return tuple(changed(e, accepted_by=event.by) if e.number == event.number else e for e in exceptions)


def unread(exceptions: tuple[NotedException, ...]) -> tuple[NotedException, ...]:
    """Carried ones that are open and that nobody has read."""
    return tuple(e for e in exceptions if e.run and not e.closed and not e.read_by)


def keeping(exceptions: tuple[NotedException, ...]) -> tuple[NotedException, ...]:
    """Carried ones that keep every step from beginning: they block, and are neither closed nor accepted."""
    return tuple(e for e in exceptions if e.run and e.keeps)
