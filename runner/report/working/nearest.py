"""The job that comes nearest to each limit, as people read it: reserve in the unit and as a share of the limit.

Broken limits come first, then the smallest reserve. Reserves of different kinds are compared by their share of the larger of
value and limit, so that a limit of zero has its place too.
"""

from collections.abc import Collection, Iterable
from dataclasses import dataclass

from runner.formula.quantity import show
from runner.formula.units import Unit
from runner.procedure.jobs.worst import Worst
from runner.procedure.model import Procedure
from runner.procedure.working import units_of

PROVED_NEAREST = "no allowed job comes nearer (proved)"
FOUND_BROKEN = "an allowed job breaks it"
MAY_BE_FURTHER = "another may come further over (not proved)"
FOUND = "nearest of the jobs tried, not proved"


@dataclass(frozen=True, slots=True)
class Nearest:
    """One limit and its nearest job."""

    name: str
    limit: str
    value: float
    """SI, as the margin."""
    margin: float
    unit: Unit
    job: tuple[tuple[str, str], ...]
    """Free values as one would type them."""
    proven: bool

    @property
    def broken(self) -> bool:
        """True where the job is over the limit."""
        return self.margin < 0

    @property
    def bound(self) -> float:
        """The limit itself, SI."""
        return self.value + self.margin if self.limit.startswith("<") else self.value - self.margin

    @property
    def rank(self) -> float:
        """Reserve as a share of the larger of value and limit."""
        return self.margin / (max(abs(self.value), abs(self.bound)) or 1.0)

    @property
    def percent(self) -> float | None:
        """Reserve as a share of the limit; None for a limit of zero, which has no share, and on a scale such as degC."""
        return None if not self.bound or self.unit.dimension.point else 100 * self.margin / abs(self.bound)

    @property
    def value_shown(self) -> str:
        """The value with its unit."""
        return show(self.value, self.unit)

    @property
    def between(self) -> Unit:
        """The unit of a difference: on a scale such as degC it has no zero of its own."""
        return Unit(self.unit.text, self.unit.numerator, self.unit.divisor, self.unit.dimension)

    @property
    def reserve_shown(self) -> str:
        """The reserve with its unit and share: `79 kg, 9.9 % of the limit`."""
        reserve = show(self.margin, self.between)
        return reserve if self.percent is None else f"{reserve}, {self.percent:.1f} % of the limit"

    @property
    def sure(self) -> str:
        """What is known of it."""
        if self.broken:
            further = PROVED_NEAREST.replace("nearer", "further over") if self.proven else MAY_BE_FURTHER
            return f"{FOUND_BROKEN}; {further}"
        return PROVED_NEAREST if self.proven else FOUND


def nearest(procedure: Procedure, found: Iterable[Worst], fixed: Collection[str] = ()) -> tuple[Nearest, ...]:
    """Worst jobs in their order for people; names that were held fixed are not told again in each job."""
    units = units_of(procedure)
    shown = [
        Nearest(
            worst.name, worst.limit, worst.value, worst.margin, units[worst.name],
            tuple((name, typed(value, units.get(name))) for name, value in worst.job if name not in fixed), worst.proven,
        )
        for worst in found
    ]  # fmt: skip
    return tuple(sorted(shown, key=lambda near: (not near.broken, near.rank)))


def typed(value: object, unit: Unit | None) -> str:
    """A value of a job as one would type it."""
    return show(float(value), unit) if unit is not None and isinstance(value, int | float) else str(value)
