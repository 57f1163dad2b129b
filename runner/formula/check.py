"""A formula against the kinds of its names: the kind of its value, and every fault with both sides in the author's units.

All faults are found, none twice: where a part is at fault its kind is unknown, and what is built on it is not complained
about again.
"""

from collections.abc import Mapping
from typing import NamedTuple, assert_never

from runner.formula.dimension import NUMBER, difference_of, divide, multiply, power, unit_of
from runner.formula.explain import text_of
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
from runner.formula.fault import Fault, nearest_name
from runner.formula.functions import FUNCTIONS
from runner.formula.functions.constants import CONSTANTS
from runner.formula.functions.row import Function, Given, Misfit, Parameter, misfit
from runner.formula.kinds import Kind, Path, Quantity, Table, TextKind, Truth, quantity_in, words
from runner.formula.repairs import clash, clash_of_two
from runner.formula.units import Unit, parse_unit


class Checked(NamedTuple):
    """The kind of a formula's value, None where a fault hides it, and the faults in the order of the text."""

    kind: Kind | None
    faults: tuple[Fault, ...]


def check(expr: Expr, names: Mapping[str, Kind]) -> Checked:
    """The kind of a formula over names of these kinds. `names` has values, tables and web paths alike."""
    checker = Checker(names)
    kind = checker.kind(expr)
    return Checked(kind, tuple(sorted(checker.faults)))


class Checker:
    """One walk over a tree, collecting faults."""

    def __init__(self, names: Mapping[str, Kind]) -> None:
        self.names = names
        self.faults: list[Fault] = []

    def fault(self, expr: Expr, message: str, hint: str = "") -> None:
        """Note a fault at the columns of a node."""
        self.faults.append(Fault(expr.span.start, expr.span.end, message, hint))

    def kind(self, expr: Expr) -> Kind | None:
        """The kind of a node, or None when it is at fault."""
        match expr:
            case Number():
                unit = parse_unit(expr.unit) if expr.unit else None
                return quantity_in(unit) if isinstance(unit, Unit) else Quantity(NUMBER)
            case Text():
                return TextKind((expr.value,))
            case Name():
                return self.name(expr)
            case Reference():
                return self.reference(expr)
            case Negate():
                return self.negate(expr)
            case Not():
                return self.truth(expr.operand)
            case Arithmetic():
                return self.arithmetic(expr)
            case Comparison():
                return self.comparison(expr)
            case Logic():
                left, right = self.truth(expr.left), self.truth(expr.right)
                return left and right
            case Call():
                return self.call(expr)
            case _:
                assert_never(expr)

    def name(self, expr: Name) -> Kind | None:
        """A value by its name."""
        if expr.id in CONSTANTS:
            return Quantity(CONSTANTS[expr.id].dimension)
        kind = self.names.get(expr.id)
        match kind:
            case Table():
                self.fault(expr, f"{expr.id} is a table, not a value", f"write lookup({expr.id}, ..., column)")
            case Path():
                self.fault(expr, f"{expr.id} is a web path, not a value", f"write path_length({expr.id})")
            case None if expr.id in FUNCTIONS:
                self.fault(expr, f"{expr.id} is a function", f"write {FUNCTIONS[expr.id].usage}")
            case None:
                self.unknown(expr, [name for name, of in self.names.items() if not isinstance(of, Table | Path)])
            case _:
                return kind
        return None

    def unknown(self, expr: Name | Reference, known: list[str]) -> None:
        """A name that nothing has."""
        near = nearest_name(expr.id, known)
        what = "value" if isinstance(expr, Name) else "web path" if expr.to == "path" else expr.to
        hint = f"did you mean {near}?" if near else ""
        if not near and known and isinstance(expr, Reference):
            hint = f"there is {', '.join(known)}"
        self.fault(expr, f"there is no {what} called {expr.id}", hint)

    def reference(self, expr: Reference) -> Kind | None:
        """A table or a web path by its name; a column is looked for by the rule of its function."""
        if expr.to == "column":
            return TextKind((expr.id,))
        wanted: type[Table] | type[Path] = Table if expr.to == "table" else Path
        kind = self.names.get(expr.id)
        if isinstance(kind, wanted):
            return kind
        self.unknown(expr, [name for name, of in self.names.items() if isinstance(of, wanted)])
        return None

    def negate(self, expr: Negate) -> Kind | None:
        """Minus a number that is no point on a scale."""
        kind = self.number(expr.operand, "-")
        if kind is not None and kind.dimension.point:
            self.fault(expr, f"{text_of(expr.operand)} is {words(kind)}, which has no opposite")
            return None
        return kind

    def number(self, expr: Expr, sign: str) -> Quantity | None:
        """An operand that must be a number."""
        kind = self.kind(expr)
        if kind is None or isinstance(kind, Quantity):
            return kind
        self.fault(expr, f"{text_of(expr)} is {words(kind)}, {sign} needs numbers")
        return None

    def truth(self, expr: Expr) -> Truth | None:
        """An operand that must be true or false."""
        kind = self.kind(expr)
        if kind is None or isinstance(kind, Truth):
            return kind
        self.fault(expr, f"{text_of(expr)} is {words(kind)}, a condition is needed", "compare it, as in x > 0")
        return None

    def arithmetic(self, expr: Arithmetic) -> Kind | None:
        """+ and - take like dimensions, * and / any, ^ a plain number; points on a scale only + and -."""
        left, right = self.number(expr.left, expr.op), self.number(expr.right, expr.op)
        if left is None or right is None:
            return None
        a, b = left.dimension, right.dimension
        if expr.op == "+" or expr.op == "-":  # noqa: PLR1714  # so that the types know what is left
            return self.sum(expr, left, right)
        if a.point or b.point:
            part, kind = (expr.left, left) if a.point else (expr.right, right)
            self.fault(
                expr,
                f"{text_of(part)} is {words(kind)}, a point on a scale, and cannot be used with {expr.op}",
                "take the difference of two such points first",
            )
            return None
        match expr.op:
            case "*":
                return Quantity(multiply(a, b), left.unit if b == NUMBER else right.unit if a == NUMBER else "")
            case "/":
                return Quantity(divide(a, b), left.unit if b == NUMBER else "")
            case "^":
                return Quantity(power(a, expr.right.value if isinstance(expr.right, Number) else 1))
            case _:
                assert_never(expr.op)

    def sum(self, expr: Arithmetic, left: Quantity, right: Quantity) -> Kind | None:
        """Like and like; point - point is a difference, point +- difference a point."""
        a, b = left.dimension, right.dimension
        if a == b and not a.point:
            return left
        if a == b and expr.op == "-":
            return Quantity(difference_of(a))
        if a.point and not b.point and difference_of(a) == b:
            return left
        if b.point and not a.point and difference_of(b) == a and expr.op == "+":
            return right
        if a == b:
            self.fault(
                expr, f"two points on a scale cannot be added: both are {words(left)}", "add a difference to one"
            )
        elif b.point and difference_of(b) == a:
            self.fault(expr, f"{words(right)} cannot be taken from {words(left)}", clash(b, a))
        else:
            self.unlike(expr, left, right)
        return None

    def unlike(self, expr: Arithmetic | Comparison, left: Quantity, right: Quantity) -> None:
        """Two sides that are not alike: either may be the wrong one, a bare number surely is."""
        a, b = text_of(expr.left), text_of(expr.right)
        if right.dimension == NUMBER and isinstance(expr.right, Number):
            hint = f"a number has its unit in brackets, as in {b} [{left.unit or unit_of(left.dimension)}]"
        elif left.dimension == NUMBER and isinstance(expr.left, Number):
            hint = f"a number has its unit in brackets, as in {a} [{right.unit or unit_of(right.dimension)}]"
        else:
            hint = clash_of_two(left.dimension, right.dimension, a, b)
        self.fault(expr, f"{a} is {words(left)}, {b} is {words(right)}: {expr.op} needs like things", hint)

    def comparison(self, expr: Comparison) -> Kind | None:
        """Like quantities in any way; texts and truths only as equal or not."""
        left, right = self.kind(expr.left), self.kind(expr.right)
        match left, right:
            case (None, _) | (_, None):
                return Truth()
            case Quantity(), Quantity():
                if left.dimension != right.dimension:
                    self.unlike(expr, left, right)
            case (TextKind(), TextKind()) if expr.op in ("==", "!="):
                self.choices(expr, left, right)
            case (Truth(), Truth()) if expr.op in ("==", "!="):
                pass
            case _ if type(left) is type(right):
                self.fault(expr, f"{expr.op} compares numbers, {text_of(expr.left)} is {words(left)}", "use == or !=")
            case _:
                self.fault(
                    expr,
                    f"{text_of(expr.left)} is {words(left)}, {text_of(expr.right)} is {words(right)}, which never compare",
                )
        return Truth()

    def choices(self, expr: Comparison, left: TextKind, right: TextKind) -> None:
        """A text compared with one that it can never be."""
        for text, other, of in ((expr.left, expr.right, right), (expr.right, expr.left, left)):
            if isinstance(text, Text) and of.choices and text.value not in of.choices:
                near = nearest_name(text.value, of.choices)
                hint = f"did you mean '{near}'?" if near else f"it is one of {', '.join(of.choices)}"
                self.fault(text, f"{text_of(other)} is never '{text.value}'", hint)
                return

    def call(self, expr: Call) -> Kind | None:
        """A function with arguments that fit it."""
        function = FUNCTIONS.get(expr.function)
        if function is None:
            near = nearest_name(expr.function, list(FUNCTIONS))
            self.fault(expr, f"there is no function {expr.function}", f"did you mean {near}?" if near else "")
            for argument in expr.arguments:
                self.kind(argument)
            return None
        count = len(expr.arguments)
        if count < function.fewest or (function.most is not None and count > function.most):
            self.fault(expr, f"{function.name} takes {counted(function)}, here are {count}", f"write {function.usage}")
            return None
        given = [
            self.given(function, argument, parameter, place)
            for place, (argument, parameter) in enumerate(zip(expr.arguments, function.places(count), strict=True))
        ]
        known = tuple(one for one in given if one is not None)
        if len(known) < len(given):
            return None
        result = function.kind(known)
        if isinstance(result, Misfit):
            self.fault(expr.arguments[result.argument], result.message, result.hint)
            return None
        return result

    def given(self, function: Function, argument: Expr, parameter: Parameter, place: int) -> Given | None:
        """What stands in one place of a call, or None when it is at fault."""
        if parameter.wants in ("table", "path", "column") and not isinstance(argument, Reference):
            what = "web path" if parameter.wants == "path" else parameter.wants
            self.fault(argument, f"the name of a {what} is needed here", f"write {function.usage}")
            return None
        kind = self.kind(argument)
        if kind is None:
            return None
        literal: str | float | None = None
        match argument:
            case Text() | Number():
                literal = argument.value
            case Reference():
                literal = argument.id
        given = Given(kind, literal, text_of(argument))
        found = misfit(given, parameter, place)
        if found is None and function.name == "last" and not isinstance(argument, Name):
            found = Misfit(place, "last takes the name of a reading")
        if found is not None:
            self.fault(argument, found.message, found.hint)
            return None
        return given


def counted(function: Function) -> str:
    """How many arguments a function takes, in words."""
    if function.most is None:
        return f"{function.fewest} arguments or more"
    if function.most == function.fewest:
        return f"{function.most} argument{'s' if function.most != 1 else ''}"
    return f"{function.fewest} to {function.most} arguments"
