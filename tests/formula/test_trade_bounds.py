"""The trade's functions over boxes: what is true at fifty digits lies within the bounds, and their ends are reached.

The judge is mpmath, with each formula written a second time from the books. `corners` is right only for a function that
rises or falls all the way in each argument; these laws look for a point inside the box that tells otherwise.
"""

from itertools import product

import mpmath
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from runner.formula.enclose import bounds, truths
from runner.formula.evaluate import evaluate
from runner.formula.fault import Fault
from runner.formula.functions import FUNCTIONS
from runner.formula.functions.bars import BARS
from runner.formula.functions.brakes import BRAKES
from runner.formula.functions.lifts import LIFTS
from runner.formula.functions.rolls import ROLLS
from runner.formula.functions.shafts import SHAFTS
from runner.formula.interval import Interval, Texts, Truths, Unbounded
from runner.formula.scope import EMPTY
from runner.trade.sling import MODE_FACTORS
from tests.formula.trade_judges import JUDGES
from tests.formula.trade_ranges import TRADE_RANGES, WHOLE
from tests.formula.vocabulary import tree

TRADE = [function.name for function in (*ROLLS, *BARS, *BRAKES, *LIFTS, *SHAFTS)]
ARGUMENTS = ("a", "b", "c", "d", "e")
CANCELS = {"mass_to_hang", "mass_on_lever", "tension_of_mass", "reserve_on_hook", "disagreement", "taper_linear"}
"""Functions whose result may be a small difference of large things, so that its own size says nothing of its rounding."""


def test_every_function_of_the_trade_has_a_range_and_a_judge() -> None:
    assert set(TRADE) == TRADE_RANGES.keys() | {"sling_mode"}
    assert set(TRADE) == JUDGES.keys() | {"sling_mode", "web_slips"}


def drawn(name: str, count: int, data: st.DataObject) -> list[Interval]:
    """A box for the first `count` arguments of a function; what counts things is one whole number."""
    box = []
    for place, (low, high) in enumerate(TRADE_RANGES[name][:count]):
        a, b = sorted(data.draw(st.tuples(st.floats(low, high), st.floats(low, high))))
        if WHOLE.get(name) == place:
            a = b = float(round(b))
        box.append(Interval(a, b))
    return box


def called(name: str, count: int) -> str:
    return f"{name}({', '.join(ARGUMENTS[:count])})"


def counts(name: str) -> range:
    function = FUNCTIONS[name]
    return range(function.fewest, (function.most or 4) + 1)


@pytest.mark.parametrize("name", JUDGES)
@settings(max_examples=40, deadline=None)
@given(data=st.data())
def test_what_is_true_at_fifty_digits_lies_within_the_bounds(name: str, data: st.DataObject) -> None:
    count = data.draw(st.sampled_from(counts(name)))
    box = drawn(name, count, data)
    expr = tree(called(name, count))
    found = bounds(expr, dict(zip(ARGUMENTS, box, strict=False)), EMPTY)
    assert isinstance(found, Interval), found
    for _ in range(4):
        point = [min(max(a, a + (b - a) * data.draw(st.floats(0, 1))), b) for a, b in box]
        value = evaluate(expr, dict(zip(ARGUMENTS, point, strict=False)), EMPTY)
        assert isinstance(value, float), value
        assert found.low <= value <= found.high
        with mpmath.workdps(50):
            true = JUDGES[name](*(mpmath.mpf(number) for number in point))
            room = max(abs(true) / 10**12, mpmath.mpf(10) ** (-10 if name in CANCELS else -300))
            assert abs(true - value) <= room, (true, value)
            assert found.low - room <= true <= found.high + room


@pytest.mark.parametrize("name", JUDGES)
@settings(max_examples=20, deadline=None)
@given(data=st.data())
def test_the_ends_of_the_bounds_are_values_of_the_function(name: str, data: st.DataObject) -> None:
    """Tight: the ends are reached at a corner, at half a turn, at no rotation, or where two values agree."""
    count = data.draw(st.sampled_from(counts(name)))
    box = drawn(name, count, data)
    expr = tree(called(name, count))
    found = bounds(expr, dict(zip(ARGUMENTS, box, strict=False)), EMPTY)
    assert isinstance(found, Interval)
    middles = {"wrap_pull": (1, mpmath.pi), "tension_of_mass": (1, mpmath.pi), "turning_energy": (1, 0)}
    lines: list[list[float]] = [list(part) for part in box]
    place, middle = middles.get(name, (0, box[0].low))
    if box[place].low <= middle <= box[place].high:
        lines[place].append(float(middle))
    reached = [evaluate(expr, dict(zip(ARGUMENTS, point, strict=False)), EMPTY) for point in product(*lines)]
    values = [value for value in reached if isinstance(value, float)]
    if name == "disagreement" and max(box[0].low, box[1].low) <= min(box[0].high, box[1].high):
        values.append(0.0)
    assert len(values) >= len(reached)
    room = 1e-9 * max(map(abs, values)) + 1e-300
    assert found.low >= min(values) - room
    assert found.high <= max(values) + room


@settings(max_examples=200, deadline=None)
@given(data=st.data())
def test_whether_a_web_may_slip_is_known_over_a_box(data: st.DataObject) -> None:
    box = drawn("web_slips", 4, data)
    expr = tree("web_slips(a, b, c, d)")
    found = truths(expr, dict(zip(ARGUMENTS, box, strict=False)), EMPTY)
    assert isinstance(found, Truths)
    corners = list(product(*box))
    inside = [[a + (b - a) * data.draw(st.floats(0, 1)) for a, b in box] for _ in range(5)]
    alike = max(box[0].low, box[1].low)
    if alike <= min(box[0].high, box[1].high):
        corners.append((alike, alike, box[2].high, box[3].high))
    seen = set()
    for point in (*corners, *inside):
        slips = evaluate(expr, dict(zip(ARGUMENTS, point, strict=False)), EMPTY)
        assert isinstance(slips, bool)
        assert found.true if slips else found.false
        seen.add(slips)
    assert found == Truths(True in seen, False in seen), "a box that may go both ways shows both at its corners"


@pytest.mark.parametrize("ways", [("vertical",), ("choke", "basket"), tuple(MODE_FACTORS)])
def test_the_factor_of_a_sling_lies_within_those_of_the_ways_it_may_be_used(ways: tuple[str, ...]) -> None:
    found = bounds(tree("sling_mode(way)"), {"way": Texts(frozenset(ways))}, EMPTY)
    factors = [MODE_FACTORS[way] for way in ways]
    assert found == Interval(min(factors), max(factors))


@pytest.mark.parametrize("texts", [Texts(None), Texts(frozenset()), Texts(frozenset(("choke", "knotted")))])
def test_a_way_to_sling_that_is_not_known_has_no_bounds(texts: Texts) -> None:
    found = bounds(tree("sling_mode(way)"), {"way": texts}, EMPTY)
    assert isinstance(found, Unbounded)
    assert "none that is known" in found.message


@pytest.mark.parametrize(
    ("text", "box", "words"),
    [
        ("leg_load(a, 2, b)", [(0, 100), (0.5, 1.5)], "flatter than 30 degrees"),
        ("leg_load_by_height(a, 2, 1, b)", [(0, 100), (0.4, 0.9)], "flatter than 30 degrees"),
        ("leg_load_by_height(a, 2, 1, b)", [(0, 100), (0.6, 1.1)], "more than the length"),
        ("roll_diameter_after(a, b, 0.076, 0.0001)", [(0.5, 1), (0, 5000)], "less web on the roll"),
        ("roll_length_left(1000, a, b, 0.076)", [(0.5, 1), (0.4, 0.8)], "larger than it was"),
        ("wrap_pull(1, a)", [(0, 7)], "outside 0 to 360"),
        ("wrap_pull(1, 1, a)", [(0, 2)], "may not loop"),
        ("tension_of_mass(a, b)", [(0, 100), (0, 3)], "makes no tension"),
        ("tension_of_mass(a, 3)", [(-1, 100)], "may be negative"),
        ("tension_of_mass(1, 3, 0, a)", [(0, 2)], "may not loop"),
        ("disagreement(a, 1)", [(-1, 2)], "may be negative"),
        ("length_for_job(1, a, 0, 0, 0)", [(0, 1)], "less than 1"),
        ("time_to_stop(1, 1, a)", [(0, 1)], "must be above zero"),
        ("taper_linear(1, 0.5, a, 4)", [(1, 5)], "larger than the core"),
        ("taper_hyperbolic(1, a, 2)", [(0, 2)], "between 0 and 1"),
        ("sag_between_ends(1, a, 1, 1, 1)", [(0, 2)], "within the span"),
        ("capstan(a, 10)", [(0, 1000)], "too large"),
        ("reserve_on_hook(a, 10)", [(-1, 1)], "cannot be negative"),
    ],
)  # fmt: skip
def test_a_box_that_leaves_the_range_of_a_function_says_so(
    text: str, box: list[tuple[float, float]], words: str
) -> None:
    found = bounds(tree(text), {name: Interval(*ends) for name, ends in zip(ARGUMENTS, box, strict=False)}, EMPTY)
    assert isinstance(found, Unbounded)
    assert words in found.message


@pytest.mark.parametrize("text", ["web_slips(a, 1, 0.3, 2)", "web_slips(1, 2, a, 2)", "web_slips(1, 2, 0.3, a)"])
def test_a_slip_that_cannot_be_told_has_no_bounds(text: str) -> None:
    found = truths(tree(text), {"a": Interval(-1.0, 1.0)}, EMPTY)
    assert isinstance(found, Unbounded)
    assert "negative" in found.message
    assert isinstance(evaluate(tree(text), {"a": -1.0}, EMPTY), Fault)
