"""Formulas in a normal form, so that only what they mean is compared: blanks, brackets, the order of sums and products,
and the units of numbers make no difference.

A formula is a sum of terms, each a number times powers of parts that are no sums. Nothing is cancelled that could be zero,
since a formula without a result is none that has one.
"""

from functools import lru_cache
from typing import NamedTuple, TypeAlias, assert_never

from runner.formula.evaluate import si_of
from runner.formula.expr import (
    Arithmetic,
    ArithmeticSign,
    Call,
    Comparison,
    ComparisonSign,
    Expr,
    Logic,
    Name,
    Negate,
    Not,
    Number,
    Reference,
    Span,
    Text,
)
from runner.procedure.digest import sha256_of

Key: TypeAlias = tuple[object, ...]
"""What a part is, without its place in the text."""

NOWHERE = Span(0, 0)
ONE = Number(1.0, "", NOWHERE)
SAME = 1e-12
"""Share up to which two numbers are the same: units are converted in floats."""

LONGEST_KEY = 400
"""Characters of a key that is kept as it is."""

MIRRORED: dict[ComparisonSign, ComparisonSign] = {">": "<", ">=": "<=", "<": "<", "<=": "<=", "==": "==", "!=": "!="}


class Power(NamedTuple):
    """A part and its exponent."""

    key: Key
    exponent: float
    part: Expr


class Term(NamedTuple):
    """A number times powers, sorted by what their parts are."""

    factor: float
    powers: tuple[Power, ...]


Terms: TypeAlias = dict[Key, Term]


@lru_cache(maxsize=4096)
def key_of(expr: Expr) -> Key:
    """What a formula is: two formulas with the same key are the same."""
    return short(long_key(expr))


def short(key: Key) -> Key:
    """A key that does not grow with what is below: a long one becomes its digest, since the same part may stand in many terms."""
    text = repr(key)
    return key if len(text) <= LONGEST_KEY else ("digest", sha256_of(text.encode()))


def long_key(expr: Expr) -> Key:
    """A key made of the keys of the parts."""
    match expr:
        case Number():
            return ("number", rounded(si_of(expr)))
        case Text():
            return ("text", expr.value)
        case Name():
            return ("name", expr.id)
        case Reference():
            return (expr.to, expr.id)
        case Not():
            return ("not", key_of(expr.operand))
        case Comparison():
            mirrored = expr.op in (">", ">=")
            left, right = (expr.right, expr.left) if mirrored else (expr.left, expr.right)
            parts = (key_of(left), key_of(right))
            return (MIRRORED[expr.op], *(sorted(parts, key=repr) if expr.op in ("==", "!=") else parts))
        case Logic():
            return (expr.op, *sorted({key_of(expr.left), key_of(expr.right)}, key=repr))
        case Call():
            arguments = tuple(map(key_of, expr.arguments))
            return (expr.function, *(sorted(arguments, key=repr) if expr.function in ("min", "max") else arguments))
        case Negate() | Arithmetic():
            terms = terms_of(expr)
            if len(terms) == 1:
                (term,) = terms.values()
                if term.factor == 1.0 and len(term.powers) == 1 and term.powers[0].exponent == 1.0:
                    return term.powers[0].key
            return ("sum", *sorted(((key, rounded(term.factor)) for key, term in terms.items()), key=repr))
        case _:
            assert_never(expr)


def rounded(number: float) -> float:
    """A number without the noise of its conversion."""
    return float(f"{number:.12g}") + 0.0


@lru_cache(maxsize=4096)
def terms_of(expr: Expr) -> Terms:
    """A formula as a sum of terms; terms whose factors cancel are gone."""
    match expr:
        case Number():
            return gathered([Term(si_of(expr), ())])
        case Negate():
            return scaled(terms_of(expr.operand), -1.0)
        case Arithmetic(op="+"):
            return added(terms_of(expr.left), terms_of(expr.right))
        case Arithmetic(op="-"):
            return added(terms_of(expr.left), scaled(terms_of(expr.right), -1.0))
        case Arithmetic(op="*"):
            return product(expr, terms_of(expr.left), terms_of(expr.right))
        case Arithmetic(op="/"):
            below = terms_of(expr.right)
            if len(below) == 1:
                (term,) = below.values()
                if term.factor:
                    powers = tuple(power._replace(exponent=-power.exponent) for power in term.powers)
                    return product(expr, terms_of(expr.left), gathered([Term(1.0 / term.factor, powers)]))
            return part_of(Arithmetic("/", expr.left, expr.right, NOWHERE))
        case Arithmetic(op="^", right=Number() as exponent):
            return raised(expr, si_of(exponent))
        case _:
            return part_of(expr)


def raised(expr: Arithmetic, exponent: float) -> Terms:
    """A power: of a product of whole exponents part by part, of a sum as it stands."""
    below = terms_of(expr.left)
    if len(below) == 1 and exponent == int(exponent) and 0 < exponent <= 6:
        (term,) = below.values()
        powers = tuple(power._replace(exponent=power.exponent * exponent) for power in term.powers)
        return gathered([Term(term.factor**exponent, powers)])
    return part_of(expr, exponent, expr.left) if len(below) > 1 else part_of(expr)


def part_of(expr: Expr, exponent: float = 1.0, below: Expr | None = None) -> Terms:
    """A part that is no sum of others."""
    part = expr if below is None else below
    match part:
        case Arithmetic(op=op) if below is None:
            key: Key = short((op, key_of(part.left), key_of(part.right)))
        case _:
            key = key_of(part)
    return gathered([Term(1.0, (Power(key, exponent, part),))])


def product(expr: Expr, left: Terms, right: Terms) -> Terms:
    """Terms times terms; two sums stay a part, so that nothing grows without end."""
    if len(left) > 1 and len(right) > 1:
        assert isinstance(expr, Arithmetic)
        one, other = key_of(expr.left), key_of(expr.right)
        key = short((expr.op, *(sorted((one, other), key=repr) if expr.op == "*" else (one, other))))
        return gathered([Term(1.0, (Power(key, 1.0, expr),))])
    return gathered(
        [Term(a.factor * b.factor, multiplied(a.powers, b.powers)) for a in left.values() for b in right.values()]
    )


def multiplied(one: tuple[Power, ...], other: tuple[Power, ...]) -> tuple[Power, ...]:
    """Powers with the same part put together; where dividing would cancel a part, it stays with both its powers."""
    found: dict[Key, Power] = {}
    for power in (*one, *other):
        key = (power.key, power.exponent > 0)
        known = found.get(key)
        found[key] = power if known is None else power._replace(exponent=known.exponent + power.exponent)
    return tuple(sorted(found.values(), key=lambda power: repr((power.key, power.exponent))))


def gathered(terms: list[Term]) -> Terms:
    """Terms with the same powers put together."""
    found: Terms = {}
    for term in terms:
        key = tuple((power.key, power.exponent) for power in term.powers)
        known = found.get(key)
        if known is None:
            found[key] = term
            continue
        total = known.factor + term.factor
        if abs(total) <= SAME * max(abs(known.factor), abs(term.factor)):
            del found[key]
        else:
            found[key] = known._replace(factor=total)
    return found


def scaled(terms: Terms, by: float) -> Terms:
    """Every term times a number."""
    return {key: term._replace(factor=term.factor * by) for key, term in terms.items()}


def added(one: Terms, other: Terms) -> Terms:
    """A sum."""
    return gathered([*one.values(), *other.values()])


def difference(one: Expr, other: Expr) -> Expr:
    """`one - other` as a formula over SI numbers, with all that is in both left out."""
    terms = [written(term) for term in added(terms_of(one), scaled(terms_of(other), -1.0)).values()]
    total: Expr = terms[0] if terms else Number(0.0, "", NOWHERE)
    for term in terms[1:]:
        total = joined("+", total, term)
    return total


def written(term: Term) -> Expr:
    """A term as a formula."""
    above: Expr = Number(term.factor, "", NOWHERE)
    for power in term.powers:
        exponent = abs(power.exponent)
        part = power.part if exponent == 1.0 else joined("^", power.part, Number(exponent, "", NOWHERE))
        above = joined("*" if power.exponent > 0 else "/", above, part)
    return above


def joined(op: ArithmeticSign, left: Expr, right: Expr) -> Expr:
    """Two formulas with a sign between."""
    return Arithmetic(op, left, right, NOWHERE)


def constant(expr: Expr) -> float | None:
    """The number that a formula without values is; None for any other."""
    terms = terms_of(expr)
    if not terms:
        return 0.0
    return next(iter(terms.values())).factor if set(terms) == {()} else None
