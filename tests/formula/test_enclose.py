"""Bounds are as tight as the issue of a formula deserves, and another interval arithmetic agrees on every operation."""

from math import inf, pi

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from mpmath import iv

from runner.formula.bounds import Box
from runner.formula.enclose import bounds, truths
from runner.formula.evaluate import ready
from runner.formula.interval import Interval, Texts, Truths
from runner.formula.scope import EMPTY, Scope, TableRows
from tests.formula.vocabulary import tree

ROLL: Box = {"a": Interval(0.2, 1.2), "b": Interval(0.076, 0.18), "c": Interval(12e-6, 400e-6)}


@pytest.mark.parametrize(
    ("text", "low", "high"),
    [
        # Rings and lengths of a roll: least and largest at corners worked out by hand.
        ("a^2 - b^2", 0.2**2 - 0.18**2, 1.2**2 - 0.076**2),
        ("(a - b) * (a + b)", 0.2**2 - 0.18**2, 1.2**2 - 0.076**2),
        ("(a^2 - b^2) / (a + b)", 0.2 - 0.18, 1.2 - 0.076),
        ("pi * (a - b) * (a + b) / (4 * c)", pi * 0.0076 / 4 / 400e-6, pi * (1.2**2 - 0.076**2) / 4 / 12e-6),
        ("a / (a + b)", 0.2 / 0.38, 1.2 / 1.276),
        ("a * (1 - a)", -0.24, 0.25),
        ("a * a - a", -0.25, 0.24),
        ("if(a > 0.7, a - b, b - a)", 0.076 - 0.7, 1.2 - 0.076),
    ],
)  # fmt: skip
def test_values_that_stand_twice_are_bounded_to_one_per_cent(text: str, low: float, high: float) -> None:
    found = bounds(tree(text), ROLL, EMPTY)
    assert isinstance(found, Interval)
    room = 0.01 * (high - low)
    noise = 1e-12 * max(abs(low), abs(high))
    assert low - room <= found.low <= low + noise
    assert high - noise <= found.high <= high + room


def test_choices_are_taken_one_by_one_where_they_stand_twice() -> None:
    """For one choice low and high belong to the same row, so their difference is 5 or 50 and never 95."""
    rows = TableRows(("s", "low", "high"), (("x", 5.0, 10.0), ("y", 50.0, 100.0)))
    found = bounds(
        tree("lookup(t, s, high) - lookup(t, s, low)"),
        {"s": Texts(frozenset("xy"))},
        Scope({"t": rows}, {}),
    )
    assert found == Interval(5.0, 50.0)


def test_a_condition_over_a_value_that_stands_twice_is_decided() -> None:
    assert truths(tree("a - a^2 / 2 > 0.17"), {"a": Interval(0.2, 1.2)}, EMPTY) == Truths(True, False)
    assert truths(tree("a - a^2 / 2 > 0.4"), {"a": Interval(0.2, 1.2)}, EMPTY) == Truths(True, True)


BAND = st.tuples(st.floats(-8, 8), st.floats(0, 8)).map(lambda ends: Interval(ends[0], ends[0] + ends[1]))
POSITIVE = st.tuples(st.floats(0.01, 8), st.floats(0, 8)).map(lambda ends: Interval(ends[0], ends[0] + ends[1]))
JUDGED = {
    "a + b": (BAND, lambda a, b: a + b),
    "a - b": (BAND, lambda a, b: a - b),
    "a * b": (BAND, lambda a, b: a * b),
    "a / b": (POSITIVE, lambda a, b: a / b),
    "a^2": (BAND, lambda a, _: a**2),
    "a^3": (BAND, lambda a, _: a**3),
    "a^-2": (POSITIVE, lambda a, _: 1 / a**2),
    "abs(a)": (BAND, lambda a, _: abs(a)),
    "sqrt(a)": (POSITIVE, lambda a, _: iv.sqrt(a)),
    "exp(a)": (BAND, lambda a, _: iv.exp(a)),
    "log(a)": (POSITIVE, lambda a, _: iv.log(a)),
    "sin(a * 1 [rad])": (BAND, lambda a, _: iv.sin(a)),
    "cos(a * 1 [rad])": (BAND, lambda a, _: iv.cos(a)),
}


@pytest.mark.parametrize("text", sorted(JUDGED))
@given(data=st.data())
def test_mpmath_agrees_on_every_operation(text: str, data: st.DataObject) -> None:
    """The judge is mpmath.iv: each of our results holds its own and is no wider than it but for rounding."""
    band, judge = JUDGED[text]
    a, b = data.draw(band), data.draw(band)
    found = bounds(tree(text), {"a": a, "b": b}, EMPTY)
    wanted = judge(iv.mpf([a.low, a.high]), iv.mpf([b.low, b.high]))
    low, high = float(wanted.a), float(wanted.b)
    assume(abs(low) < inf and abs(high) < inf)
    assert isinstance(found, Interval)
    room = 1e-12 * max(1e-12, abs(low), abs(high))
    assert found.low == pytest.approx(low, abs=room)
    assert found.high == pytest.approx(high, abs=room)
    inner_low, inner_high = low + room, high - room
    assert inner_low > inner_high or (found.low <= inner_low and found.high >= inner_high)


@given(POSITIVE, POSITIVE, st.floats(0, 1), st.floats(0, 1))
def test_a_judge_of_the_whole_formula_is_never_narrower(a: Interval, b: Interval, x: float, y: float) -> None:
    """What the formula gives at any point lies within our bounds, and those within what mpmath gives uncut."""
    text = "(a^2 - b^2) / (a + b) + sqrt(a * b)"
    found = bounds(tree(text), {"a": a, "b": b}, EMPTY)
    one, two = iv.mpf([a.low, a.high]), iv.mpf([b.low, b.high])
    wide = (one**2 - two**2) / (one + two) + iv.sqrt(one * two)
    assert isinstance(found, Interval)
    assert float(wide.a) - 1e-9 <= found.low
    assert found.high <= float(wide.b) + 1e-9
    point = {"a": min(a.high, a.low + x * (a.high - a.low)), "b": min(b.high, b.low + y * (b.high - b.low))}
    assert found.low <= float(ready(tree(text), EMPTY)(point)) <= found.high
