"""The tightest bounds of a formula over a box that are worth their time: never too narrow, and to 1 % where that can be had.

A name that stands in a formula more than once makes plain interval arithmetic too wide. The box is then cut again and again
where the bounds are furthest from values that were really seen, until both agree or the cuts are used up.
"""

from collections.abc import Callable
from math import isfinite
from typing import NamedTuple

from runner.formula import interval
from runner.formula.bounds import Box, possible
from runner.formula.evaluate import Value, ready
from runner.formula.expr import Expr, Name, Reference, nodes
from runner.formula.interval import Interval, Possible, Texts, Truths, Unbounded
from runner.formula.scope import Scope

MOST_CUTS = 120
"""Most cuts of a box for one formula."""
TIGHT = 0.01
"""Share of the width of the values seen, by which bounds may be wider without being cut further."""
ROUNDING = 1e-11
"""Share of a value that is no more than rounding: no cut makes the bounds of a value that does not change tighter."""


class Part(NamedTuple):
    """A part of the box and what the formula may come to over it."""

    box: Box
    found: Possible


def bounds(expr: Expr, box: Box, scope: Scope) -> Interval | Unbounded:
    """An interval that holds every value of a checked number formula over the box; `Unbounded` where some have none."""
    found = refined(expr, box, scope)
    return found if isinstance(found, Interval | Unbounded) else Unbounded("this is no number", *expr.span)


def truths(expr: Expr, box: Box, scope: Scope) -> Truths | Unbounded:
    """Whether a checked condition may be true, and whether it may be false, over the box."""
    found = refined(expr, box, scope)
    return found if isinstance(found, Truths | Unbounded) else Unbounded("this is no condition", *expr.span)


def refined(expr: Expr, box: Box, scope: Scope) -> Possible:
    """What a formula may come to over a box, cut along the names that stand in it more than once."""
    names = [name for name in repeated_names(expr, scope) if is_wide(box.get(name))]
    whole = possible(expr, box, scope)
    if not names or (isinstance(whole, Truths) and not (whole.true and whole.false)):
        return whole
    search = Search(lambda part: possible(expr, part, scope), seen_by(expr, scope), names, box)
    return search.run(Part(box, whole))


def seen_by(expr: Expr, scope: Scope) -> Callable[[dict[str, Value]], Value | None]:
    """The value of a formula at a point, None where it has none."""
    try:
        value_at = ready(expr, scope)
    except (ValueError, KeyError):
        return lambda _: None

    def value(values: dict[str, Value]) -> Value | None:
        try:
            found = value_at(values)
        except (ArithmeticError, ValueError, TypeError, KeyError, IndexError):
            return None
        return found if not isinstance(found, float) or isfinite(found) else None

    return value


class Search:
    """Best first: the part that holds an end of the bounds is cut, and values seen in it say how far it may still move."""

    def __init__(
        self,
        over: Callable[[Box], Possible],
        at: Callable[[dict[str, Value]], Value | None],
        names: list[str],
        whole: Box,
    ) -> None:
        self.over, self.at, self.names, self.whole = over, at, names, whole
        self.low, self.high = float("inf"), float("-inf")
        self.missing = False
        """Whether some point of the box was seen to have no value."""
        self.truths: set[bool] = set()

    def run(self, first: Part) -> Possible:
        """The bounds over all parts in the end."""
        self.look(first.box)
        parts = [first]
        for _ in range(MOST_CUTS):
            place = self.worst(parts)
            if place is None or self.missing:
                break
            whole = parts.pop(place)
            for box in halves(whole.box, self.names, self.whole):
                parts.append(Part(box, self.over(box)))
                self.look(box)
        return joined([part.found for part in parts])

    def look(self, box: Box) -> None:
        """Take values at the corners and in the middle of a part into account."""
        for share in (0.0, 1.0, 0.5):
            found = self.at(point_in(box, share))
            if found is None:
                self.missing = True
            elif isinstance(found, bool):
                self.truths.add(found)
            elif isinstance(found, float | int):
                self.low, self.high = min(self.low, found), max(self.high, found)

    def worst(self, parts: list[Part]) -> int | None:
        """The part to cut next, None when nothing is gained by it."""
        for place, part in enumerate(parts):
            if isinstance(part.found, Unbounded):
                return place if can_be_cut(part.box, self.names) else None
        if isinstance(parts[0].found, Truths):
            open_ends = {True, False} - self.truths
            undecided = (n for n, part in enumerate(parts) if any(may(part.found, end) for end in open_ends))
            return next(undecided, None)
        lows = [part.found.low for part in parts if isinstance(part.found, Interval)]
        highs = [part.found.high for part in parts if isinstance(part.found, Interval)]
        if len(lows) < len(parts):
            return None
        below, above = self.low - min(lows), max(highs) - self.high
        noise = ROUNDING * max(abs(self.low), abs(self.high))
        if max(below, above) <= TIGHT / 2.0 * (self.high - self.low) + noise:
            return None
        place = lows.index(min(lows)) if below >= above else highs.index(max(highs))
        return place if can_be_cut(parts[place].box, self.names) else None


def may(found: Possible, truth: bool) -> bool:
    """Whether a condition may come out so."""
    return isinstance(found, Truths) and (found.true if truth else found.false)


def joined(parts: list[Possible]) -> Possible:
    """The smallest that holds all parts, which are of one kind; the first unbounded one wins."""
    for part in parts:
        if isinstance(part, Unbounded):
            return part
    numbers = [part for part in parts if isinstance(part, Interval)]
    if numbers:
        return interval.hull(numbers)
    conditions = [part for part in parts if isinstance(part, Truths)]
    if conditions:
        return Truths(any(part.true for part in conditions), any(part.false for part in conditions))
    texts = [part.may for part in parts if isinstance(part, Texts)]
    known = [may for may in texts if may is not None]
    return Texts(frozenset().union(*known) if len(known) == len(texts) else None)


def repeated_names(expr: Expr, scope: Scope) -> list[str]:
    """Names that stand in a formula more than once, or in the rollers of its web paths, most often first."""
    counts: dict[str, int] = {}
    for node in nodes(expr):
        if isinstance(node, Name):
            counts[node.id] = counts.get(node.id, 0) + 1
        elif isinstance(node, Reference) and node.to == "path":
            for roller in scope.paths.get(node.id, ()):
                for part in (*nodes(roller.x), *nodes(roller.y), *nodes(roller.diameter)):
                    if isinstance(part, Name):
                        counts[part.id] = counts.get(part.id, 0) + 2
    return sorted((name for name, count in counts.items() if count > 1), key=lambda name: -counts[name])


def is_wide(part: Interval | Texts | Truths | None) -> bool:
    """Whether there is something to cut."""
    match part:
        case Interval():
            return part.low < part.high
        case Texts():
            return part.may is not None and len(part.may) > 1
        case _:
            return False


def can_be_cut(box: Box, names: list[str]) -> bool:
    """Whether some name of a part is wide."""
    return any(is_wide(box.get(name)) for name in names)


def halves(box: Box, names: list[str], whole: Box) -> list[Box]:
    """A part cut in two along the name that keeps most of its first width; texts before numbers."""

    def width(name: str) -> float:
        now, first = box[name], whole[name]
        match now, first:
            case Interval(), Interval():
                return (now.high - now.low) / (first.high - first.low)
            case Texts(), _:
                return 2.0 if is_wide(now) else 0.0
        return 0.0

    widest = max(names, key=width)
    now = box[widest]
    match now:
        case Interval():
            middle = now.low + (now.high - now.low) / 2.0
            return [{**box, widest: Interval(now.low, middle)}, {**box, widest: Interval(middle, now.high)}]
        case Texts(may=frozenset() as may_be):
            each = sorted(may_be)
            half = len(each) // 2
            return [{**box, widest: Texts(frozenset(part))} for part in (each[:half], each[half:])]
    return [box]


def point_in(box: Box, share: float) -> dict[str, Value]:
    """One point of a box: so far along every interval, one of the texts."""
    point: dict[str, Value] = {}
    for name, part in box.items():
        match part:
            case Interval():
                point[name] = min(part.high, part.low + (part.high - part.low) * share)
            case Texts(may=frozenset() as may_be) if may_be:
                point[name] = min(may_be) if share < 0.75 else max(may_be)
            case Truths():
                point[name] = part.true
    return point
