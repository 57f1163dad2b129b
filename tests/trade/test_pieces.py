"""Weight pieces: published coin problems, every small rack against plain counting, and racks as large as they come."""

from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import LinearConstraint, milp

from runner.trade.pieces import End, PieceChoice, choose_pieces, rank

RACK = {5000: 6, 2000: 4, 1000: 4, 500: 4}


def mass_of(end: End) -> int:
    return sum(mass * count for mass, count in end)


def pieces_of(choice: PieceChoice) -> int:
    return sum(count for end in choice.ends for _, count in end)


@pytest.mark.parametrize(
    ("stock", "target", "each_end", "hung", "error"),
    [
        (RACK, 36709, ((5000, 3), (2000, 1), (1000, 1), (500, 1)), 37000, 291),
        ({5000: 6, 2000: 4, 1000: 3, 500: 1}, 36709, ((5000, 3), (2000, 1), (1000, 1)), 36000, -709),
        ({2500: 4, 1000: 6, 500: 2}, 14000, ((2500, 2), (1000, 2)), 14000, 0),
    ],
)
def test_both_ends_carry_the_same_pieces(
    stock: dict[int, int], target: int, each_end: End, hung: int, error: int
) -> None:
    """Derived by counting all choices."""
    choice = choose_pieces(target, stock, 2, within_g=300)
    assert choice == ((each_end, each_end), hung, error, abs(error) <= 300)


def test_ends_of_equal_mass_may_carry_different_pieces() -> None:
    """Derived: 5, 3 and 2 kg, one each, hang 10 kg as 5 | 3 + 2."""
    choice = choose_pieces(10000, {5000: 1, 3000: 1, 2000: 1}, 2, within_g=0)
    assert choice == ((((5000, 1),), ((3000, 1), (2000, 1))), 10000, 0, True)


def test_uneven_ends_are_not_hung_unless_allowed() -> None:
    """Derived: 4, 2, 2, 2, 1 kg reach 10 kg only as 4 | 6, so 8 kg is the nearest with equal ends."""
    stock = {4000: 1, 2000: 3, 1000: 1}
    even = choose_pieces(10000, stock, 2, within_g=500)
    assert (even.hung_g, even.within) == (8000, False)
    assert mass_of(even.ends[0]) == mass_of(even.ends[1])
    uneven = choose_pieces(10000, stock, 2, within_g=500, uneven_g=2000)
    assert (uneven.hung_g, uneven.within, sorted(map(mass_of, uneven.ends))) == (10000, True, [4000, 6000])


def test_an_odd_sum_needs_ends_that_differ_by_a_kilogram() -> None:
    """Derived: 5x2, 3x2, 2x3, 1x2 kg reach 13 kg only as 6 | 7."""
    choice = choose_pieces(13000, {5000: 2, 3000: 2, 2000: 3, 1000: 2}, 2, within_g=0, uneven_g=1000)
    assert sorted(map(mass_of, choice.ends)) == [6000, 7000]


@pytest.mark.parametrize(
    ("coins", "total", "fewest"),
    [((1, 4, 5, 8, 11), 29, 4), ((1, 3, 4), 6, 2), ((1, 10, 25), 30, 3)],
)
def test_the_fewest_pieces_are_found_where_taking_the_largest_first_fails(
    coins: tuple[int, ...], total: int, fewest: int
) -> None:
    """29 from 1, 4, 5, 8, 11: J. Burkardt, KNAPSACK test output TEST03, after Martello and Toth; the others derived."""
    choice = choose_pieces(total, dict.fromkeys(coins, 30), 1, within_g=0)
    assert (choice.error_g, pieces_of(choice)) == (0, fewest)


def test_the_heaviest_piece_is_innermost() -> None:
    for end in choose_pieces(36709, RACK, 2, within_g=300).ends:
        assert list(end) == sorted(end, reverse=True)


@pytest.mark.parametrize("target", [-5000.0, 0.0])
def test_a_target_that_is_not_above_zero_hangs_nothing_and_keeps_its_error(target: float) -> None:
    choice = choose_pieces(target, RACK, 2, within_g=500)
    assert choice == (((), ()), 0, -target, target == 0)


@pytest.mark.parametrize(
    ("stock", "target", "hung"),
    [({}, 10000, 0), ({5000: 1}, 10000, 0), ({1000: 2}, 100000, 2000), ({20000: 2}, 10000, 0)],
)
def test_where_nothing_fits_the_nearest_is_given_and_marked(stock: dict[int, int], target: int, hung: int) -> None:
    choice = choose_pieces(target, stock, 2, within_g=500)
    assert (choice.hung_g, choice.error_g, choice.within) == (hung, hung - target, False)


def test_three_ends_carry_the_same_pieces_each() -> None:
    choice = choose_pieces(9000, {1000: 7, 2000: 3}, 3, within_g=0)
    assert choice.ends == (((2000, 1), (1000, 1)),) * 3


RACKS = st.dictionaries(st.sampled_from([1, 2, 3, 4, 5, 7, 8, 10, 13]), st.integers(1, 4), min_size=1, max_size=3)


@settings(max_examples=60, deadline=None)
@given(RACKS, st.floats(0.5, 40), st.sampled_from([0, 0, 0, 1, 2]))
def test_no_other_choice_of_a_small_rack_is_better(stock: dict[int, int], target: float, uneven: int) -> None:
    """Every way to share out the pieces, counted one by one."""
    choice = choose_pieces(target, stock, 2, within_g=1, uneven_g=uneven)
    ranks = []
    for left in product(*(range(count + 1) for count in stock.values())):
        for right in product(*(range(count - used + 1) for count, used in zip(stock.values(), left, strict=True))):
            a = sum(mass * count for mass, count in zip(stock, left, strict=True))
            b = sum(mass * count for mass, count in zip(stock, right, strict=True))
            if abs(a - b) <= uneven:
                ranks.append((abs(a + b - target), sum(left) + sum(right), a + b))
    assert rank(choice) == min(ranks)
    for mass, count in stock.items():
        assert sum(used for end in choice.ends for piece, used in end if piece == mass) <= count


@settings(max_examples=15, deadline=None)
@given(
    st.dictionaries(st.sampled_from([250, 500, 1000, 2500, 5000, 7300]), st.integers(1, 9), min_size=2, max_size=5),
    st.integers(1000, 60000),
)
def test_integer_programming_finds_nothing_nearer(stock: dict[int, int], target: int) -> None:
    """scipy.optimize.milp as the judge: least |hung - target| with equal ends, pieces in whole numbers."""
    masses, counts = [float(mass) for mass in stock], list(stock.values())
    n = len(masses)
    cost = [0.0] * (2 * n) + [1.0]  # left counts, right counts, error
    rows: list[tuple[list[float], float, float]] = [
        (masses + [-mass for mass in masses] + [0.0], 0.0, 0.0),
        (masses + masses + [-1.0], -float("inf"), float(target)),
        (masses + masses + [1.0], float(target), float("inf")),
    ]
    rows += [([1.0 if k % n == i and k < 2 * n else 0.0 for k in range(2 * n + 1)], 0, counts[i]) for i in range(n)]
    found = milp(
        cost,
        constraints=[LinearConstraint(*zip(*((r, lo, hi) for r, lo, hi in rows), strict=True))],
        integrality=[1] * (2 * n) + [0],
        bounds=(0, float("inf")),
    )
    assert abs(choose_pieces(target, stock, 2, within_g=1).error_g) == pytest.approx(found.fun, abs=0.01)


@pytest.mark.parametrize("count", [3, 40])
@pytest.mark.parametrize("target", [36709, 132563, 400000])
def test_a_large_rack_is_split_evenly_and_as_near_as_its_pieces_allow(target: int, count: int) -> None:
    """Twelve masses in steps of 250 g: with three or more of each, both ends come within half a step of two pieces."""
    masses = [250, 500, 1000, 1250, 1500, 2000, 2500, 3000, 5000, 7500, 10000, 20000]
    choice = choose_pieces(target, dict.fromkeys(masses, count), 2, within_g=500)
    assert mass_of(choice.ends[0]) == mass_of(choice.ends[1])
    most = 2 * (sum(masses) * count // 2)
    assert abs(choice.hung_g - min(target, most)) <= 250
    assert choice.within == (abs(choice.hung_g - target) <= 500)


def test_pieces_without_a_common_unit_still_balance() -> None:
    """Pounds in whole grams have no common unit; 5 lb against 3 lb + 2 lb still balance."""
    choice = choose_pieces(4536, {2268: 1, 1361: 1, 907: 1}, 2, within_g=0)
    assert choice.ends == (((2268, 1),), ((1361, 1), (907, 1)))
