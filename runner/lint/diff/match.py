"""What in the old text is the same thing in the new one: by name first, then by likeness.

Likeness is a share from 0 to 1. What is like several is paired with the likest, and nothing is paired twice.
"""

from collections.abc import Callable, Hashable, Iterable, Sequence
from typing import Generic, NamedTuple, TypeVar

Thing = TypeVar("Thing")

ALIKE = 0.6
"""Share from which two things of different names are taken for one."""


class Matched(NamedTuple, Generic[Thing]):
    """Things of the same kind, paired."""

    both: tuple[tuple[Thing, Thing], ...]
    """(old, new), in the order of the new text."""
    gone: tuple[Thing, ...]
    come: tuple[Thing, ...]


def matched(
    old: Iterable[Thing],
    new: Iterable[Thing],
    name: Callable[[Thing], str],
    like: Callable[[Thing, Thing], float] | None = None,
    called: Callable[[str], str] = str,
    twin: Callable[[Thing], Hashable] | None = None,
) -> Matched[Thing]:
    """Pair things. `called` says how an old name is written in the new text, where that is known; things of other names
    with the same `twin`, and as many in both texts, are paired in order without a look at the others."""
    olds, news = list(old), list(new)
    places: dict[str, list[int]] = {}
    for index, thing in enumerate(news):
        places.setdefault(name(thing), []).append(index)
    pairs: dict[int, int] = {}
    for index, thing in enumerate(olds):
        waiting = places.get(called(name(thing)))
        if waiting:
            pairs[waiting.pop(0)] = index
    if twin is not None:
        pairs |= twins(olds, news, pairs, twin)
    if like is not None:
        paired = set(pairs.values())
        free_old = [index for index in range(len(olds)) if index not in paired]
        free_new = [index for index in range(len(news)) if index not in pairs]
        pairs |= likest(olds, news, free_old, free_new, like)
    taken = set(pairs.values())
    return Matched(
        tuple((olds[pairs[index]], news[index]) for index in sorted(pairs)),
        tuple(thing for index, thing in enumerate(olds) if index not in taken),
        tuple(thing for index, thing in enumerate(news) if index not in pairs),
    )


def twins(
    olds: Sequence[Thing], news: Sequence[Thing], pairs: dict[int, int], twin: Callable[[Thing], Hashable]
) -> dict[int, int]:
    """Indices of new things to those of old ones, where both texts have as many of a kind, in order."""
    paired = set(pairs.values())
    sides: list[dict[Hashable, list[int]]] = [{}, {}]
    for side, things, taken in ((sides[0], olds, paired), (sides[1], news, set(pairs))):
        for index, thing in enumerate(things):
            if index not in taken:
                side.setdefault(twin(thing), []).append(index)
    both = ((sides[1][key], indices) for key, indices in sides[0].items() if key in sides[1])
    return {
        index_new: index_old
        for new, old in both
        if len(new) == len(old)
        for index_new, index_old in zip(new, old, strict=True)
    }


def likest(
    olds: Sequence[Thing],
    news: Sequence[Thing],
    free_old: list[int],
    free_new: list[int],
    like: Callable[[Thing, Thing], float],
) -> dict[int, int]:
    """Indices of new things to those of old ones that are alike."""
    ranked = sorted(
        ((like(olds[one], news[other]), -abs(one - other), other, one) for one in free_old for other in free_new),
        reverse=True,
    )
    found: dict[int, int] = {}
    for share, _, other, one in ranked:
        if share >= ALIKE and other not in found and one not in found.values():
            found[other] = one
    return found


def likeness(one: str, other: str) -> float:
    """How alike two texts are, as the share of their words that they have in common, in order."""
    from difflib import SequenceMatcher

    if one == other:
        return 1.0
    return SequenceMatcher(None, one.casefold().split(), other.casefold().split(), autojunk=False).ratio()


def moved(order: Sequence[int]) -> frozenset[int]:
    """The fewest entries of a sequence of different numbers that have to move for it to rise."""
    ends: list[int] = []
    """Positions of the last entries of rising runs, by their length."""
    before: dict[int, int] = {}
    for position, number in enumerate(order):
        low, high = 0, len(ends)
        while low < high:
            middle = (low + high) // 2
            if order[ends[middle]] < number:
                low = middle + 1
            else:
                high = middle
        if low:
            before[position] = ends[low - 1]
        ends[low : low + 1] = [position]
    stays: set[int] = set()
    at = ends[-1] if ends else None
    while at is not None:
        stays.add(order[at])
        at = before.get(at)
    return frozenset(order) - stays
