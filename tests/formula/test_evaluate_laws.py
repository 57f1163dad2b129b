"""Values: never infinite, not a number or complex, whatever the formula; the fast way and the careful way agree."""

from math import isfinite

from hypothesis import given, settings
from hypothesis import strategies as st

from runner.formula.evaluate import evaluate, ready
from runner.formula.fault import Fault
from runner.formula.scope import EMPTY
from runner.formula.syntax import parse
from tests.formula.strategies import FORMULAS, NAMES
from tests.formula.vocabulary import tree

ANY_VALUES = st.fixed_dictionaries(
    dict.fromkeys(NAMES, st.one_of(st.floats(-1e3, 1e3), st.floats(allow_nan=False, allow_infinity=False)))
)


@settings(max_examples=400, deadline=None)
@given(FORMULAS, ANY_VALUES)
def test_a_formula_has_a_finite_value_or_a_fault_with_its_columns(text: str, values: dict[str, float]) -> None:
    expr = parse(text)
    if isinstance(expr, Fault):
        return
    found = evaluate(expr, values, EMPTY)
    if isinstance(found, Fault):
        assert 0 <= found.start < found.end <= len(text)
        assert found.message
    else:
        assert isinstance(found, float | int)
        assert isfinite(found)


@settings(max_examples=400, deadline=None)
@given(FORMULAS, ANY_VALUES)
def test_the_fast_way_gives_the_careful_value(text: str, values: dict[str, float]) -> None:
    expr = parse(text)
    if isinstance(expr, Fault):
        return
    careful = evaluate(expr, values, EMPTY)
    if not isinstance(careful, Fault):
        assert ready(expr, EMPTY)(values) == careful


@given(st.dictionaries(st.sampled_from(NAMES), st.sampled_from([float("inf"), float("nan"), "text", True]), max_size=3))
def test_values_that_do_not_fit_give_a_fault_and_never_an_error(values: dict[str, float | str | bool]) -> None:
    for text in ("a + b * c", "-a", "a < b", "sqrt(a)", "min(a, b)", "round(a, b)", "not a", "if(a < b, a, c)", "a^2"):
        found = evaluate(tree(text), values, EMPTY)
        assert isinstance(found, Fault | float | str | bool | int)
        if isinstance(found, float):
            assert isfinite(found)


def test_a_value_that_is_not_known_is_named() -> None:
    found = evaluate(tree("2 * roll_mass + 1"), {}, EMPTY)
    assert found == Fault(4, 13, "roll_mass is not known yet")


def test_the_branch_that_is_not_chosen_is_not_worked_out() -> None:
    assert evaluate(tree("if(a == 0, 7, 1 / a)"), {"a": 0.0}, EMPTY) == 7.0
    assert evaluate(tree("a == 0 or 1 / a > 2"), {"a": 0.0}, EMPTY) is True
    assert evaluate(tree("a != 0 and 1 / a > 2"), {"a": 0.0}, EMPTY) is False


def test_rounding_is_away_from_zero_and_blind_to_float_noise() -> None:
    """Rule B of ISO 80000-1, annex B (from memory): halves go to the larger magnitude."""
    cases = [
        ("round(2.5)", 3), ("round(-2.5)", -3), ("round(0.15, 0.1)", 0.2), ("ceil(0.6000000000000001, 0.1)", 0.6),
        ("floor(0.7 / 0.1)", 7), ("ceil(3.0000001)", 4), ("floor(-0.5)", -1), ("ceil(-0.5)", 0), ("round(7, 5)", 5),
    ]  # fmt: skip
    for text, expected in cases:
        found = evaluate(tree(text), {}, EMPTY)
        assert isinstance(found, float | int)
        assert abs(found - expected) < 1e-12, (text, found)
