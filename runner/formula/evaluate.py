"""Formulas worked out over SI floats, two ways with one meaning.

`evaluate` walks the tree carefully and gives a value or the fault with its columns; it never raises. `ready` turns the tree
into closures for sweeps over many jobs: fast, and free to raise where `evaluate` would give a fault.
"""

import operator
from collections.abc import Callable, Mapping
from functools import lru_cache
from math import isfinite
from typing import TypeAlias, assert_never

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
from runner.formula.fault import Fault
from runner.formula.functions import FUNCTIONS
from runner.formula.functions.constants import CONSTANTS
from runner.formula.scope import PathRoller, Scope, names_needed
from runner.formula.units import UNITS, Unit, parse_unit
from runner.trade.web_path import Problem, Roller, WebPath, solve

Value: TypeAlias = float | str | bool
"""A number in SI, a text, or a truth."""

Values: TypeAlias = Mapping[str, Value]

Closure: TypeAlias = Callable[[Values], Value]

SIGNS: dict[str, Callable[..., Value]] = {
    "+": operator.add,
    "-": operator.sub,
    "*": operator.mul,
    "/": operator.truediv,
    "^": operator.pow,
    "==": operator.eq,
    "!=": operator.ne,
    "<": operator.lt,
    "<=": operator.le,
    ">": operator.gt,
    ">=": operator.ge,
}
"""What each operator does with two SI floats (or two texts, for == and !=)."""


def evaluate(expr: Expr, values: Values, scope: Scope) -> Value | Fault:
    """The value of a checked formula, or why there is none for these values. Never infinite, not a number, or complex."""
    match expr:
        case Number():
            return si_of(expr)
        case Text():
            return expr.value
        case Name():
            if expr.id in CONSTANTS:
                return CONSTANTS[expr.id].value
            found = values.get(expr.id)
            if found is None:
                return fault(expr, f"{expr.id} is not known yet")
            return sound(expr, found)
        case Reference():
            return fault(expr, f"{expr.id} is a {expr.to}, not a value")
        case Negate():
            operand = evaluate(expr.operand, values, scope)
            return operand if isinstance(operand, Fault) else applied(expr, operator.neg, operand)
        case Not():
            operand = evaluate(expr.operand, values, scope)
            return operand if isinstance(operand, Fault) else not operand
        case Arithmetic() | Comparison():
            left = evaluate(expr.left, values, scope)
            if isinstance(left, Fault):
                return left
            right = evaluate(expr.right, values, scope)
            return right if isinstance(right, Fault) else applied(expr, SIGNS[expr.op], left, right)
        case Logic():
            left = evaluate(expr.left, values, scope)
            if isinstance(left, Fault) or bool(left) == (expr.op == "or"):
                return left
            return evaluate(expr.right, values, scope)
        case Call(function="if") if len(expr.arguments) == 3:
            condition = evaluate(expr.arguments[0], values, scope)
            return (
                condition
                if isinstance(condition, Fault)
                else evaluate(expr.arguments[1 if condition else 2], values, scope)
            )
        case Call():
            return called(expr, values, scope)
        case _:
            assert_never(expr)


def called(expr: Call, values: Values, scope: Scope) -> Value | Fault:
    """The value of a call: its arguments worked out, tables and paths looked up."""
    function = FUNCTIONS.get(expr.function)
    if function is None:
        return fault(expr, f"there is no function {expr.function}")
    arguments: list[object] = []
    for argument in expr.arguments:
        found = (
            looked_up(argument, values, scope) if isinstance(argument, Reference) else evaluate(argument, values, scope)
        )
        if isinstance(found, Fault):
            return found._replace(start=argument.span.start, end=argument.span.end) if found.end < 0 else found
        arguments.append(found)
    return applied(expr, function.value, *arguments)


def looked_up(reference: Reference, values: Values, scope: Scope) -> object:
    """The rows of a table, a solved web path, or the name of a column; a fault where a path cannot be solved."""
    match reference.to:
        case "column":
            return reference.id
        case "table":
            return scope.tables.get(reference.id) or fault(reference, f"there is no table {reference.id}")
        case "path":
            if reference.id not in scope.paths:
                return fault(reference, f"there is no web path {reference.id}")
            path = path_of(scope.paths[reference.id], values, scope)
            return fault(reference, f"web path {reference.id}: {path.message}") if isinstance(path, Problem) else path
        case _:
            assert_never(reference.to)


def path_of(rollers: tuple[PathRoller, ...], values: Values, scope: Scope) -> WebPath | Problem:
    """A web path with the values put in, solved; the problem of a roller whose place or size has no value, else the web's."""
    key = (id(rollers), id(scope), tuple(values.get(name) for name in names_of(rollers, scope)))
    known = LAID.get(key)
    if known is None:
        if len(LAID) >= MOST_LAID:
            LAID.clear()
        known = LAID[key] = (rollers, scope, laid(rollers, values, scope))
    return known[2]


MOST_LAID = 64
LAID: dict[tuple[int, int, tuple[Value | None, ...]], tuple[tuple[PathRoller, ...], Scope, WebPath | Problem]] = {}
"""Solved paths by identity of their rollers and scope, which are kept with them, and by the values that the rollers use:
several formulas in turn ask for the same path, and search for a value that the path does not use."""


def names_of(rollers: tuple[PathRoller, ...], scope: Scope) -> tuple[str, ...]:
    """The names that places and sizes of rollers use, sorted; kept by identity of the rollers."""
    known = NAMED.get(id(rollers))
    if known is None:
        if len(NAMED) >= MOST_LAID:
            NAMED.clear()
        parts = (part for roller in rollers for part in (roller.x, roller.y, roller.diameter))
        known = NAMED[id(rollers)] = (
            rollers,
            tuple(sorted({name for part in parts for name in names_needed(part, scope)})),
        )
    return known[1]


NAMED: dict[int, tuple[tuple[PathRoller, ...], tuple[str, ...]]] = {}


def laid(rollers: tuple[PathRoller, ...], values: Values, scope: Scope) -> WebPath | Problem:
    """A web path with the values put in, solved."""
    placed: list[Roller] = []
    for place, roller in enumerate(rollers):
        numbers = [evaluate(part, values, scope) for part in (roller.x, roller.y, roller.diameter)]
        for number in numbers:
            if isinstance(number, Fault):
                return Problem(place, f"{roller.name}: {number.message}")
        x, y, diameter = (float(number) for number in numbers if not isinstance(number, Fault))
        placed.append(roller_at(roller, x, y, diameter))
    return web_over(tuple(placed))


@lru_cache(maxsize=64)
def web_over(rollers: tuple[Roller, ...]) -> WebPath | Problem:
    """The web over these rollers; several formulas in turn ask for the same path, and solving it is most of their cost."""
    return solve(rollers)


def roller_at(roller: PathRoller, x: float, y: float, diameter: float) -> Roller:
    """A roller with its numbers."""
    return Roller(roller.name, x, y, diameter, roller.side, roller.moves, roller.travel)


def applied(expr: Expr, function: Callable[..., Value], *arguments: object) -> Value | Fault:
    """The result of an operation, or why these arguments have none."""
    try:
        return sound(expr, function(*arguments))
    except ZeroDivisionError:
        return fault(expr, "this divides by zero")
    except OverflowError:
        return fault(expr, "the result is too large")
    except (ValueError, TypeError, IndexError) as error:
        return fault(expr, str(error) if isinstance(error, ValueError) else "this has no result for these values")


def sound(expr: Expr, value: Value) -> Value | Fault:
    """A value, unless it is a number that nobody could use."""
    if isinstance(value, complex) or (isinstance(value, float) and not isfinite(value)):
        return fault(
            expr, "the result is too large" if not isinstance(expr, Name) else f"{expr.id} is no usable number"
        )
    return value


def fault(expr: Expr, message: str) -> Fault:
    """A fault at the columns of a node."""
    return Fault(expr.span.start, expr.span.end, message)


def si_of(number: Number) -> float:
    """A number of a formula in SI."""
    return in_si(number.value, number.unit) if number.unit else number.value


@lru_cache(maxsize=1024)
def in_si(value: float, written: str) -> float:
    """A number of a unit as written, in SI; kept, since the numbers of formulas stay the same."""
    unit = UNITS.get(written) or parse_unit(written)
    assert isinstance(unit, Unit)  # the parser lets no other unit through
    return unit.si(value)


def ready(expr: Expr, scope: Scope) -> Closure:
    """A checked formula as a function of values by name (SI floats, texts), as fast as closures go.

    Raises `ArithmeticError`, `ValueError` or `KeyError` where `evaluate` gives a fault, or returns infinity; whoever shows
    a value to a person asks `evaluate`.
    """
    match expr:
        case Number() | Text():
            constant = si_of(expr) if isinstance(expr, Number) else expr.value
            return lambda _: constant
        case Name():
            if expr.id in CONSTANTS:
                number = CONSTANTS[expr.id].value
                return lambda _: number
            return operator.itemgetter(expr.id)
        case Negate():
            operand = number_of(expr.operand, scope)
            return lambda values: -operand(values)
        case Not():
            condition = ready(expr.operand, scope)
            return lambda values: not condition(values)
        case Arithmetic():
            return ready_arithmetic(expr, scope)
        case Comparison():
            compare, left, right = SIGNS[expr.op], ready(expr.left, scope), ready(expr.right, scope)
            return lambda values: compare(left(values), right(values))
        case Logic():
            first, second = ready(expr.left, scope), ready(expr.right, scope)
            if expr.op == "and":
                return lambda values: first(values) and second(values)
            return lambda values: first(values) or second(values)
        case Call(function="if"):
            condition, yes, no = (ready(argument, scope) for argument in expr.arguments)
            return lambda values: yes(values) if condition(values) else no(values)
        case Call():
            value, arguments = FUNCTIONS[expr.function].value, [ready_argument(part, scope) for part in expr.arguments]
            return lambda values: value(*[argument(values) for argument in arguments])
        case Reference():
            raise ValueError(f"{expr.id} is a {expr.to}, not a value")
        case _:
            assert_never(expr)


def number_of(expr: Expr, scope: Scope) -> Callable[[Values], float]:
    """The closure of a formula that the checker found to be a number."""
    return ready(expr, scope)  # type: ignore[return-value]  # the checker has seen that it is one


def ready_arithmetic(expr: Arithmetic, scope: Scope) -> Closure:
    """An operator between two closures; where one side is a constant, it is held and not called."""
    a, b = number_of(expr.left, scope), number_of(expr.right, scope)
    match expr.op:
        case "+":
            return lambda values: a(values) + b(values)
        case "-":
            return lambda values: a(values) - b(values)
        case "*":
            if isinstance(expr.left, Number):
                fixed = si_of(expr.left)
                return lambda values: fixed * b(values)
            return lambda values: a(values) * b(values)
        case "/":
            return lambda values: a(values) / b(values)
        case "^":
            assert isinstance(expr.right, Number)  # the parser lets nothing else through
            exponent = int(expr.right.value)
            return lambda values: a(values) ** exponent
        case _:
            assert_never(expr.op)


def ready_argument(argument: Expr, scope: Scope) -> Callable[[Values], object]:
    """The closure of one argument; the columns and rows of tables are constants."""
    if not isinstance(argument, Reference):
        return ready(argument, scope)
    if argument.to == "path":
        rollers = [
            (roller, number_of(roller.x, scope), number_of(roller.y, scope), number_of(roller.diameter, scope))
            for roller in scope.paths[argument.id]
        ]
        return lambda values: solved([(roller, x(values), y(values), size(values)) for roller, x, y, size in rollers])
    constant: object = scope.tables[argument.id] if argument.to == "table" else argument.id
    return lambda _: constant


def solved(rollers: list[tuple[PathRoller, float, float, float]]) -> object:
    """A web path with its numbers, solved; `ValueError` when it cannot be."""
    path = solve([roller_at(*placed) for placed in rollers])
    if isinstance(path, Problem):
        raise ValueError(path.message)
    return path
