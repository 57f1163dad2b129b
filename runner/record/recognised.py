"""At which terminal each person has given their PIN: one given at a terminal counts for nothing at another. Pure.

The record says it, for an event names its terminal. After an interruption only who resumed is known, and there alone.
"""

from collections.abc import Iterable

from runner.engine.changed import changed
from runner.engine.events import Event, IdentityGiven, Resumed
from runner.engine.state import RunState, name_key


class Recognised:
    """Since this process took the run up; what an older one knew counts for the terminal that keeps the record."""

    def __init__(self) -> None:
        self.at: dict[str, set[str]] = {}
        """By the key of a name, the terminals."""

    def kept(self, events: Iterable[Event]) -> None:
        """Learn from what was kept."""
        for event in events:
            match event:
                case IdentityGiven():
                    self.at.setdefault(name_key(event.by), set()).add(event.terminal)
                case Resumed():
                    self.at = {name_key(event.by): {event.terminal}}
                case _:
                    pass

    def seen_from(self, state: RunState, terminal: str) -> RunState:
        """The state with those people alone as known who are at this terminal."""
        known = tuple(key for key in state.recognised if terminal in self.at.get(key, {""}))
        return state if known == state.recognised else changed(state, recognised=known)
