"""Text to tree: a precedence parser over one table. Each parse method's docstring is its grammar.

`parse` never raises: any text is a tree or a fault with its columns. Length, depth and powers are bounded, so that what
reads the tree is bounded too.
"""

from runner.formula.expr import (
    Arithmetic,
    ArithmeticSign,
    Call,
    Comparison,
    ComparisonSign,
    Expr,
    Logic,
    LogicWord,
    Name,
    Negate,
    Not,
    Number,
    Reference,
    Span,
    Text,
    depth,
)
from runner.formula.fault import Fault
from runner.formula.functions import FUNCTIONS
from runner.formula.tokens import Token, tokens

LONGEST = 500
"""Characters of a formula."""
DEEPEST = 40
"""Levels of the tree, and of parentheses."""
LARGEST_POWER = 4
"""Largest exponent, either sign."""

ARITHMETIC: dict[str, ArithmeticSign] = {"+": "+", "-": "-", "*": "*", "/": "/", "^": "^"}
COMPARISON: dict[str, ComparisonSign] = {"==": "==", "!=": "!=", "<": "<", "<=": "<=", ">": ">", ">=": ">="}
LOGIC: dict[str, LogicWord] = {"and": "and", "or": "or"}

BINDING: dict[str, int] = {
    "or": 1,
    "and": 2,
    "not": 3,
    **dict.fromkeys(COMPARISON, 4),
    "+": 5,
    "-": 5,
    "*": 6,
    "/": 6,
    "negate": 7,
    "^": 8,
}
"""How strongly each operator binds; the larger first. THE precedence table."""


class FormulaError(Exception):
    """Ends the parse at its first fault; never leaves `parse`."""

    def __init__(self, span: Span, message: str, hint: str = "") -> None:
        super().__init__(message)
        self.fault = Fault(span.start, span.end, message, hint)


def parse(text: str) -> Expr | Fault:
    """formula: or-expression, up to 500 characters and 40 levels."""
    if len(text) > LONGEST:
        return Fault(
            LONGEST, len(text), f"a formula is no longer than {LONGEST} characters", "split it into calculations"
        )
    found = tokens(text)
    if isinstance(found, Fault):
        return found
    try:
        expr = Parser(found).whole()
    except FormulaError as error:
        return error.fault
    if depth(expr) > DEEPEST:
        return Fault(*expr.span, f"a formula is no deeper than {DEEPEST} operations", "split it into calculations")
    return expr


class Parser:
    """One pass over the tokens of a formula."""

    def __init__(self, found: list[Token]) -> None:
        self.tokens = found
        self.place = 0
        self.level = 0

    @property
    def token(self) -> Token:
        """The token that comes next."""
        return self.tokens[self.place]

    def take(self) -> Token:
        """The next token, and on to the one after it; the end token stays."""
        token = self.tokens[self.place]
        self.place = min(self.place + 1, len(self.tokens) - 1)
        return token

    def is_sign(self, words: str) -> bool:
        """Whether this sign comes next."""
        return self.token.kind == "sign" and self.token.words == words

    def whole(self) -> Expr:
        """formula: expression end"""
        if len(self.tokens) == 1:
            raise FormulaError(Span(0, self.token.span.end), "there is no formula")
        expr = self.expression(0)
        if self.is_sign(")"):
            raise FormulaError(self.token.span, "this ) closes nothing", "take it out, or open it with (")
        if self.is_sign(","):
            raise FormulaError(
                self.token.span, "a comma stands only between arguments", "write a number with a point: 1.5"
            )
        if self.token.kind != "end":
            self.refuse_neighbour(expr)
        return expr

    def refuse_neighbour(self, before: Expr) -> None:
        """Two values side by side: an operator is missing between them."""
        words = self.token.words or "this number"
        if isinstance(before, Text) or self.token.kind == "text":
            raise FormulaError(
                self.token.span, "a comparison is missing before this", "write it like substrate == 'BOPP film'"
            )
        raise FormulaError(self.token.span, f"an operator is missing before {words}", "write * for a product")

    def expression(self, floor: int) -> Expr:
        """expression: operand { operator expression }, where each operator binds more strongly than `floor`

        Operators of equal strength go from left to right; comparisons are not chained.
        """
        self.level += 1
        if self.level > DEEPEST:
            raise FormulaError(
                self.token.span, f"a formula is no deeper than {DEEPEST} levels", "split it into calculations"
            )
        left = self.operand()
        compared = False
        while self.token.kind == "sign" and self.token.words != "not" and BINDING.get(self.token.words, 0) > floor:
            sign = self.take()
            if sign.words == "^":
                left = self.raised(left)
                continue
            if sign.words in COMPARISON:
                if compared:
                    raise FormulaError(sign.span, "comparisons are not chained", "write a < b and b < c")
                compared = True
            right = self.expression(BINDING[sign.words])
            left = join(left, sign, right)
        if self.token.kind in ("number", "name", "text") or self.is_sign("(") or self.is_sign("not"):
            self.refuse_neighbour(left)
        self.level -= 1
        return left

    def operand(self) -> Expr:
        """operand: number | text | name | call | `(` expression `)` | `-` operand | `not` expression"""
        token = self.take()
        match token.kind:
            case "number":
                return Number(token.value, token.words, token.span)
            case "text":
                return Text(token.words, token.span)
            case "name":
                return self.call(token) if self.is_sign("(") else Name(token.words, token.span)
            case "end":
                raise FormulaError(token.span, "the formula ends where a value is needed")
            case "sign":
                return self.signed(token)

    def signed(self, sign: Token) -> Expr:
        """`(` expression `)` | `-` operand | `not` expression"""
        if sign.words == "(":
            inner = self.expression(0)
            if not self.is_sign(")"):
                raise FormulaError(sign.span, "this ( is not closed", "write ) where it ends")
            end = self.take().span.end
            return inner._replace(span=Span(sign.span.start, end))
        if sign.words == "-":
            number = self.token if self.token.kind == "number" else None
            inner = self.expression(BINDING["negate"])
            span = Span(sign.span.start, inner.span.end)
            if number is not None and isinstance(inner, Number):
                return Number(-number.value, number.words, span)  # -20 [degC] is a temperature, not a negated one
            return Negate(inner, span)
        if sign.words == "not":
            inner = self.expression(BINDING["not"] - 1)
            return Not(inner, Span(sign.span.start, inner.span.end))
        if sign.words == "+":
            raise FormulaError(sign.span, "a + needs a value before it", "leave it out")
        raise FormulaError(sign.span, f"a value is needed before {sign.words}")

    def raised(self, base: Expr) -> Expr:
        """power: operand `^` [`-`] whole number from 0 to 4"""
        start = self.token.span.start
        negative = self.is_sign("-")
        if negative:
            self.take()
        token = self.take()
        span = Span(start, token.span.end)
        if token.kind != "number":
            raise FormulaError(span, "an exponent is a plain whole number", "write it out, as in x^2")
        if token.words:
            raise FormulaError(span, "an exponent has no unit")
        if token.value == 0.5:
            raise FormulaError(span, "an exponent is a whole number", "write sqrt(x) for the square root")
        if token.value != int(token.value) or token.value > LARGEST_POWER:
            raise FormulaError(span, f"an exponent is a whole number from -{LARGEST_POWER} to {LARGEST_POWER}")
        if self.is_sign("^"):
            raise FormulaError(self.token.span, "powers are not chained", "write (x^2)^2")
        exponent = Number(-token.value if negative else token.value, "", span)
        return Arithmetic("^", base, exponent, Span(base.span.start, span.end))

    def call(self, name: Token) -> Expr:
        """call: name `(` [ expression { `,` expression } ] `)`"""
        opening = self.take()
        arguments: list[Expr] = []
        while not self.is_sign(")"):
            if arguments:
                if not self.is_sign(","):
                    raise FormulaError(opening.span, "this ( is not closed", "write ) after the last argument")
                self.take()
            if self.token.kind == "end" or self.is_sign(")") or self.is_sign(","):
                raise FormulaError(self.token.span, "an argument is missing here")
            arguments.append(self.expression(0))
        end = self.take().span.end
        return Call(name.words, with_references(name.words, arguments), Span(name.span.start, end))


def join(left: Expr, sign: Token, right: Expr) -> Expr:
    """The node of an operator between two values."""
    span = Span(left.span.start, right.span.end)
    if sign.words in ARITHMETIC:
        return Arithmetic(ARITHMETIC[sign.words], left, right, span)
    if sign.words in COMPARISON:
        return Comparison(COMPARISON[sign.words], left, right, span)
    return Logic(LOGIC[sign.words], left, right, span)


def with_references(function: str, arguments: list[Expr]) -> tuple[Expr, ...]:
    """The arguments, with names of tables, paths and columns told apart from names of values."""
    known = FUNCTIONS.get(function)
    if known is None:
        return tuple(arguments)
    found: list[Expr] = []
    for argument, parameter in zip(arguments, known.places(len(arguments)), strict=True):
        match argument, parameter.wants:
            case Name(), "table" | "path" | "column":
                found.append(Reference(argument.id, parameter.wants, argument.span))
            case Text(), "column":
                found.append(Reference(argument.value, "column", argument.span))
            case _:
                found.append(argument)
    return tuple(found)
