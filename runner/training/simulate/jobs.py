"""Random jobs that a procedure allows, as one would type them.

Allowed jobs are few among all (a mass must fit a diameter and a density), so that a job is a walk of a few random moves,
each kept where the job is still allowed, from one of some jobs that were found before; those rest on the procedure alone.
"""

from collections.abc import Iterable
from functools import cached_property
from random import Random

from runner.formula.evaluate import Value
from runner.formula.quantity import Misread, read_quantity, shown_number
from runner.formula.units import Unit
from runner.procedure.jobs.space import ANYTHING, Free, Space
from runner.procedure.jobs.trial import Trial
from runner.procedure.model import Procedure, Split

ANCHORS = 48
"""Jobs from which walks begin."""
MOST_MOVES = 4000
"""Of the search for one of them; a procedure that allows hardly any job is played with fewer."""
MOVES = 2
"""Random moves from there for each run."""
AT_END = 0.15
"""How often a number is drawn at an end of its range, where limits are."""
LABEL = "KP-2047-03"
"""A text where any will do; invented."""

Point = dict[str, Value]


class Jobs:
    """The jobs of one procedure."""

    def __init__(self, procedure: Procedure) -> None:
        self.procedure = procedure
        self.units: dict[str, Unit] = {given.name: given.unit for given in procedure.inputs if given.unit is not None}
        names = [given.name for given in procedure.inputs]
        self.space = Space(procedure, [*names, *of_the_ticket(procedure)])
        self.trial = Trial(self.space)
        self.free = {name: self.space.free[name] for name in names if name in self.space.free}

    @cached_property
    def anchors(self) -> tuple[Point, ...]:
        """Allowed jobs, the same for every seed."""
        found = []
        for number in range(ANCHORS):
            chance = Random(f"{self.procedure.digest}/{number}")
            point = self.found(chance)
            if point is not None:
                found.append(point)
            elif number >= 2 and not found:
                break  # not worth a longer search
        return tuple(found)

    def found(self, chance: Random) -> Point | None:
        """An allowed job; from anywhere, moved as long as it comes no farther from being allowed."""
        point = self.anywhere(chance)
        off = self.trial.values(point)[0]
        for _ in range(MOST_MOVES):
            if off <= 0.0:
                return point
            moved = self.moved(point, chance)
            now = self.trial.values(moved)[0]
            if now <= off:
                point, off = moved, now
        return None

    def anywhere(self, chance: Random) -> Point:
        """Any job inside the ranges of the ticket, allowed or not."""
        return {name: self.drawn(free, chance) for name, free in self.free.items()}

    def moved(self, point: Point, chance: Random) -> Point:
        """The job with one value drawn anew."""
        if not self.free:
            return point
        name = chance.choice(list(self.free))
        return {**point, name: self.drawn(self.free[name], chance)}

    def draw(self, chance: Random) -> Point:
        """An allowed job; one inside the ranges alone where none was found."""
        if not self.anchors:
            return self.anywhere(chance)
        point = chance.choice(self.anchors)
        for _ in range(MOVES):
            moved = self.moved(point, chance)
            if self.trial.values(moved)[0] <= 0.0:
                point = moved
        return point

    def drawn(self, free: Free, chance: Random) -> Value:
        """A value inside its range, as it is read back when it was typed."""
        if free.texts is not None:
            return chance.choice(free.texts) if free.texts else LABEL
        low, high = self.end(free.low, -ANYTHING), self.end(free.high, ANYTHING)
        if free.likely is not None and (low <= -ANYTHING or high >= ANYTHING):
            low, high = max(low, free.likely[0]), min(high, free.likely[1])
        return rounded_inside(chance, low, high, self.units[free.name])

    def end(self, bound: object, otherwise: float) -> float:
        """An end of a range; inputs have plain numbers there."""
        return bound if isinstance(bound, float) else otherwise

    def typed(self, point: Point) -> tuple[tuple[str, str], ...]:
        """The job as one would type it, in the order of the ticket."""
        return tuple(
            (name, shown_number(self.units[name].magnitude(value), ".6g") if isinstance(value, float) else str(value))
            for name, value in point.items()
        )


def of_the_ticket(procedure: Procedure) -> Iterable[str]:
    """Calculations that are worked out as soon as the run begins; not pieces, which may be held, nor what rests on them."""
    known = {given.name for given in procedure.inputs}
    for worked in procedure.calculations:
        if worked.uses <= known and not isinstance(worked, Split):
            known.add(worked.name)
            yield worked.name


def rounded_inside(chance: Random, low: float, high: float, unit: Unit) -> float:
    """An SI value between two, with no more digits than one would type where that stays inside."""
    if low <= -ANYTHING or high >= ANYTHING:
        low, high = near(low, high)
    value = low if low >= high else chance.uniform(low, high)
    if low < high and chance.random() < AT_END:
        value = low if chance.random() < 0.5 else high
    for digits in (".3g", ".6g"):
        read = read_quantity(shown_number(unit.magnitude(value), digits), unit)
        if not isinstance(read, Misread) and low <= read.si <= high:
            return read.si
    return value


def near(low: float, high: float) -> tuple[float, float]:
    """A range where one side has no end: up to twice the other, or a little where that is zero."""
    if low > -ANYTHING:
        return low, low + (abs(low) or 1.0)
    return (high - (abs(high) or 1.0), high) if high < ANYTHING else (0.0, 1.0)
