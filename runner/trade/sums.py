"""Which masses some pieces add up to, and the fewest pieces for one of them.

A set of masses is one large integer with a bit for each, so that a whole set is shifted or joined in one operation.
Masses are whole numbers of one unit.
"""

from collections.abc import Mapping
from math import floor


def packs(count: int) -> list[int]:
    """Pack sizes 1, 2, 4 ... and a rest, of which some sum to every number from 0 to `count` and none to more."""
    sizes: list[int] = []
    size = 1
    while count > 0:
        sizes.append(min(size, count))
        count -= sizes[-1]
        size *= 2
    return sizes


def reachable(pieces: Mapping[int, int], top: int) -> int:
    """Bit s is set when some of the pieces have the mass s, for s up to `top`."""
    top = min(top, sum(mass * count for mass, count in pieces.items()))  # a target may be far beyond any rack
    sums, mask = 1, (1 << (top + 1)) - 1
    for mass, count in pieces.items():
        for pack in packs(min(count, top // mass)):
            sums |= (sums << pack * mass) & mask
    return sums


def nearest(sums: int, target: float) -> tuple[int, ...]:
    """The set bit nearest to `target`, or both of two equally near; bit 0 is always set."""
    if target >= sums.bit_length():
        return (sums.bit_length() - 1,)
    below = (sums & ((1 << (floor(target) + 1)) - 1)).bit_length() - 1
    upper = sums >> (floor(target) + 1)
    if not upper:
        return (below,)
    above = floor(target) + (upper & -upper).bit_length()
    if target - below == above - target:
        return below, above
    return (below,) if target - below < above - target else (above,)


def fewest_for(pieces: Mapping[int, int], total: int) -> dict[int, int]:
    """The fewest pieces of mass `total`, which must be reachable, as counts by mass; of as few, those with the heaviest ones.

    The lightest mass comes first: after each, `layers[p]` has bit s set when p pieces so far have the mass s. So the
    heaviest mass is taken back first, and as many of it as can be.
    """
    if not total:
        return {}
    masses = [(mass, min(count, total // mass)) for mass, count in sorted(pieces.items()) if mass <= total]
    most = first_fit(masses[::-1], total)
    mask = (1 << (total + 1)) - 1
    layers = [1] + [0] * most
    history = [layers]
    for mass, count in masses:
        layers = list(layers)
        for pack in packs(min(count, most)):
            for number in range(most, pack - 1, -1):
                layers[number] |= (layers[number - pack] << pack * mass) & mask
        history.append(layers)
    number = next(number for number, sums in enumerate(layers) if sums >> total & 1)
    chosen: dict[int, int] = {}
    for (mass, count), before in zip(reversed(masses), reversed(history[:-1]), strict=True):
        used = next(
            used
            for used in range(min(count, number), -1, -1)
            if total >= used * mass and before[number - used] >> (total - used * mass) & 1
        )
        chosen[mass] = used
        number -= used
        total -= used * mass
    return chosen


def first_fit(masses: list[tuple[int, int]], total: int) -> int:
    """Number of pieces in some way to reach `total`: as many of each heavier mass as leave the rest reachable."""
    pieces = 0
    for place, (mass, count) in enumerate(masses):
        rest = reachable(dict(masses[place + 1 :]), total)
        used = next(used for used in range(count, -1, -1) if total >= used * mass and rest >> (total - used * mass) & 1)
        pieces += used
        total -= used * mass
    return pieces


def as_bytes(sums: int) -> bytes:
    """A set as bytes, in which one bit is read without copying all of it."""
    return sums.to_bytes(sums.bit_length() // 8 + 1, "little")


def is_set(sums: bytes, bit: int) -> bool:
    """Whether a bit of a set is set."""
    return bit // 8 < len(sums) and bool(sums[bit // 8] >> bit % 8 & 1)
