"""Weight pieces: published coin problems, every small rack against plain counting, and racks as large as they come."""

from functools import cache
from itertools import combinations, product

import numpy as np
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


def test_of_as_few_pieces_those_with_the_heaviest_are_hung() -> None:
    """Derived: 14 kg an end are four pieces as 5 + 5 + 2 + 2 and as 5 + 3 + 3 + 3."""
    choice = choose_pieces(28416, {2000: 8, 3000: 8, 5000: 16}, 2, within_g=1000)
    assert choice.ends == (((5000, 2), (2000, 2)),) * 2


def test_a_target_far_beyond_any_rack_gets_all_that_can_be_hung() -> None:
    for target in (1e9, 1e15):
        assert choose_pieces(target, {907: 8, 2268: 8}, 2, within_g=500).hung_g == 8 * 907 + 8 * 2268


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
    no_other_is_better(choose_pieces(target, stock, 2, within_g=1, uneven_g=uneven), stock, target, uneven)


ODD_RACKS = st.dictionaries(
    st.sampled_from([250, 454, 500, 907, 1000, 1250, 2268, 2500, 4536, 5000, 7000]),
    st.integers(1, 4), min_size=2, max_size=4,
)  # fmt: skip
"""Pounds as grams beside kilograms: no common unit but the gram."""


@settings(max_examples=25, deadline=None)
@given(ODD_RACKS, st.floats(500, 40000), st.sampled_from([0, 0, 0, 300, 1000]))
def test_no_other_choice_of_a_small_rack_without_a_common_unit_is_better(
    stock: dict[int, int], target: float, uneven: int
) -> None:
    """Every way to share out the pieces, counted one by one."""
    no_other_is_better(choose_pieces(target, stock, 2, within_g=300, uneven_g=uneven), stock, target, uneven)


def test_ends_without_a_common_unit_carry_unlike_pieces() -> None:
    """Derived by counting all choices: 3 x 2500 + 907 | 7000 + 907 + 2 x 250 hang 16 814 g, the same on each end 16 314 g."""
    choice = choose_pieces(17222, {7000: 2, 2500: 3, 907: 2, 250: 2}, 2, within_g=500)
    assert abs(choice.error_g) == 408
    assert choice.within


def no_other_is_better(choice: PieceChoice, stock: dict[int, int], target: float, uneven: int) -> None:
    """Counts one by one."""
    ranks = []
    for left in product(*(range(count + 1) for count in stock.values())):
        for right in product(*(range(count - used + 1) for count, used in zip(stock.values(), left, strict=True))):
            a = sum(mass * count for mass, count in zip(stock, left, strict=True))
            b = sum(mass * count for mass, count in zip(stock, right, strict=True))
            if abs(a - b) <= uneven:
                ranks.append((abs(a + b - target), sum(left) + sum(right), a + b))
    assert rank(choice) == pytest.approx(min(ranks))
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


def ways(total: int, coins: tuple[int, ...]) -> list[tuple[int, ...]]:
    """Every way to make a total of coins, as counts by coin."""
    if len(coins) == 1:
        return [(total // coins[0],)] if total % coins[0] == 0 else []
    first, rest = coins[0], coins[1:]
    return [(count, *way) for count in range(total // first + 1) for way in ways(total - count * first, rest)]


def test_the_fewest_of_all_published_ways_to_change_a_dollar_are_found() -> None:
    """292 ways to change 100 with 50, 25, 10, 5 and 1: H. Abelson and G. J. Sussman, SICP, section 1.2.2."""
    coins = (50, 25, 10, 5, 1)
    assert len(ways(100, coins)) == 292
    for total in (100, 99, 41, 30, 4):
        choice = choose_pieces(total, dict.fromkeys(coins, 100), 1, within_g=0)
        assert (choice.error_g, pieces_of(choice)) == (0, min(map(sum, ways(total, coins))))


def test_the_fewest_of_all_published_ways_to_change_a_pound_are_found() -> None:
    """104561 ways to change 100 with 100, 50, 20, 10, 5, 2, 1 and 0.5, in halves: SICP, exercise 2.19."""
    coins = (200, 100, 40, 20, 10, 4, 2, 1)

    @cache
    def count(total: int, kinds: int) -> int:
        if total == 0:
            return 1
        return 0 if total < 0 or not kinds else count(total, kinds - 1) + count(total - coins[kinds - 1], kinds)

    assert count(200, len(coins)) == 104561
    fewest = [0]
    for total in range(1, 201):
        fewest.append(1 + min(fewest[total - coin] for coin in coins if coin <= total))
        choice = choose_pieces(total, dict.fromkeys(coins, 200), 1, within_g=0)
        assert (choice.error_g, pieces_of(choice)) == (0, fewest[total])


def test_single_pieces_make_one_of_the_ten_published_sums() -> None:
    """Ten sets of different numbers from 1 to 10 add up to 10: programmingpraxis.com, 24 May 2013."""
    sets = [chosen for size in range(11) for chosen in combinations(range(1, 11), size) if sum(chosen) == 10]
    assert len(sets) == 10
    for left_out in ((), (10,), (10, 9), (10, 9, 8, 7)):
        stock = {mass: 1 for mass in range(1, 11) if mass not in left_out}
        choice = choose_pieces(10, stock, 1, within_g=0)
        chosen = tuple(sorted(mass for mass, _ in choice.ends[0]))
        fitting = [one for one in sets if not set(one) & set(left_out)]
        assert chosen in fitting
        assert len(chosen) == min(map(len, fitting))


def test_a_published_knapsack_is_filled_to_the_gram() -> None:
    """25, 35, 45, 5, 25, 3, 2, 2 hold a set of 104: J. Burkardt, KNAPSACK test output TEST01."""
    choice = choose_pieces(104, {25: 2, 35: 1, 45: 1, 5: 1, 3: 1, 2: 2}, 1, within_g=0)
    assert (choice.hung_g, choice.within) == (104, True)


def test_a_published_set_of_numbers_is_parted_in_two_equal_sums() -> None:
    """4, 5, 6, 7, 8 (page of the numberpartitioning package, there in three parts); 15 and 15 in two, derived."""
    choice = choose_pieces(30, dict.fromkeys((4, 5, 6, 7, 8), 1), 2, within_g=0)
    assert [mass_of(end) for end in choice.ends] == [15, 15]
    assert pieces_of(choice) == 5


@pytest.mark.parametrize(
    ("stock", "target", "hung"),
    [
        ({}, 36709, 0),
        (RACK, -3200, 0),
        ({5000: 1, 2000: 1, 1000: 1}, 8000, 0),
        (RACK, 1_000_000, 44000),
    ],
    ids=["no pieces", "below zero", "single pieces that do not balance", "above the whole set"],
)
def test_what_cannot_be_hung_is_answered_with_the_nearest_and_never_within(
    stock: dict[int, int], target: int, hung: int
) -> None:
    choice = choose_pieces(target, stock, 2, within_g=500)
    assert (choice.hung_g, choice.within) == (hung, False)


@settings(max_examples=60, deadline=None)
@given(
    st.dictionaries(
        st.sampled_from([250, 500, 1000, 2000, 2500, 3000, 5000]), st.integers(1, 6), min_size=2, max_size=4
    ),
    st.integers(1000, 40000),
    st.sampled_from([0, 0, 1000]),
)
def test_integer_programming_needs_as_many_pieces(stock: dict[int, int], target: int, uneven: int) -> None:
    """scipy.optimize.milp twice: first the least |hung - target|, then the fewest pieces that keep to it."""
    masses, counts, n = [float(mass) for mass in stock], list(stock.values()), len(stock)
    infinite = float("inf")
    rows: list[tuple[list[float], float, float]] = [
        (masses + [-mass for mass in masses] + [0.0], -uneven, uneven),
        (masses + masses + [-1.0], -infinite, float(target)),
        (masses + masses + [1.0], float(target), infinite),
        *(
            ([1.0 if k % n == i and k < 2 * n else 0.0 for k in range(2 * n + 1)], 0.0, float(counts[i]))
            for i in range(n)
        ),
    ]

    def least(cost: list[float], error: float) -> float:
        constraint = LinearConstraint(*(np.array(part) for part in zip(*rows, strict=True)))
        upper = [*(float(count) for count in counts * 2), error]
        found = milp(
            cost, constraints=[constraint], integrality=[1] * (2 * n) + [0], bounds=([0.0] * (2 * n + 1), upper)
        )
        return float(found.fun)

    error = least([0.0] * (2 * n) + [1.0], infinite)
    pieces = least([1.0] * (2 * n) + [0.0], error + 0.01)
    choice = choose_pieces(target, stock, 2, within_g=1, uneven_g=uneven)
    assert abs(choice.error_g) == pytest.approx(error, abs=0.01)
    assert pieces_of(choice) == round(pieces)
