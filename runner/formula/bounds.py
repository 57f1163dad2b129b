"""What a formula may come to when its values may be anything in a box: interval arithmetic, never too narrow.

One walk over the tree. A condition narrows the values that it compares, so `if(x > 0, 1 / x, 0)` has bounds; a value that
stands in a formula more than once makes them too wide, which `runner.formula.enclose` mends by cutting the box.
"""

from collections.abc import Mapping
from math import inf, nextafter
from typing import TypeAlias, assert_never

from runner.formula import interval
from runner.formula.evaluate import si_of
from runner.formula.expr import (
    Arithmetic,
    Call,
    Comparison,
    Expr,
    Logic,
    Name,
    Negate,
    Not,
    Number,
    Reference,
    Text,
)
from runner.formula.functions import FUNCTIONS
from runner.formula.functions.constants import CONSTANTS
from runner.formula.interval import Interval, Possible, Texts, Truths, Unbounded
from runner.formula.path_bounds import PathBounds, RollerBox, bound_path
from runner.formula.scope import Scope

Box: TypeAlias = Mapping[str, Interval | Texts | Truths]
"""What each value may be, by name."""


def possible(expr: Expr, box: Box, scope: Scope) -> Possible:
    """What a node may come to over one box."""
    match expr:
        case Number():
            return interval.point(si_of(expr))
        case Text():
            return Texts(frozenset((expr.value,)))
        case Name():
            if expr.id in CONSTANTS:
                return interval.point(CONSTANTS[expr.id].value)
            return box.get(expr.id) or Unbounded(f"{expr.id} may be anything", *expr.span)
        case Reference():
            return Unbounded(f"{expr.id} is a {expr.to}, not a value", *expr.span)
        case Negate():
            operand = possible(expr.operand, box, scope)
            return interval.negate(operand) if isinstance(operand, Interval) else unfit(expr, operand)
        case Not():
            operand = possible(expr.operand, box, scope)
            return Truths(operand.false, operand.true) if isinstance(operand, Truths) else unfit(expr, operand)
        case Arithmetic():
            return arithmetic(expr, box, scope)
        case Comparison():
            return compared(expr, possible(expr.left, box, scope), possible(expr.right, box, scope))
        case Logic():
            return logic(expr, box, scope)
        case Call(function="if"):
            return branches(expr, box, scope)
        case Call():
            return called(expr, box, scope)
        case _:
            assert_never(expr)


def unfit(expr: Expr, *parts: Possible) -> Unbounded:
    """The first part that is unbounded, with columns; or that the parts are of the wrong kind."""
    for part in parts:
        if isinstance(part, Unbounded):
            return part if part.end else part._replace(start=expr.span.start, end=expr.span.end)
    return Unbounded("this has no bounds", *expr.span)


def arithmetic(expr: Arithmetic, box: Box, scope: Scope) -> Possible:
    """An operator over two intervals; x * x and x / x of one name are as tight as powers."""
    a, b = possible(expr.left, box, scope), possible(expr.right, box, scope)
    if not isinstance(a, Interval) or not isinstance(b, Interval):
        return unfit(expr, a, b)
    found: Interval | Unbounded
    match expr.op:
        case "+":
            found = interval.add(a, b)
        case "-":
            found = interval.subtract(a, b)
        case "*":
            found = interval.multiply(a, b)
        case "/":
            found = interval.divide(a, b)
        case "^":
            found = interval.power(a, int(b.low))
        case _:
            assert_never(expr.op)
    return found if isinstance(found, Interval) else unfit(expr, found)


def compared(expr: Comparison, a: Possible, b: Possible) -> Possible:
    """Whether a comparison may be true, and may be false."""
    match a, b:
        case Interval(), Interval():
            below, above = a.low < b.high, a.high > b.low
            touching = a.low <= b.high and b.low <= a.high
            fixed = a.low == a.high == b.low == b.high
            match expr.op:
                case "<":
                    return Truths(below, a.high >= b.low)
                case "<=":
                    return Truths(a.low <= b.high, above)
                case ">":
                    return Truths(above, a.low <= b.high)
                case ">=":
                    return Truths(a.high >= b.low, below)
                case "==":
                    return Truths(touching, not fixed)
                case "!=":
                    return Truths(not fixed, touching)
                case _:
                    assert_never(expr.op)
        case Texts(), Texts():
            may = a.may is None or b.may is None or bool(a.may & b.may)
            never = a.may is not None and b.may is not None and len(a.may) == 1 and a.may == b.may
            return Truths(may, not never) if expr.op == "==" else Truths(not never, may)
        case Truths(), Truths():
            may = (a.true and b.true) or (a.false and b.false)
            differ = (a.true and b.false) or (a.false and b.true)
            return Truths(may, differ) if expr.op == "==" else Truths(differ, may)
        case _:
            return unfit(expr, a, b)


def logic(expr: Logic, box: Box, scope: Scope) -> Possible:
    """and, or; the right side counts only where the left one leaves it open, with the box that the left one leaves."""
    left = possible(expr.left, box, scope)
    if not isinstance(left, Truths):
        return unfit(expr, left)
    goes_on = left.true if expr.op == "and" else left.false
    if not goes_on:
        return left
    right = possible(expr.right, narrowed(expr.left, expr.op == "and", box, scope), scope)
    if not isinstance(right, Truths):
        return unfit(expr, right)
    if expr.op == "and":
        return Truths(right.true, left.false or right.false)
    return Truths(left.true or right.true, right.false)


def branches(expr: Call, box: Box, scope: Scope) -> Possible:
    """if: only the branches that the condition leaves, each with the box that it leaves."""
    condition = possible(expr.arguments[0], box, scope)
    if not isinstance(condition, Truths):
        return unfit(expr, condition)
    nothing = Unbounded("this is never asked for", *expr.span)
    yes: Possible = nothing
    no: Possible = nothing
    if condition.true:
        yes = possible(expr.arguments[1], narrowed(expr.arguments[0], True, box, scope), scope)
    if condition.false:
        no = possible(expr.arguments[2], narrowed(expr.arguments[0], False, box, scope), scope)
    found = FUNCTIONS["if"].bounds(condition, yes, no)
    return unfit(expr, found) if isinstance(found, Unbounded) else found


def narrowed(condition: Expr, holds: bool, box: Box, scope: Scope) -> Box:
    """The box without values for which a condition surely does not hold (or surely holds); never smaller than that."""
    match condition:
        case Not():
            return narrowed(condition.operand, not holds, box, scope)
        case Logic() if (condition.op == "and") == holds:
            return narrowed(condition.right, holds, narrowed(condition.left, holds, box, scope), scope)
        case Comparison(left=Name() as name):
            sign = condition.op if holds else OPPOSITE[condition.op]
            return with_limit(box, name.id, sign, possible(condition.right, box, scope))
        case Comparison(right=Name() as name):
            sign = MIRRORED[condition.op if holds else OPPOSITE[condition.op]]
            return with_limit(box, name.id, sign, possible(condition.left, box, scope))
    return box


MIRRORED = {"<": ">", "<=": ">=", ">": "<", ">=": "<=", "==": "==", "!=": "!="}
OPPOSITE = {"<": ">=", "<=": ">", ">": "<=", ">=": "<", "==": "!=", "!=": "=="}


def with_limit(box: Box, name: str, sign: str, limit: Possible) -> Box:
    """The box with one name narrowed by `name sign limit`."""
    now = box.get(name)
    match now, limit:
        case Interval(), Interval():
            low, high = now
            if sign in ("<", "<=", "=="):
                high = min(high, limit.high if sign != "<" else nextafter(limit.high, -inf))
            if sign in (">", ">=", "=="):
                low = max(low, limit.low if sign != ">" else nextafter(limit.low, inf))
            return {**box, name: Interval(low, high)} if low <= high else box
        case Texts(), Texts(may=frozenset() as others) if sign == "==":
            return {**box, name: Texts(others if now.may is None else now.may & others)}
        case Texts(may=frozenset() as mine), Texts(may=frozenset() as others) if sign == "!=" and len(others) == 1:
            return {**box, name: Texts(mine - others)}
    return box


def called(expr: Call, box: Box, scope: Scope) -> Possible:
    """A function over what its arguments may be."""
    function = FUNCTIONS.get(expr.function)
    if function is None:
        return Unbounded(f"there is no function {expr.function}", *expr.span)
    arguments: list[object] = []
    for argument, parameter in zip(expr.arguments, function.places(len(expr.arguments)), strict=True):
        if parameter.wants == "roller":
            arguments.append(argument.value if isinstance(argument, Text) else "")
            continue
        found = referred(argument, box, scope) if isinstance(argument, Reference) else possible(argument, box, scope)
        if isinstance(found, Unbounded):
            return unfit(argument, found)
        arguments.append(found)
    try:
        result = function.bounds(*arguments)
    except (ValueError, TypeError, IndexError, ArithmeticError):
        return Unbounded("this has no bounds", *expr.span)
    return unfit(expr, result) if isinstance(result, Unbounded) else result


def referred(reference: Reference, box: Box, scope: Scope) -> object:
    """The rows of a table, the bounds of a web path, or the name of a column."""
    if reference.to == "column":
        return reference.id
    if reference.to == "table":
        return scope.tables.get(reference.id) or Unbounded(f"there is no table {reference.id}", *reference.span)
    return path_over(reference, box, scope)


def path_over(reference: Reference, box: Box, scope: Scope) -> PathBounds | Unbounded:
    """The bounds of a web path whose rollers' formulas are worked out over a box."""
    rollers: list[RollerBox] = []
    for roller in scope.paths.get(reference.id, ()):
        parts = [possible(part, box, scope) for part in (roller.x, roller.y, roller.diameter)]
        numbers = [part for part in parts if isinstance(part, Interval)]
        if len(numbers) < len(parts):
            return unfit(reference, *(part._replace(end=0) for part in parts if isinstance(part, Unbounded)))
        x, y, diameter = numbers
        rollers.append(RollerBox(roller.name, x, y, diameter, roller.side, roller.moves, roller.travel))
    return bound_path(tuple(rollers))
