"""The job at which a divisor is zero, where its sign changes over the allowed jobs.

A zero inside the bands is at no corner, so no search of corners meets it: it is closed in on along one value at a time.
"""

from collections.abc import Mapping
from math import inf

from runner.formula.enclose import point_in
from runner.formula.evaluate import Value
from runner.formula.expr import Arithmetic, Expr, nodes
from runner.formula.interval import Interval, Unbounded
from runner.procedure.jobs.search import least
from runner.procedure.jobs.space import Space
from runner.procedure.jobs.trial import Trial

HALVINGS = 60


def divisor_at(expr: Expr, unclear: Unbounded) -> Expr | None:
    """What is divided by where the bounds of a formula end; None where they end for another reason."""
    for node in nodes(expr):
        if (node.span.start, node.span.end) == (unclear.start, unclear.end) and isinstance(node, Arithmetic):
            return node.right if node.op == "/" else node.left if node.op == "^" else None
    return None


def job_of_zero(space: Space, divisor: Expr, own: str) -> Mapping[str, Value] | None:
    """An allowed job at which a divisor is zero or as near as numbers go; None where no change of sign was found."""
    low, high = (_extreme(space, divisor, own, sign) for sign in (1.0, -1.0))
    if low is None or high is None:
        return None
    value = Trial(space, own).result(divisor)
    point = dict(low)
    for name in space.free:
        if point.get(name) == high.get(name):
            continue
        moved = {**point, name: high[name]}
        before, after = value(point).value, value(moved).value
        if before is not None and after is not None and before <= 0.0 <= after and isinstance(high[name], float):
            return _closed_in(space, divisor, own, point, name, float(high[name]))
        point = moved
    return None


def _extreme(space: Space, divisor: Expr, own: str, sign: float) -> Mapping[str, Value] | None:
    """The job at which a divisor is least (sign 1) or largest (-1), where that is on the other side of zero."""

    def over(_: object) -> Interval:
        return Interval(-inf, inf)

    found = least(space, over, Trial(space, own).result(divisor, sign), lambda seen, _: seen <= 0.0, cuts=4)
    return {**point_in(space.start(), 0.5), **found.job} if found.job is not None and found.value <= 0.0 else None


def _closed_in(
    space: Space, divisor: Expr, own: str, point: dict[str, Value], name: str, end: float
) -> Mapping[str, Value]:
    """Halve the way of one value until the divisor changes its sign between two neighbouring numbers."""
    value = Trial(space, own).result(divisor)
    start = point[name]
    assert isinstance(start, float)
    for _ in range(HALVINGS):
        middle = start + (end - start) / 2.0
        found = value({**point, name: middle}).value
        if found is None or found == 0.0:
            start = middle
            break
        start, end = (middle, end) if found < 0.0 else (start, middle)
    return {**point, name: start}
