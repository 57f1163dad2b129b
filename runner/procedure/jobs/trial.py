"""One job tried out: every value of a space worked out with closures, fast enough to try thousands; made when first tried.

What is told to a person is confirmed afterwards with `runner.procedure.working`, from the job as one would type it.
"""

from collections.abc import Callable
from functools import cache, cached_property
from typing import NamedTuple

from runner.formula.enclose import seen_by
from runner.formula.evaluate import Value
from runner.formula.expr import Expr
from runner.procedure.jobs.space import Space
from runner.procedure.model import Calculation, Limit, Split
from runner.procedure.working import rounded, work_out

At = Callable[[dict[str, Value]], Value | None]

OUT = 1e9
"""What a value without a result adds to how far a job is from being allowed: more than any broken limit."""


class Tried(NamedTuple):
    """How far a job is from being allowed (0: it is), and what was asked for, None where that has no value."""

    off: float
    value: float | None


class Trial:
    """Tries jobs of a space."""

    def __init__(self, space: Space, own: str = "") -> None:
        self.space, self.own = space, own

    @cached_property
    def _calculations(self) -> dict[str, Calculation]:
        """The calculations by formula of the space."""
        found = {name: self.space.worked.get(name) for name in self.space.order}
        return {name: worked for name, worked in found.items() if isinstance(worked, Calculation)}

    @cached_property
    def _formulas(self) -> dict[str, At]:
        return {name: seen_by(worked.formula, self.space.scope) for name, worked in self._calculations.items()}

    @cached_property
    def _limits(self) -> dict[str, list[tuple[Limit, At]]]:
        return {
            name: [(limit, seen_by(limit.bound, self.space.scope)) for limit in worked.limits]
            for name, worked in self._calculations.items()
            if name != self.own
        }

    @cached_property
    def _conditions(self) -> list[At]:
        return [seen_by(condition, self.space.scope) for condition in self.space.conditions]

    @cached_property
    def _rough(self) -> dict[str, tuple[float, At]]:
        return {
            name: (worked.rough.within, seen_by(worked.rough.formula, self.space.scope))
            for name, worked in self._calculations.items()
            if worked.rough is not None
        }

    @cached_property
    def _answers(self) -> dict[str, list[tuple[bool, At]]]:
        return {
            name: [
                (low_end, seen_by(bound, self.space.scope))
                for low_end, bound in ((True, free.low), (False, free.high))
                if bound is not None and not isinstance(bound, float)
            ]
            for name, free in self.space.free.items()
        }

    def values(self, point: dict[str, Value]) -> tuple[float, dict[str, Value]]:
        """How far a job is from being allowed, and its values with all calculations that have one but `own`."""
        values, off, space = dict(point), 0.0, self.space
        for name in space.order:
            if name == self.own:
                continue
            if name in self._formulas:
                off += self._work_out(name, values)
            elif name in values:
                off += self._answer_off(name, values)
            elif (worked := space.worked.get(name)) is not None:
                off += self._split(worked, values)
            elif (matched := space.matched(name)) in values:
                values[name] = values[matched]
            else:
                off += OUT
        off += sum(condition(values) is not True for condition in self._conditions)
        return off, values

    def along(self, point: dict[str, Value]) -> dict[str, Value]:
        """A job with every answer moved into the limits that other values set for it; a limit moves with what it rests on."""
        if not any(self._answers.values()):
            return point
        kept, values = dict(point), dict(point)
        for name in self.space.order:
            if name in self._formulas and name != self.own:
                self._work_out(name, values)
            elif name in values:
                for low_end, bound_at in self._answers.get(name, ()):
                    bound, now = bound_at(values), values[name]
                    if isinstance(bound, float) and isinstance(now, float):
                        kept[name] = values[name] = max(now, bound) if low_end else min(now, bound)
            elif (matched := self.space.matched(name)) in values:
                values[name] = values[matched]
        return kept

    def _work_out(self, name: str, values: dict[str, Value]) -> float:
        found = self._formulas[name](values)
        if not isinstance(found, float | int):
            return OUT
        worked = self.space.worked[name]
        assert isinstance(worked, Calculation)
        values[name] = rounded(float(found), worked.rounding)
        off = 0.0
        for limit, bound_at in self._limits[name]:
            bound = bound_at(values)
            if not isinstance(bound, float | int):
                return OUT
            off += max(excess(limit, float(found), bound), excess(limit, float(values[name]), bound))
        return off + self._doubt(name, float(found), values)

    def _doubt(self, name: str, found: float, values: dict[str, Value]) -> float:
        """How far a value is from what its rough check agrees with."""
        if name not in self._rough:
            return 0.0
        within, rough_at = self._rough[name]
        rough = rough_at(values)
        if not isinstance(rough, float | int):
            return OUT
        beyond = abs(rough - found) - within * max(abs(rough), abs(found)) * (1.0 + 1e-9)
        return share(beyond, rough, found) if beyond > 0.0 else 0.0

    def _answer_off(self, name: str, values: dict[str, Value]) -> float:
        """How far an answer is outside limits that other values set."""
        value, off = values[name], 0.0
        for low_end, bound_at in self._answers.get(name, ()):
            bound = bound_at(values)
            if isinstance(bound, float | int) and isinstance(value, float):
                beyond = bound - value if low_end else value - bound
                off += share(beyond, bound, value) if beyond > 0.0 else 0.0
        return off

    def _split(self, worked: Calculation | Split, values: dict[str, Value]) -> float:
        """Pieces for a mass, chosen as in a run."""
        if not isinstance(worked, Split) or worked.mass not in values:
            return OUT
        found = work_out(self.space.procedure, worked, values, {}, told=False)
        if found.verdict == "failed":
            return OUT
        values[worked.name] = found.value
        return 0.0 if found.verdict == "in" else 1.0

    def margin(self, limit: Limit) -> Callable[[dict[str, Value]], Tried]:
        """How much the value of `own` keeps from one of its limits in a job, negative where it breaks it.

        The limit counts before rounding and after it, as in a run.
        """
        worked = self.space.worked[self.own]
        assert isinstance(worked, Calculation)
        rounding, upper = worked.rounding, limit.op.startswith("<")

        @cache
        def bound_at() -> At:
            return seen_by(limit.bound, self.space.scope)

        def tried(point: dict[str, Value]) -> Tried:
            off, values = self.values(point)
            found, bound = self._formulas[self.own](values), bound_at()(values)
            if not isinstance(found, float | int) or not isinstance(bound, float | int):
                return Tried(off, None)
            after = rounded(float(found), rounding)
            off += self._doubt(self.own, float(found), values)
            return Tried(off, bound - max(found, after) if upper else min(found, after) - bound)

        return tried

    def result(self, expr: Expr, sign: float = 1.0) -> Callable[[dict[str, Value]], Tried]:
        """The value of a formula in a job, times `sign`; 0 for a text or a truth, None where it has no value."""

        @cache
        def formula() -> At:
            return seen_by(expr, self.space.scope)

        def tried(point: dict[str, Value]) -> Tried:
            off, values = self.values(point)
            found = formula()(values)
            if found is None:
                return Tried(off, None)
            return Tried(off, sign * found if isinstance(found, float | int) else 0.0)

        return tried


def excess(limit: Limit, value: float, bound: float) -> float:
    """How far a value is beyond a limit, as a share; 0 where it keeps it. Float noise breaks no limit."""
    beyond = value - bound if limit.op.startswith("<") else bound - value
    slack = 1e-12 * max(abs(value), abs(bound))
    broken = beyond > slack if limit.op.endswith("=") else beyond >= -slack
    return share(max(beyond, 0.0), value, bound) if broken else 0.0


def share(beyond: float, *sizes: float) -> float:
    """A distance as a share of the larger of two sizes, so that masses and lengths weigh alike; never 0."""
    size = max(abs(size) for size in sizes)
    return max(beyond / size if size else 1.0, 1e-15)
