"""What was asked of the arithmetic and what came out: the one value that every format renders."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING

from runner.procedure.model import Procedure
from runner.report.working.given import Given
from runner.report.working.worked import Results

if TYPE_CHECKING:  # each part loads what it needs when it is asked for
    from runner.report.working.nearest import Nearest
    from runner.report.working.paths import PathsShown
    from runner.report.working.swept import Swept


@dataclass(frozen=True, slots=True)
class Asked:
    """A procedure, the values that were given, and the parts that were asked for."""

    procedure: Procedure
    given: Mapping[str, Given]
    results: Results | None = None
    """All values for the one job; None where only a sweep, the nearest jobs or paths were asked for."""
    swept: "Swept | None" = None
    nearest: "tuple[Nearest, ...] | None" = None
    paths: "PathsShown | None" = None

    @property
    def clean(self) -> bool:
        """True where nothing shown is out of limits or without a result."""
        return (
            (self.paths is None or self.paths.clean)
            and (self.results is None or self.results.clean)
            and (self.swept is None or self.swept.clean)
            and all(not near.broken for near in self.nearest or ())
        )
