"""What rules share about one procedure, each part worked out once and only when a rule asks for it.

The text is read again only to place a finding more exactly than the model does, so a clean procedure never pays for it.
"""

from collections.abc import Iterator, Mapping
from functools import cached_property
from types import MappingProxyType
from typing import TYPE_CHECKING

from runner.formula.expr import Expr
from runner.lint.equipment import Equipment
from runner.lint.uses import expressions, names_read
from runner.lint.written import ORDERS, Written, written_in
from runner.procedure.finding import Place
from runner.procedure.model import Calculation, Procedure, Step, StepList, steps_of

if TYPE_CHECKING:
    from runner.lint.allow import Allow
    from runner.lint.examples import Shown
    from runner.lint.jobs import Judged, Looked
    from runner.lint.nearby import Nearby
    from runner.lint.proof.faults import Fault, Proof
    from runner.lint.proof.moves import Move
    from runner.lint.proof.safe import NoWayOn
    from runner.procedure.site import Motion, Site


class Analysis:
    """One procedure that compiled, with the texts it came from and the comments that allow findings in it."""

    def __init__(
        self,
        procedure: Procedure,
        path: str,
        texts: Mapping[str, str],
        allows: tuple["Allow", ...] = (),
        silenceable: Mapping[str, bool] = MappingProxyType({}),
        site: "Site | None" = None,
    ) -> None:
        self.procedure = procedure
        self.path = path
        self.texts = texts
        self.allows = allows
        self.silenceable = silenceable
        self.site = site
        """What belongs to the place; None without a site file."""

    @property
    def motion(self) -> "Motion | None":
        """The site's motion limits; None where it does not say."""
        return self.site.motion if self.site is not None else None

    @cached_property
    def steps(self) -> tuple[Step, ...]:
        """All steps in the order of the text."""
        return steps_of(self.procedure)

    @cached_property
    def calculations(self) -> tuple[Calculation, ...]:
        """The calculations by formula."""
        return tuple(c for c in self.procedure.calculations if isinstance(c, Calculation))

    @cached_property
    def written(self) -> tuple[Written, ...]:
        """Every text that people read."""
        return tuple(written_in(self.procedure))

    @cached_property
    def orders(self) -> tuple[Written, ...]:
        """Every text that tells people what to do: of steps, of troubles and of making safe."""
        return tuple(written for written in self.written if written.kind in ORDERS)

    @cached_property
    def equipment(self) -> Equipment:
        """Which states are drives, guards, locks and the like."""
        return Equipment(self.procedure)

    @cached_property
    def names_read(self) -> frozenset[str]:
        """Every name that a formula, a slot, a limit or an ask reads: values, tables, web paths, columns."""
        return names_read(self.procedure)

    @cached_property
    def proof(self) -> "Proof":
        """Every way through the procedure, and what is wrong on some of them."""
        from runner.lint.proof.faults import prove

        return prove(self.procedure)

    @cached_property
    def plain_faults(self) -> tuple["Fault", ...]:
        """Faults of plain order that an allowed job meets."""
        return tuple(fault for fault in self.proof.plain if fault not in self.doubtful_faults)

    @cached_property
    def doubtful_faults(self) -> tuple["Fault", ...]:
        """Faults of plain order for which no allowed job was found, and none could be excluded."""
        from runner.lint.proof.trace import decided_on

        conditions = self.proof.conditions
        return tuple(fault for fault in self.proof.plain if conditions.in_doubt(decided_on(conditions, fault)))

    @cached_property
    def departing_faults(self) -> tuple[tuple["Fault", "Move"], ...]:
        """What only a departure from plain order leads to, once each, with the first departure of the nearest way to it."""
        told = {fault.key for fault in self.proof.plain}
        faults = [fault for fault in self.proof.departing if fault.key not in told and not fault.assumed]
        return tuple((fault, fault.departs) for fault in faults if fault.departs is not None)

    def way_to(self, fault: "Fault") -> tuple[str, ...]:
        """The way to a fault, line by line."""
        from runner.lint.proof.trace import trace

        return trace(self.procedure, self.proof.conditions, fault)

    @cached_property
    def no_ways_on(self) -> "tuple[NoWayOn, ...]":
        """Phases in which no way leads on after the press was made safe; none are looked for where plain order is wrong."""
        from runner.lint.proof.safe import no_ways_on

        return (
            tuple(no_ways_on(self.procedure, self.proof.conditions, self.proof.entries)) if not self.proof.plain else ()
        )

    @cached_property
    def looked_at(self) -> "tuple[Looked, ...]":
        """Every formula, and whether all allowed jobs have a result."""
        from runner.lint.jobs import looked_at

        return looked_at(self.procedure)

    @cached_property
    def expressions(self) -> tuple[Expr, ...]:
        """Every formula of the calculations and steps."""
        return tuple(expressions(self.procedure))

    @cached_property
    def examples(self) -> "tuple[Shown, ...]":
        """Every calculation that has an example, with the example worked out."""
        from runner.lint.examples import shown

        return tuple(shown(self.procedure))

    @cached_property
    def judged(self) -> "tuple[Judged, ...]":
        """Every limit of a calculation, and whether allowed jobs keep it."""
        from runner.lint.jobs import judged

        return judged(self.procedure)

    @cached_property
    def nearby(self) -> "Nearby":
        """The texts read again, to place findings at a key or word."""
        from runner.lint.nearby import Nearby

        return Nearby(self.texts)

    def within(self, place: Place, *keys: str | int) -> Place:
        """Where a key below a named thing stands; the thing's own place where the text does not show it."""
        return self.nearby.within(place, keys)

    def top(self, *keys: str | int) -> Place:
        """Where a key below the top of the procedure's own text stands."""
        return self.nearby.top(self.path, keys)

    def in_written(self, written: Written, offset: int = 0) -> Place:
        """Where a character of a text stands; of an entry of a list its beginning."""
        if len(written.keys) == 1:
            return self.nearby.in_text(written.place, str(written.keys[0]), written.text, offset)
        return self.within(written.place, *written.keys)


def lists_of(procedure: Procedure) -> Iterator[StepList]:
    """Every list of steps, in the order of the text."""
    for phase in procedure.phases:
        yield from phase.lists
