"""The normal form of formulas keeps their value, and finds the same in other words. Judge: the evaluator itself."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from runner.formula.evaluate import evaluate
from runner.formula.expr import Arithmetic, ArithmeticSign, Expr, Name, Negate, Number
from runner.formula.scope import EMPTY
from runner.formula.syntax import parse
from runner.lint.diff.normal import NOWHERE, constant, difference, key_of, terms_of, written

NAMES = ("a", "b", "c")


def joined(op: ArithmeticSign, left: Expr, right: Expr) -> Expr:
    return Arithmetic(op, left, right, NOWHERE)


numbers = st.integers(1, 9).map(lambda value: Number(float(value), "", NOWHERE))
leaves = st.one_of(numbers, st.sampled_from(NAMES).map(lambda name: Name(name, NOWHERE)))
formulas = st.recursive(
    leaves,
    lambda parts: st.one_of(
        st.builds(joined, st.sampled_from(["+", "-", "*", "/"]), parts, parts),
        st.builds(lambda part: Negate(part, NOWHERE), parts),
        st.builds(lambda part, power: joined("^", part, Number(float(power), "", NOWHERE)), parts, st.integers(1, 3)),
    ),
    max_leaves=8,
)
values = st.fixed_dictionaries({name: st.floats(0.5, 4.0) for name in NAMES})


def value(expr: Expr, given_values: dict[str, float]) -> float | None:
    found = evaluate(expr, given_values, EMPTY)
    return float(found) if isinstance(found, float | int) else None


@settings(max_examples=300, deadline=None)
@given(formulas, values)
def test_a_formula_and_its_terms_have_one_value(expr: Expr, at: dict[str, float]) -> None:
    plain = value(expr, at)
    total = [value(written(term), at) for term in terms_of(expr).values()]
    if plain is None or None in total or abs(plain) > 1e6:
        return
    size = max([abs(part) for part in total if part is not None] + [abs(plain), 1.0])
    assert math.isclose(sum(part for part in total if part is not None), plain, rel_tol=1e-6, abs_tol=1e-6 * size)


@settings(max_examples=300, deadline=None)
@given(formulas, formulas, values)
def test_formulas_with_one_key_have_one_value(one: Expr, other: Expr, at: dict[str, float]) -> None:
    if key_of(one) == key_of(other):
        first, second = value(one, at), value(other, at)
        if first is not None and second is not None:
            assert math.isclose(first, second, rel_tol=1e-6, abs_tol=1e-6)


@settings(max_examples=200, deadline=None)
@given(formulas, formulas, formulas)
def test_sums_and_products_may_be_turned_round_and_regrouped(a: Expr, b: Expr, c: Expr) -> None:
    assert key_of(joined("+", a, b)) == key_of(joined("+", b, a))
    assert key_of(joined("*", a, b)) == key_of(joined("*", b, a))
    left, right = joined("+", joined("+", a, b), c), joined("+", a, joined("+", b, c))
    off = constant(difference(left, right))
    assert key_of(left) == key_of(right) or (off is not None and abs(off) < 1e-6)


@settings(max_examples=100, deadline=None)
@given(formulas)
def test_a_formula_less_itself_is_nothing(expr: Expr) -> None:
    assert constant(difference(expr, expr)) == 0.0


def tree(text: str) -> Expr:
    found = parse(text)
    assert not hasattr(found, "message"), found
    return found


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("a < b", "b > a"),
        ("a >= b", "b <= a"),
        ("a == 'x' or b == 'y'", "b == 'y' or a == 'x'"),
        ("min(a, b)", "min(b, a)"),
        ("1000 [mm]", "1 [m]"),
        ("a / 2 + a / 2", "a"),
        ("(a + b) * c", "c * a + b * c"),
        ("a * a", "a^2"),
    ],
)
def test_the_same_in_other_words_has_one_key(one: str, other: str) -> None:
    assert key_of(tree(one)) == key_of(tree(other))


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("a < b", "a <= b"),
        ("a - b", "b - a"),
        ("a / b", "b / a"),
        ("a / a", "1"),
        ("1 [mm]", "1 [m]"),
        ("sqrt(a)", "a"),
        ("a and b", "a or b"),
        ("a", "'a'"),
        ("round(a)", "floor(a)"),
    ],
)
def test_what_differs_has_two_keys(one: str, other: str) -> None:
    assert key_of(tree(one)) != key_of(tree(other))


@pytest.mark.parametrize("form", ["(a + {n})", "sqrt(a + {n}) + b", "(a + b / (c + {n}))"])
def test_a_long_product_of_sums_has_few_terms_and_short_keys(form: str) -> None:
    text = "a"
    for number in range(1, 12):
        text = f"({text}) * ({form.format(n=number)}) + {number}"
    terms = terms_of(tree(text))
    assert len(terms) <= 40
    assert len(repr(key_of(tree(text)))) <= 400
