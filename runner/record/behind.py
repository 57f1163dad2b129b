"""What doors that stand before a run have in common: all that is asked of them about the run is asked of the run behind.

A door changes what goes in (who may, when, from where) and never what the run says of itself.
"""

from typing import Generic, Protocol, TypeVar

from runner.engine.moment import Moment
from runner.engine.state import RunState
from runner.procedure.model import Procedure


class Told(Protocol):
    """What a run, or a door before one, says of itself."""

    @property
    def procedure(self) -> Procedure:
        """Compiled, as pinned in the record."""

    @property
    def state(self) -> RunState:
        """As of the newest event."""

    @property
    def interrupted(self) -> bool:
        """True where a Resume intent is due."""

    @property
    def path(self) -> str:
        """Of the record."""

    @property
    def head(self) -> str:
        """The hash of the newest line."""

    @property
    def poisoned(self) -> str:
        """Why nothing more can be written; empty while all is well."""

    def now(self) -> Moment:
        """This moment."""


R = TypeVar("R", bound=Told)


class Behind(Generic[R]):
    """A door before a run."""

    run: R

    @property
    def procedure(self) -> Procedure:
        """Compiled, as pinned in the record."""
        return self.run.procedure

    @property
    def state(self) -> RunState:
        """As of the newest event."""
        return self.run.state

    @property
    def interrupted(self) -> bool:
        """True where a Resume intent is due."""
        return self.run.interrupted

    @property
    def path(self) -> str:
        """Of the record."""
        return self.run.path

    @property
    def head(self) -> str:
        """The hash of the newest line."""
        return self.run.head

    @property
    def poisoned(self) -> str:
        """Why nothing more can be written; empty while all is well."""
        return self.run.poisoned

    def now(self) -> Moment:
        """This moment, by the run's clock."""
        return self.run.now()
