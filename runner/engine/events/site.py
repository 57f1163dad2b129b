"""What the site file said of the press, kept so that a run goes on by it whatever becomes of the file."""

from runner.engine.events.event import Event
from runner.engine.frozen import dataclass


@dataclass(frozen=True, slots=True)
class SiteRead(Event):
    """The site file was read, at the beginning or when the run was opened again; `by` is empty then. The pieces of the
    beginning stay: what hangs on a bar was planned with them."""

    pieces: tuple[tuple[str, str, str, tuple[tuple[str, int], ...]], ...]
    """(rack, unit, day of counting, (mass as written, how many)): each takes the place of the procedure's rack of that name."""
    gear: tuple[tuple[str, str, float, str, str], ...] | None
    """(name, what people call it, rating in kg, as written, last day of its inspection); null where the site lists none."""
    park_within_s: float
    """The longest from one parking place to the next; 0 where the site does not say."""
    shift_ends: tuple[str, ...]
    """Local times of day."""


@dataclass(frozen=True, slots=True)
class QualificationMissing(Event):
    """Somebody took a role whom the register of qualifications does not have for the procedure; the site file wants it told
    and not refused. `by` is empty."""

    role: str
    name: str
    why: str
