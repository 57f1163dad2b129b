"""The working of a formula: the same tree with numbers in the place of names, as an operator would write it.

Signs are those of paper (×, ≤, ², π). A number with a compound unit is put in parentheses where its own line could be
taken for a sign of the formula.
"""

from collections.abc import Mapping
from typing import assert_never

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
from runner.formula.functions.constants import CONSTANTS
from runner.formula.syntax import BINDING

PRINTED = {"*": "×", "<=": "≤", ">=": "≥", "!=": "≠", "==": "="}
RAISED = str.maketrans("-0123456789", "⁻⁰¹²³⁴⁵⁶⁷⁸⁹")
ALONE = 9
"""How strongly a value without operators binds: more than any operator."""


def explain(expr: Expr, shown: Mapping[str, str]) -> str:
    """The formula with names replaced by what `shown` has for them: "2 × 150 N/m × 1.2 m". Unknown names stay.

    A call that looks into a table or a web path is replaced too where `shown` has its text: nobody could work it out by hand.
    """
    return written(expr, shown)[0]


def text_of(expr: Expr) -> str:
    """The formula as an author writes it, for messages."""
    return authored(expr)[0]


def written(expr: Expr, shown: Mapping[str, str]) -> tuple[str, int]:
    """The working of a node, and how strongly it binds."""
    match expr:
        case Number():
            unit = "" if expr.unit in ("", "1") else f" {expr.unit}"
            return value_text(f"{plain(expr.value)}{unit}")
        case Text():
            return expr.value, ALONE
        case Name():
            if expr.id in CONSTANTS:
                return value_text(CONSTANTS[expr.id].shown)
            return value_text(shown.get(expr.id, expr.id))
        case Reference():
            return expr.id, ALONE
        case Negate():
            return f"-{inside(expr.operand, shown, BINDING['negate'])}", BINDING["negate"]
        case Not():
            return f"not {inside(expr.operand, shown, BINDING['not'])}", BINDING["not"]
        case Arithmetic(op="^"):
            exponent = plain(expr.right.value) if isinstance(expr.right, Number) else ""
            return inside(expr.left, shown, ALONE) + exponent.translate(RAISED), BINDING["^"]
        case Arithmetic() | Comparison() | Logic():
            strength = BINDING[expr.op]
            left = inside(expr.left, shown, strength)
            right = inside(expr.right, shown, strength + (expr.op in ("-", "/")))
            return f"{left} {PRINTED.get(expr.op, expr.op)} {right}", strength
        case Call():
            if looks_away(expr) and (found := shown.get(text_of(expr))) is not None:
                return value_text(found)
            return f"{expr.function}({', '.join(explain(part, shown) for part in expr.arguments)})", ALONE
        case _:
            assert_never(expr)


def looks_away(expr: Call) -> bool:
    """Whether a call looks into a table or a web path."""
    return any(isinstance(part, Reference) for part in expr.arguments)


def value_text(text: str) -> tuple[str, int]:
    """A shown value and how strongly it binds: "150 N/m" like a quotient, "1.2 m" like a product, "-3" like a minus."""
    if text.startswith(("-", "−")):
        return text, BINDING["+"]
    if any(sign in text for sign in "/*·"):
        return text, BINDING["*"]
    return text, BINDING["^"] if " " in text else ALONE


def inside(expr: Expr, shown: Mapping[str, str], least: int) -> str:
    """A part, in parentheses where it binds less strongly than it must."""
    text, strength = written(expr, shown)
    return f"({text})" if strength < least else text


def authored(expr: Expr) -> tuple[str, int]:
    """A node in the language of formulas, and how strongly it binds."""
    match expr:
        case Number():
            unit = f" [{expr.unit}]" if expr.unit else ""
            return f"{plain(expr.value)}{unit}", ALONE if expr.value >= 0 else BINDING["negate"]
        case Text():
            quote = '"' if "'" in expr.value else "'"
            return f"{quote}{expr.value}{quote}", ALONE
        case Name() | Reference():
            return expr.id, ALONE
        case Negate():
            return f"-{bracketed(expr.operand, BINDING['negate'])}", BINDING["negate"]
        case Not():
            return f"not {bracketed(expr.operand, BINDING['not'])}", BINDING["not"]
        case Arithmetic() | Comparison() | Logic():
            strength = BINDING[expr.op]
            stronger = strength + (not isinstance(expr, Logic))
            left = bracketed(expr.left, stronger if expr.op == "^" or isinstance(expr, Comparison) else strength)
            right = authored(expr.right)[0] if expr.op == "^" else bracketed(expr.right, stronger)
            return f"{left}^{right}" if expr.op == "^" else f"{left} {expr.op} {right}", strength
        case Call():
            return f"{expr.function}({', '.join(text_of(part) for part in expr.arguments)})", ALONE
        case _:
            assert_never(expr)


def bracketed(expr: Expr, least: int) -> str:
    """A part in the language of formulas, in parentheses where it binds less strongly than it must."""
    text, strength = authored(expr)
    return f"({text})" if strength < least else text


def plain(value: float) -> str:
    """A number as typed: "4" and not "4.0"."""
    return f"{value:.0f}" if value == int(value) and abs(value) < 1e15 else repr(value)
