"""Which weight pieces from the rack go on each end of a bar.

An exact search over sets of masses, held as bits of one large integer, so that a whole set is shifted or joined in one
operation. Masses are whole grams: no float sum decides which piece is hung. A target below zero is never clipped: the
answer is then the empty bar, with its error, not within any tolerance.
"""

from collections.abc import Iterable, Mapping
from math import gcd
from typing import NamedTuple

from runner.trade.sums import fewest_for, nearest, reachable
from runner.trade.unlike_ends import unlike_ends

MOST_PAIRS = 50_000
"""Pairs of masses looked at one by one; where there are more, the search over both ends is quicker."""

End = tuple[tuple[int, int], ...]
"""The pieces on one end as (mass in grams, count), heaviest and innermost first."""


class PieceChoice(NamedTuple):
    """What to hang: pieces on each end, their mass, its error against the target (hung - target), all in grams.

    `within` says whether the error lies within the tolerance asked for; when it does not, this is the closest there is.
    """

    ends: tuple[End, ...]
    hung_g: int
    error_g: float
    within: bool


def choose_pieces(
    target_g: float, stock: Mapping[int, int] | Iterable[tuple[int, int]], ends: int, within_g: float, uneven_g: int = 0
) -> PieceChoice:
    """The best way to hang `target_g` from `stock` (mass in grams -> count) on `ends` ends of equal mass.

    Best is closest to the target, then fewest pieces, then the lighter, then the same pieces on each end. Two ends may
    carry different pieces of the same mass, and differ by up to `uneven_g` where that is allowed; more than two ends
    carry the same pieces each.
    """
    pieces = {mass: count for mass, count in sorted(dict(stock).items(), reverse=True) if mass > 0 and count > 0}
    if ends < 1 or target_g <= 0 or not pieces:
        return answer(target_g, within_g, tuple(() for _ in range(max(ends, 0))))
    unit = gcd(*pieces)
    counts = {mass // unit: count for mass, count in pieces.items()}
    per_end, uneven = target_g / unit / ends, uneven_g // unit

    def best_same(each: Mapping[int, int]) -> PieceChoice:
        sums = reachable(each, int(2 * per_end) + 1)
        choices = [scaled(fewest_for(each, total), unit) for total in nearest(sums, per_end)]
        return min((answer(target_g, within_g, (end,) * ends) for end in choices), key=rank)

    same = best_same({mass: count // ends for mass, count in counts.items() if count >= ends})
    if ends != 2 or (not uneven and rank(best_same(counts)) == rank(same)):  # not even twice the rack would do better
        return same
    together = best_together(target_g, within_g, counts, unit)
    if rank(together[0]) == rank(same):  # nor would the best pieces of all, were there no ends
        return same
    for choice in together:
        parted = in_two(dict(choice.ends[0]), uneven_g)
        if parted is not None:
            return answer(target_g, within_g, parted)
    ends_apart = each_for_itself(target_g, counts, unit, uneven)
    if ends_apart is not None:
        return min(same, answer(target_g, within_g, ends_apart), key=rank)
    other = unlike_ends(target_g / unit, counts, uneven, abs(same.error_g) / unit)
    if other is None:
        return same
    return min(same, answer(target_g, within_g, tuple(scaled(end, unit) for end in other)), key=rank)


def best_together(target_g: float, within_g: float, counts: Mapping[int, int], unit: int) -> list[PieceChoice]:
    """The best pieces for one end alone, which no laying out over two ends can better; several of one rank."""
    target = target_g / unit
    sums = reachable(counts, int(2 * target) + max(counts) + 1)
    found = [answer(target_g, within_g, (scaled(fewest_for(counts, total), unit),)) for total in nearest(sums, target)]
    best = min(rank(choice) for choice in found)
    return [choice for choice in found if rank(choice) == best]


def in_two(pieces: Mapping[int, int], uneven_g: int) -> tuple[End, End] | None:
    """The same pieces laid out over two ends that differ by no more than `uneven_g`, the heavier first; None if they cannot."""
    total = sum(mass * count for mass, count in pieces.items())
    unit = gcd(*pieces) if pieces else 1
    counts = {mass // unit: count for mass, count in pieces.items()}
    right = max(nearest(reachable(counts, total // unit // 2), total / unit / 2))
    if total - 2 * right * unit > uneven_g:
        return None
    chosen = fewest_for(counts, right)
    rest = {mass: count - chosen.get(mass, 0) for mass, count in counts.items()}
    return heavier_first(scaled(rest, unit), scaled(chosen, unit))


def each_for_itself(target_g: float, counts: Mapping[int, int], unit: int, uneven: int) -> tuple[End, End] | None:
    """The best two ends as if each had the whole rack; None where both together need more pieces than it has.

    Nothing can better what each end does for itself, so where the rack suffices this is the answer.
    """
    target = target_g / unit
    top = int(2 * target) + max(counts) + 1
    if top * (uneven + 1) > MOST_PAIRS:
        return None
    sums = reachable(counts, top)
    pairs = [
        (abs(left + right - target), left, right)
        for right in range(top // 2 + 1)
        if sums >> right & 1
        for left in range(right, right + uneven + 1)
        if sums >> left & 1
    ]
    if not pairs:
        return None
    nearest_error = min(pairs)[0]
    found: list[tuple[int, int, dict[int, int], dict[int, int]]] = []
    for error, left, right in pairs:
        if error <= nearest_error + 1e-9:
            one, other = fewest_for(counts, left), fewest_for(counts, right)
            found.append((sum(one.values()) + sum(other.values()), left + right, one, other))
    _, _, one, other = min(found, key=lambda pair: pair[:2])
    if any(one.get(mass, 0) + other.get(mass, 0) > count for mass, count in counts.items()):
        return None
    return heavier_first(scaled(one, unit), scaled(other, unit))


def heavier_first(one: End, other: End) -> tuple[End, End]:
    """Two ends, the heavier first, and of two as heavy the one with the heavier pieces."""
    first, last = sorted((one, other), key=lambda end: (sum(mass * count for mass, count in end), end), reverse=True)
    return first, last


def answer(target_g: float, within_g: float, ends: tuple[End, ...]) -> PieceChoice:
    """A choice with its mass and error worked out; nothing is within tolerance of a target below zero."""
    hung = sum(mass * count for end in ends for mass, count in end)
    error = hung - target_g
    return PieceChoice(ends, hung, error, target_g >= 0 and bool(ends) and abs(error) <= within_g)


def rank(choice: PieceChoice) -> tuple[float, int, int]:
    """Smaller is better: error, pieces, mass. (Equal ranks keep the first, which has the same pieces on each end.)"""
    return abs(choice.error_g), sum(count for end in choice.ends for _, count in end), choice.hung_g


def scaled(pieces: Mapping[int, int], unit: int) -> End:
    """Counts by mass in units of `unit` grams as an end, heaviest first."""
    return tuple((mass * unit, count) for mass, count in sorted(pieces.items(), reverse=True) if count)
