"""Weight pieces for two ends that may carry different pieces: 5 on one end, 3 + 2 on the other.

One large integer holds a table of (pieces used, mass left, mass right), one bit an entry, so that hanging a piece shifts
the whole table. First without counting pieces, which shows the pairs of masses nearest to the target, then counting,
which shows the fewest pieces for one of those pairs. Masses are whole numbers of one unit.
"""

from collections.abc import Mapping
from math import prod
from typing import NamedTuple

from runner.trade.parted_ends import parted_ends
from runner.trade.sums import as_bytes, is_set

WORK = 2_000_000_000
"""Most bits that one table may shift, some tens of milliseconds. What is longer takes pieces with hardly a common unit, and
such pieces are looked at choice by choice (`runner.trade.parted_ends`)."""

FEW_CHOICES = 1_000
"""So many choices of pieces are sooner looked at one by one."""

MOST_PAIRS = 200_000
"""Pairs of masses that are looked at in a table."""

NOISE = 1e-9
"""Units: errors that differ by less are equal. The target is a float of units, and 27 g off on both sides must tie."""

Counts = dict[int, int]


class Table(NamedTuple):
    """The shape of the integer: entry (pieces, left, right) is bit (pieces * wide + left) * wide + right."""

    wide: int
    layers: int

    def bit(self, pieces: int, left: int, right: int) -> int:
        """Number of the bit of an entry."""
        return (pieces * self.wide + left) * self.wide + right


def unlike_ends(target: float, stock: Mapping[int, int], uneven: int, error: float) -> tuple[Counts, Counts] | None:
    """Pieces (mass -> count) for two ends, at most `error` off the target and `uneven` apart, nearest then fewest.

    None when there is no such pair, or when looking for one would take too long.
    """
    everything = sum(mass * count for mass, count in stock.items())
    heaviest = int(min((target + error + uneven) / 2, everything)) + 1
    flat = Table(heaviest + 1, 1)
    choices = prod(count + 1 for count in stock.values())
    if choices <= FEW_CHOICES or work(flat, stock) > WORK or flat.wide * (uneven + 1) > MOST_PAIRS:
        return parted_ends(target, stock, uneven, error)
    tables = hang_all(flat, stock)
    pairs = nearest_pairs(flat, tables[-1], target, uneven, error)
    if not pairs:
        return None
    wide, layers = max(max(pair) for pair in pairs) + 1, least_pieces(stock, min(sum(pair) for pair in pairs)) + 1
    while work(Table(wide, layers), stock) <= WORK:
        counted = Table(wide, layers)
        tables = hang_all(counted, stock)
        reached = as_bytes(tables[-1])
        for pieces in range(layers):
            for left, right in pairs:
                if is_set(reached, counted.bit(pieces, left, right)):
                    return take_back(counted, tables, stock, (pieces, left, right))
        layers += layers // 2 + 1
    return parted_ends(target, stock, uneven, error)


def least_pieces(stock: Mapping[int, int], total: int) -> int:
    """A number of pieces that no way to hang `total` stays under: the heaviest first, the last one in part."""
    pieces = 0
    for mass, count in sorted(stock.items(), reverse=True):
        used = min(count, -(-total // mass))
        pieces, total = pieces + used, total - used * mass
        if total <= 0:
            break
    return pieces


def work(table: Table, stock: Mapping[int, int]) -> int:
    """Bits shifted when `stock` is hung in `table`."""
    steps = sum(4 * min(count, table.wide // mass + 1) for mass, count in stock.items())
    return table.wide * table.wide * table.layers * steps


def hang_all(table: Table, stock: Mapping[int, int]) -> list[int]:
    """The table before any piece and after each mass of the stock, in its order."""
    tables = [1]
    for mass, count in stock.items():
        tables.append(hang(table, tables[-1], mass, count) if mass < table.wide else tables[-1])
    return tables


def hang(table: Table, before: int, mass: int, count: int) -> int:
    """Every way to hang up to `count` pieces of one mass: m on both ends and e more on one, 2 m + e <= count."""
    wide, layers = table
    layer = wide * wide if layers > 1 else 0
    everything = (1 << wide * wide * layers) - 1
    room_right = repeated((1 << (wide - mass)) - 1, wide, wide * layers)
    room_left = repeated((1 << (wide - mass) * wide) - 1, wide * wide, layers)

    def more_right(states: int) -> int:
        return ((states & room_right) << layer + mass) & everything

    def more_left(states: int) -> int:
        return ((states & room_left) << layer + mass * wide) & everything

    singles = [before]  # singles[e]: up to e more on one end
    left = right = before
    for _ in range(min(count, (wide - 1) // mass)):
        left, right = more_left(left), more_right(right)
        singles.append(singles[-1] | left | right)
    states = 0
    for pairs in range(min(count // 2, (wide - 1) // mass), -1, -1):
        states = more_right(more_left(states)) | singles[min(count - 2 * pairs, len(singles) - 1)]
    return states


def repeated(pattern: int, stride: int, times: int) -> int:
    """`pattern` at every multiple of `stride` bits, `times` times."""
    done, result = 1, pattern
    while done < times:
        add = min(done, times - done)
        result |= (result & ((1 << add * stride) - 1)) << done * stride
        done += add
    return result


def nearest_pairs(table: Table, states: int, target: float, uneven: int, error: float) -> list[tuple[int, int]]:
    """The reached pairs (left >= right) nearest to the target, the lighter first; none further off than `error`."""
    reached = as_bytes(states)
    best, pairs = error, list[tuple[int, int]]()
    for left in range(table.wide):
        for right in range(max(0, left - uneven), left + 1):
            off = abs(left + right - target)
            if off <= best + NOISE and is_set(reached, table.bit(0, left, right)):
                if off < best - NOISE:
                    best, pairs = off, []
                pairs.append((left, right))
    return sorted(pairs, key=sum)


def take_back(
    table: Table, tables: list[int], stock: Mapping[int, int], entry: tuple[int, int, int]
) -> tuple[Counts, Counts]:
    """The pieces on both ends that led to an entry, found mass by mass from the last table to the first."""
    pieces, left, right = entry
    ends: tuple[Counts, Counts] = ({}, {})
    for (mass, count), before in zip(reversed([*stock.items()]), reversed(tables[:-1]), strict=True):
        reached = as_bytes(before)
        on_left, on_right = next(
            (on_left, on_right)
            for on_left in range(min(count, left // mass, pieces) + 1)
            for on_right in range(min(count - on_left, right // mass, pieces - on_left) + 1)
            if is_set(reached, table.bit(pieces - on_left - on_right, left - on_left * mass, right - on_right * mass))
        )
        ends[0][mass], ends[1][mass] = on_left, on_right
        pieces, left, right = pieces - on_left - on_right, left - on_left * mass, right - on_right * mass
    return ends
