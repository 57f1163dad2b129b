"""Bounds: every value lies within them, they are exact where they can be, and what has no value somewhere is unbounded."""

from math import radians

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from mpmath import iv

from runner.formula.bounds import Box
from runner.formula.dimension import ANGLE, NUMBER
from runner.formula.enclose import bounds, truths
from runner.formula.evaluate import evaluate
from runner.formula.fault import Fault
from runner.formula.functions import FUNCTIONS
from runner.formula.interval import Interval, Texts, Truths, Unbounded
from runner.formula.scope import EMPTY, PathRoller, Scope, TableRows
from runner.formula.syntax import parse
from runner.trade.web_path import VERTICAL
from tests.formula.strategies import BOXES, FORMULAS, SHARES, sample
from tests.formula.trade_ranges import TRADE_RANGES, WHOLE
from tests.formula.vocabulary import tree


@settings(max_examples=300, deadline=None)
@given(FORMULAS, BOXES, st.lists(SHARES, min_size=1, max_size=8))
def test_every_value_lies_within_the_bounds(text: str, box: dict[str, Interval], points: list[list[float]]) -> None:
    expr = parse(text)
    if isinstance(expr, Fault):
        return
    found = bounds(expr, box, EMPTY)
    for shares in points:
        value = evaluate(expr, sample(box, shares), EMPTY)
        if isinstance(found, Unbounded):
            assert found.message
            assert found.start < found.end <= len(text)
        elif not isinstance(value, Fault):
            assert found.low <= value <= found.high  # type: ignore[operator]
        else:
            raise AssertionError(f"bounded, but {value} at {sample(box, shares)}")


@settings(max_examples=150, deadline=None)
@given(
    FORMULAS,
    FORMULAS,
    st.sampled_from(["<", "<=", ">", ">=", "==", "!="]),
    BOXES,
    st.lists(SHARES, min_size=1, max_size=8),
)
def test_every_truth_is_among_the_possible_ones(
    left: str, right: str, sign: str, box: dict[str, Interval], points: list[list[float]]
) -> None:
    expr = parse(f"({left}) {sign} ({right})")
    if isinstance(expr, Fault):
        return
    found = truths(expr, box, EMPTY)
    if isinstance(found, Unbounded):
        return
    for shares in points:
        value = evaluate(expr, sample(box, shares), EMPTY)
        if not isinstance(value, Fault):
            assert found.true if value else found.false


NAMES = ("a", "b", "c", "d", "e")
RANGES: dict[str, list[tuple[float, float]]] = {
    **TRADE_RANGES,
    "log": [(1e-6, 100)],
    "sqrt": [(0, 100)],
    "round": [(-20, 20), (0.01, 5)],
    "ceil": [(-20, 20), (0.01, 5)],
    "floor": [(-20, 20), (0.01, 5)],
}
"""Where the arguments of a function are drawn from; elsewhere -20 to 20."""
SPECIAL = {"if", "lookup", "interpolate", "last", "path_length", "span_length", "wrap_angle", "bar_factor", "web_slips", "sling_mode"}  # fmt: skip
"""Functions of other things than numbers, each with a law of its own below."""


@pytest.mark.parametrize("name", sorted(FUNCTIONS.keys() - SPECIAL))
@settings(max_examples=60, deadline=None)
@given(data=st.data())
def test_the_value_of_each_function_lies_within_its_bounds(name: str, data: st.DataObject) -> None:
    function = FUNCTIONS[name]
    count = 3 if function.most is None else function.most
    ranges = RANGES.get(name, [(-20, 20)] * count)
    box = {}
    for argument, (low, high) in zip(NAMES, ranges, strict=False):
        a, b = sorted(data.draw(st.tuples(st.floats(low, high), st.floats(low, high))))
        if name in WHOLE and argument == NAMES[WHOLE[name]]:
            a = b = float(round(b))
        box[argument] = Interval(a, b)
    expr = tree(f"{name}({', '.join(box)})")
    found = bounds(expr, box, EMPTY)
    for _ in range(5):
        values = sample(box, data.draw(st.lists(st.floats(0, 1), min_size=5, max_size=5)))
        value = evaluate(expr, values, EMPTY)
        if isinstance(found, Interval):
            assert isinstance(value, float | int), (value, values)
            assert found.low <= value <= found.high
    corner = evaluate(expr, {key: part.low for key, part in box.items()}, EMPTY)
    if name not in ("tan", "exp") and not isinstance(corner, Fault):
        assert isinstance(found, Interval), found


@given(st.floats(0.1, 10), st.floats(0.1, 10), st.floats(0.1, 3))
def test_another_interval_arithmetic_agrees(low: float, width: float, other: float) -> None:
    """mpmath.iv as the judge. Names that stand twice are cut along, so ours may be narrower, and never wider."""
    box = {"a": Interval(low, low + width), "b": Interval(other, other * 2), "c": Interval(-1.0, 2.0)}
    found = bounds(tree("sqrt(a) * exp(c) / b - log(a + b) / 3"), box, EMPTY)
    a, b, c = (iv.mpf([part.low, part.high]) for part in box.values())
    judge = iv.sqrt(a) * iv.exp(c) / b - iv.log(a + b) / 3
    assert isinstance(found, Interval)
    assert found.low >= float(judge.a) - 1e-9
    assert found.high <= float(judge.b) + 1e-9


@pytest.mark.parametrize(
    ("text", "low", "high"),
    [
        ("a", 1, 3), ("a + 1", 2, 4), ("a * 0", 0, 0), ("-a", -3, -1), ("c^2", 0, 4), ("abs(c)", 0, 2), ("sqrt(a - 1)", 0, 2**0.5),
        ("if(a > 2, a, 0)", 0, 3), ("min(a, 2)", 1, 2), ("c^3", -1, 8), ("sin(a * 1 [rad])", 0.1411, 1), ("last(a)", 1, 3),
        ("if(c > 0, 1 / (c + 1), 1)", 1 / 3, 1), ("a^-1", 1 / 3, 1),
    ],
)  # fmt: skip
def test_bounds_are_tight_where_a_name_stands_once(text: str, low: float, high: float) -> None:
    found = bounds(tree(text), {"a": Interval(1.0, 3.0), "c": Interval(-1.0, 2.0)}, EMPTY)
    assert isinstance(found, Interval)
    assert found.low == pytest.approx(low, abs=1e-4)
    assert found.high == pytest.approx(high, abs=1e-4)


def test_zero_and_plain_limits_are_met_exactly() -> None:
    """A limit of >= 0 must not be called broken by a unit in the last place."""
    box = {"a": Interval(0.0, 1.3), "b": Interval(0.0, 2.0), "t": Interval(1e-5, 1e-4), "d": Interval(0.1, 0.1)}
    for text in (
        "a * b",
        "a + b",
        "a / 2",
        "a^2 * b",
        "sqrt(a)",
        "abs(a)",
        "roll_length(d + a, d, t)",
        "max(a - 1, 0)",
    ):
        found = bounds(tree(text), box, EMPTY)
        assert isinstance(found, Interval)
        assert found.low == 0.0, text
    same = bounds(tree("a * 1 + 0"), box, EMPTY)
    assert same == Interval(0.0, 1.3)


def test_cutting_the_box_narrows_what_stands_twice() -> None:
    box = {"a": Interval(1.0, 3.0)}
    plain = bounds(tree("a - a"), box, EMPTY)
    assert isinstance(plain, Interval)
    assert plain.high - plain.low < 0.1
    assert isinstance(bounds(tree("1 / (a * a - 0.5 * a)"), box, EMPTY), Interval)


@pytest.mark.parametrize(
    ("text", "words", "start", "end"),
    [
        ("1 + 2 / (a - 2)", "divide by zero", 4, 15),
        ("sqrt(a - 2)", "square root", 0, 11),
        ("log(a - 1)", "logarithm", 0, 10),
        ("tan(a * 1 [rad])", "right angle", 0, 16),
        ("exp(a * 1000)", "too large", 0, 13),
        ("(a - 2)^-1", "divide by zero", 0, 10),
        ("a + nothing", "nothing may be anything", 4, 11),
        ("roll_length(a, 2, 0.1)", "smaller than its core", 0, 22),
        ("round(1, a - 1)", "step", 0, 15),
    ],
)
def test_what_has_no_value_somewhere_says_why_and_where(text: str, words: str, start: int, end: int) -> None:
    found = bounds(tree(text), {"a": Interval(1.0, 3.0)}, EMPTY)
    assert isinstance(found, Unbounded)
    assert words in found.message
    assert (found.start, found.end) == (start, end)


def test_a_condition_that_rules_a_value_out_lets_the_rest_be_bounded() -> None:
    box: Box = {"a": Interval(0.0, 3.0), "s": Texts(frozenset(("x", "y")))}
    assert isinstance(bounds(tree("if(a >= 1, 1 / a, 0)"), box, EMPTY), Interval)
    assert isinstance(bounds(tree("if(not (a < 1), 1 / a, 0)"), box, EMPTY), Interval)
    assert isinstance(bounds(tree("if(1 <= a and a < 2, 1 / a, 0)"), box, EMPTY), Interval)
    assert isinstance(bounds(tree("if(a == 0 or s == 'x', 0, a)"), box, EMPTY), Interval)
    assert truths(tree("a >= 1 and 1 / a > 0"), box, EMPTY) == Truths(True, True)
    assert truths(tree("s == 'z'"), box, EMPTY) == Truths(False, True)
    assert truths(tree("s != 'x'"), box, EMPTY) == Truths(True, True)
    assert truths(tree("a >= 0"), box, EMPTY) == Truths(True, False)


TABLE = TableRows(("s", "x", "y"), (("u", 1.0, 10.0), ("v", 2.0, 5.0), ("v", 3.0, 20.0)))
CURVE = TableRows(("x", "y"), ((3.0, 7.0), (1.0, 10.0), (2.0, 5.0)))


def test_bounds_of_a_lookup_are_those_of_the_rows_it_may_find() -> None:
    scope = Scope({"t": TABLE}, {})
    both: Box = {"s": Texts(frozenset("uv")), "x": Interval(2.0, 2.0)}
    assert bounds(tree("lookup(t, s, y)"), both, scope) == Interval(5.0, 10.0)  # of two equal keys the first row counts
    assert bounds(tree("lookup(t, 'v', x, y)"), both, scope) == Interval(5.0, 5.0)
    assert isinstance(bounds(tree("lookup(t, s, y)"), {"s": Texts(frozenset("uw"))}, scope), Unbounded)
    assert isinstance(bounds(tree("lookup(t, s, y)"), {"s": Texts(None)}, scope), Unbounded)
    assert isinstance(bounds(tree("lookup(t, 'v', x, y)"), {"x": Interval(2.0, 2.5)}, scope), Unbounded)
    assert isinstance(bounds(tree("lookup(t, s, x, y)"), both, scope), Unbounded)  # u with 2 has no row, each alone has


@given(st.floats(1, 3), st.floats(1, 3), st.floats(0, 1))
def test_bounds_of_an_interpolation_hold_its_values(a: float, b: float, share: float) -> None:
    scope = Scope({"t": CURVE}, {})
    box = {"x": Interval(min(a, b), max(a, b))}
    found = bounds(tree("interpolate(t, x, y)"), box, scope)
    value = evaluate(tree("interpolate(t, x, y)"), sample(box, [share]), scope)
    assert isinstance(found, Interval)
    assert isinstance(value, float)
    assert found.low <= value <= found.high
    assert isinstance(bounds(tree("interpolate(t, x, y)"), {"x": Interval(0.9, 2.0)}, scope), Unbounded)


def roller(
    name: str, x: str, y: str, diameter: str, side: str,
    moves: float | None = None, travel: tuple[float, float] | None = None,
) -> PathRoller:  # fmt: skip
    return PathRoller(name, tree(x), tree(y), tree(diameter), side, moves, travel)


WEB = (
    roller("roll", "0", "0.9", "d", "over"),
    roller("entry", "0.9", "0.3", "0.1", "under"),
    roller("bar", "1.25 + shift", "h", "0.12", "over", VERTICAL, (-0.05, 0.1)),
    roller("exit", "1.6", "0.3", "0.1", "under"),
)
FOUR_SHARES = st.lists(st.floats(0, 1), min_size=4, max_size=4)
SLANTED = (*WEB[:2], WEB[2]._replace(moves=radians(70)), WEB[3])
WEBS = Scope({}, {"web": WEB, "slanted": SLANTED})
WEB_FORMULAS = [
    "path_length(web)", "span_length(web, 'roll', 'bar')", "wrap_angle(web, 'entry')", "wrap_angle(web, 'bar')",
    "bar_factor(web, 'bar')", "bar_factor(web, 'entry')", "path_take_up(web, 'bar')",
    "path_length_at(web, 'bar', 0)", "bar_factor_at(web, 'bar', 1)", "wrap_angle(slanted, 'bar')",
    "bar_factor(slanted, 'bar')", "bar_factor_at(slanted, 'bar', share)", "path_length_at(slanted, 'bar', share)",
]  # fmt: skip


@pytest.mark.parametrize("text", WEB_FORMULAS)
@settings(max_examples=25, deadline=None)
@given(data=st.data())
def test_bounds_of_a_web_path_hold_its_values(text: str, data: st.DataObject) -> None:
    low = data.draw(st.tuples(st.floats(0.2, 1.1), st.floats(0.6, 0.8), st.floats(-0.1, 0.1)))
    wide = data.draw(st.tuples(st.floats(0, 0.3), st.floats(0, 0.1), st.floats(0, 0.02)))
    box = {name: Interval(a, a + b) for name, a, b in zip(("d", "h", "shift"), low, wide, strict=True)}
    box["share"] = Interval(*sorted(data.draw(st.tuples(st.floats(0, 1), st.floats(0, 1)))))
    scope = WEBS
    expr = tree(text)
    found = bounds(expr, box, scope)
    for _ in range(4):
        value = evaluate(expr, sample(box, data.draw(FOUR_SHARES)), scope)
        if isinstance(found, Interval) and not isinstance(value, Fault):
            assert isinstance(value, float)
            assert found.low <= value <= found.high
        assert not (isinstance(found, Interval) and isinstance(value, Fault)), value


@pytest.mark.parametrize("text", WEB_FORMULAS)
def test_bounds_of_a_web_path_are_useful(text: str) -> None:
    """Over rolls of 200 to 1200 mm the bounds are no more than a tenth wider than the values themselves."""
    scope = WEBS
    box = {"d": Interval(0.2, 1.2), "h": Interval(0.7, 0.7), "shift": Interval(0.0, 0.0), "share": Interval(0.5, 0.5)}
    found = bounds(tree(text), box, scope)
    assert isinstance(found, Interval)
    values = [
        evaluate(tree(text), {"d": 0.2 + 0.01 * k, "h": 0.7, "shift": 0.0, "share": 0.5}, scope) for k in range(101)
    ]
    floats = [value for value in values if isinstance(value, float)]
    assert len(floats) == len(values)
    room = 0.1 * max(floats)
    assert found.low >= min(floats) - room
    assert found.high <= max(floats) + room


def test_a_path_that_may_overlap_or_turn_otherwise_is_unbounded() -> None:
    scope = Scope({}, {"web": WEB})
    wide = bounds(
        tree("path_length(web)"), {"d": Interval(0.2, 2.4), "h": Interval(0.7, 0.7), "shift": Interval(0, 0)}, scope
    )
    assert isinstance(wide, Unbounded)
    assert "may overlap" in wide.message
    assert (wide.start, wide.end) == (12, 15)
    far = bounds(
        tree("path_length(web)"), {"d": Interval(1, 1), "h": Interval(0.7, 0.7), "shift": Interval(-2, 2)}, scope
    )
    assert isinstance(far, Unbounded)


def test_the_right_angle_is_where_the_tangent_ends() -> None:
    assert FUNCTIONS["tan"].parameters[0].dimension == ANGLE
    assert FUNCTIONS["log"].parameters[0].dimension == NUMBER
    good = bounds(tree("tan(a)"), {"a": Interval(radians(-80), radians(80))}, EMPTY)
    assert isinstance(good, Interval)
    assert isinstance(bounds(tree("tan(a)"), {"a": Interval(radians(80), radians(100))}, EMPTY), Unbounded)
