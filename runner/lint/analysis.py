"""What rules share about one procedure, each part worked out once and only when a rule asks for it.

The text is read again only to place a finding more exactly than the model does, so a clean procedure never pays for it.
"""

from collections.abc import Iterator, Mapping
from functools import cached_property
from types import MappingProxyType
from typing import TYPE_CHECKING, NamedTuple

from runner.lint.interleave import Deadlock, deadlocks
from runner.lint.samples import Sample, samples
from runner.lint.uses import names_read
from runner.lint.walk import Walk, departing_walks, plain_walks
from runner.procedure.finding import Place
from runner.procedure.model import Calculation, Procedure, Step, StepList, steps_of
from runner.procedure.template import Template

if TYPE_CHECKING:
    from runner.lint.allow import Allow
    from runner.lint.jobs import Judged, Looked
    from runner.lint.nearby import Nearby


class Act(NamedTuple):
    """An instruction that a person follows: the `do` of a step or of a trouble."""

    step: Step
    template: Template
    place: Place
    """Of the step or trouble whose `do` it is."""


class Analysis:
    """One procedure that compiled, with the texts it came from and the comments that allow findings in it."""

    def __init__(
        self,
        procedure: Procedure,
        path: str,
        texts: Mapping[str, str],
        allows: tuple["Allow", ...] = (),
        silenceable: Mapping[str, bool] = MappingProxyType({}),
    ) -> None:
        self.procedure = procedure
        self.path = path
        self.texts = texts
        self.allows = allows
        self.silenceable = silenceable

    @cached_property
    def steps(self) -> tuple[Step, ...]:
        """All steps in the order of the text."""
        return steps_of(self.procedure)

    @cached_property
    def calculations(self) -> tuple[Calculation, ...]:
        """The calculations by formula."""
        return tuple(c for c in self.procedure.calculations if isinstance(c, Calculation))

    @cached_property
    def acts(self) -> tuple[Act, ...]:
        """Every instruction, steps' before their troubles'."""
        found = []
        for step in self.steps:
            found.append(Act(step, step.do, step.place))
            found += [Act(step, trouble.do, trouble.place) for trouble in step.troubles]
        return tuple(found)

    @cached_property
    def names_read(self) -> frozenset[str]:
        """Every name that a formula, a slot, a limit or an ask reads: values, tables, web paths, columns."""
        return names_read(self.procedure)

    @cached_property
    def walks(self) -> tuple[Walk, ...]:
        """The plain order of the procedure, for every job that decides its conditions otherwise and each list first."""
        return plain_walks(self.procedure, self.jobs)

    @cached_property
    def deadlocks(self) -> tuple[Deadlock, ...]:
        """For each phase with lists side by side the nearest position in which no list can go on."""
        return tuple(deadlocks(self.procedure, self.walks))

    @cached_property
    def departures(self) -> tuple[Walk, ...]:
        """A walk for every trouble met and every optional step left out."""
        return departing_walks(self.procedure, self.walks)

    @cached_property
    def jobs(self) -> tuple[Sample, ...]:
        """Sample jobs that decide the conditions in every way that was found."""
        return samples(self.procedure)

    @cached_property
    def looked_at(self) -> "tuple[Looked, ...]":
        """Every formula, and whether all allowed jobs have a result."""
        from runner.lint.jobs import looked_at

        return looked_at(self.procedure)

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

    def in_act(self, act: Act, offset: int) -> Place:
        """Where a character of an instruction stands."""
        return self.nearby.in_text(act.place, "do", act.template.text, offset)


def lists_of(procedure: Procedure) -> Iterator[StepList]:
    """Every list of steps, in the order of the text."""
    for phase in procedure.phases:
        yield from phase.lists
