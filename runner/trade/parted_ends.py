"""Weight pieces for two ends, of masses with hardly a common unit: one choice of pieces after the other.

Such pieces (907 g beside 2500 g) have few sums near to a target, so the choices that come as near as asked are few, and
each is looked at: whether it can be parted over two ends. Masses are whole numbers of one unit.
"""

from collections.abc import Iterator, Mapping
from math import ceil

from runner.trade.sums import as_bytes, is_set, nearest, reachable

NOISE = 1e-9
"""Units: errors that differ by less are equal."""

MOST_CHOICES = 20_000
MOST_BITS = 1_000_000_000
"""Choices looked at, and bits of the sets that parting them takes: some tenths of a second. Then the best so far is the
answer; racks of so many pieces have sums within a few grams of any target."""

Counts = dict[int, int]


def parted_ends(target: float, stock: Mapping[int, int], uneven: int, error: float) -> tuple[Counts, Counts] | None:
    """Pieces (mass -> count) for two ends, at most `error` off the target and `uneven` apart, nearest then fewest.

    None when there is no such pair, or none among the first `MOST_CHOICES`.
    """
    choices = Choices(stock, int(target + error + NOISE))
    found: tuple[Counts, Counts] | None = None
    off, pieces = error, sum(stock.values()) + 1
    for total in sorted(choices.totals(target - error - NOISE), key=lambda total: (abs(total - target), total)):
        if choices.left <= 0 or (found is not None and abs(total - target) > off + NOISE):
            break
        for chosen in choices.of(total):
            used = sum(chosen.values())
            ends = parted(chosen, total, uneven) if used < pieces else None
            if ends is not None:
                found, off, pieces = ends, abs(total - target), used
    return found


def parted(chosen: Mapping[int, int], total: int, uneven: int) -> tuple[Counts, Counts] | None:
    """Pieces of mass `total` on two ends that differ by no more than `uneven`; None where they cannot be parted so."""
    light = max(nearest(reachable(chosen, total // 2), total / 2.0))
    if total - 2 * light > uneven:
        return None
    order, left = sorted(chosen), light
    there: Counts = {}
    for place in range(len(order) - 1, -1, -1):
        mass = order[place]
        rest = reachable({other: chosen[other] for other in order[:place]}, left)
        there[mass] = next(
            used for used in range(min(chosen[mass], left // mass), -1, -1) if rest >> (left - used * mass) & 1
        )
        left -= there[mass] * mass
    return {mass: count - there[mass] for mass, count in chosen.items()}, there


class Choices:
    """All choices of pieces by their mass, up to `top`; `left` is how many more are looked at."""

    def __init__(self, stock: Mapping[int, int], top: int) -> None:
        self.masses = [(mass, count) for mass, count in sorted(stock.items(), reverse=True) if 0 < mass <= top]
        rests = [reachable(dict(self.masses[place:]), top) for place in range(len(self.masses) + 1)]
        self.rests = [as_bytes(rest) for rest in rests]
        """What the pieces from one place of the list on add up to."""
        self.left = min(MOST_CHOICES, MOST_BITS // rests[0].bit_length())

    def totals(self, least: float) -> Iterator[int]:
        """The masses that some choice has, from `least` on."""
        sums = self.rests[0]
        return (total for total in range(max(0, ceil(least)), 8 * len(sums)) if is_set(sums, total))

    def of(self, total: int) -> Iterator[Counts]:
        """Every choice of a mass, the heaviest pieces first, until too many were looked at."""
        waiting: list[tuple[int, int, Counts]] = [(0, total, {})]
        while waiting and self.left > 0:
            place, rest, chosen = waiting.pop()
            if place == len(self.masses):
                self.left -= 1
                yield chosen
                continue
            mass, count = self.masses[place]
            waiting += [
                (place + 1, rest - used * mass, {**chosen, mass: used})
                for used in range(min(count, rest // mass) + 1)
                if is_set(self.rests[place + 1], rest - used * mass)
            ]
