"""The values of a procedure over a part of all jobs: interval by interval, in the order in which they are worked out.

A part in which no job is allowed is None. What a calculation comes to is narrowed by its own limits, since whatever
rests on it is only worked out in a job that keeps them.
"""

from typing import assert_never

from runner.formula import interval
from runner.formula.bounds import Box, narrowed, possible
from runner.formula.enclose import refined
from runner.formula.expr import Expr
from runner.formula.interval import Interval, Possible, Truths, Unbounded
from runner.procedure.jobs.space import Part, Space
from runner.procedure.model import Calculation, Limit, Rounding, Split
from runner.procedure.working import rounded

NOISE = 1e-12
"""As for the limits of `working`: float noise breaks none."""


def worked_over(space: Space, box: Box, own: str = "") -> Part | None:
    """The box with what every calculation of the space but `own` may come to; None where no job in it is allowed.

    A calculation without bounds here is left out, and so is all that rests on it.
    """
    begin = where_they_hold(space, box)
    if begin is None:
        return None
    part: Part = dict(begin)
    for name in space.order:
        if name == own or name in space.fixed:
            continue
        worked = space.worked.get(name)
        if worked is None:
            if space.matched(name) in part:
                part[name] = part[space.matched(name)]
            if not answers_allowed(space, name, part):
                return None
            continue
        match worked:
            case Calculation():
                plain = result_over(space, worked.formula, part)
                near = near_rough(space, worked, plain, part) if isinstance(plain, Interval) else plain
                found = rounded_over(near, worked.rounding) if near is not None else None
                if isinstance(found, Unbounded):
                    continue
                kept = within_limits(space, worked.limits, found, part) if isinstance(found, Interval) else None
                if kept is None:
                    return None
                part[name] = kept
            case Split():
                mass = part.get(worked.mass)
                if isinstance(mass, Interval):
                    part[name] = Interval(max(0.0, mass.low - worked.within), max(0.0, mass.high + worked.within))
            case _:
                assert_never(worked)
    return None if where_they_hold(space, part) is None else part


def where_they_hold(space: Space, part: Box) -> Box | None:
    """A part narrowed to where the conditions may hold, one after the other; None where one surely does not.

    One after the other, so that of `x > 5` and `x <= 5` the second is looked at where the first holds.
    """
    for condition in space.conditions:
        found = possible(condition, part, space.scope)
        if isinstance(found, Truths):
            if not found.true:
                return None
            part = narrowed(condition, True, part, space.scope)
    return part


def result_over(space: Space, expr: Expr, part: Box) -> Possible:
    """What a formula may come to; the part is only cut for it where plain intervals say nothing."""
    key = (id(expr), *(part.get(name) for name in space.needed(expr)))
    known = space.memo.get(key)
    if known is None:
        known = possible(expr, part, space.scope)
        if isinstance(known, Unbounded):
            known = refined(expr, part, space.scope)
        space.memo[key] = known
    return known


def rounded_over(found: Possible, rounding: Rounding | None) -> Possible:
    """Rounding never falls when its value rises."""
    if rounding is None or not isinstance(found, Interval):
        return found
    return interval.widened(rounded(found.low, rounding), rounded(found.high, rounding))


def within_limits(space: Space, limits: tuple[Limit, ...], found: Interval, part: Box) -> Interval | None:
    """The part of an interval that keeps some limits; None where nothing does."""
    low, high = found
    for limit in limits:
        bound = possible(limit.bound, part, space.scope)
        if not isinstance(bound, Interval):
            continue
        slack = NOISE * max(abs(low), abs(high), abs(bound.low), abs(bound.high))
        if limit.op.startswith("<"):
            high = min(high, bound.high + slack)
        else:
            low = max(low, bound.low - slack)
        if low > high:
            return None
    return Interval(low, high)


def near_rough(space: Space, worked: Calculation, found: Interval, part: Box) -> Interval | None:
    """The part of an interval that a rough check may agree with; None where nothing does.

    Two numbers above zero that differ by a share of the larger of at most s: each is at least (1 - s) times the other.
    """
    if worked.rough is None:
        return found
    rough = result_over(space, worked.rough.formula, part)
    if not isinstance(rough, Interval) or rough.low < 0.0 or found.low < 0.0 or worked.rough.within >= 1.0:
        return found
    least = (1.0 - worked.rough.within) * (1.0 - 1e-8)
    low, high = max(found.low, rough.low * least), min(found.high, rough.high / least)
    return Interval(low, high) if low <= high else None


def answers_allowed(space: Space, name: str, part: Part) -> bool:
    """Whether some answer may be within the limits that other values set for it; narrows it to those."""
    free, now = space.free.get(name), part.get(name)
    if free is None or not isinstance(now, Interval):
        return True
    low, high = now
    for bound, low_end in ((free.low, True), (free.high, False)):
        if bound is None or isinstance(bound, float):
            continue
        found = possible(bound, part, space.scope)
        if isinstance(found, Interval):
            low, high = (max(low, found.low), high) if low_end else (low, min(high, found.high))
    if low > high:
        return False
    part[name] = Interval(low, high)
    return True


def margin_over(space: Space, name: str, limit: Limit, part: Box) -> Interval | Unbounded | None:
    """How much a value keeps from its limit over a part, negative where it breaks it; None where no job is allowed.

    The limit counts before rounding and after it, so the smaller of both margins does.
    """
    worked = space.worked[name]
    assert isinstance(worked, Calculation)
    known = worked_over(space, part, name)
    if known is None:
        return None
    plain, bound = result_over(space, worked.formula, known), result_over(space, limit.bound, known)
    if isinstance(plain, Interval):
        near = near_rough(space, worked, plain, known)
        if near is None:
            return None
        plain = near
    after = rounded_over(plain, worked.rounding)
    for found in (plain, after, bound):
        if isinstance(found, Unbounded):
            return found
    if not isinstance(plain, Interval) or not isinstance(after, Interval) or not isinstance(bound, Interval):
        return Unbounded("this is no number", *worked.formula.span)
    value = Interval(min(plain.low, after.low), max(plain.high, after.high))
    return interval.subtract(bound, value) if limit.op.startswith("<") else interval.subtract(value, bound)
