"""Bounds of whole web paths over random boxes: what may be called possible is possible at every point of the box."""

from hypothesis import given, settings
from hypothesis import strategies as st

from runner.formula.interval import Interval, Unbounded
from runner.formula.path_bounds import PathBounds, RollerBox, bound_path, with_roller_at
from runner.trade.web_path import Roller, WebPath, solve, travel

SIDES = st.sampled_from(["over", "under"])
WIDTHS = st.sampled_from([0.0, 0.01, 0.1])


@st.composite
def boxes(draw: st.DrawFn) -> tuple[RollerBox, ...]:
    """Three to five rollers, roughly from left to right, each a little anywhere."""
    rollers = []
    for number in range(draw(st.integers(3, 5))):
        x, y = number * 0.6 + draw(st.floats(-0.4, 0.4)), draw(st.floats(-0.6, 0.6))
        size = draw(st.floats(0.05, 0.5))
        rollers.append(
            RollerBox(
                f"r{number}", Interval(x, x + draw(WIDTHS)), Interval(y, y + draw(WIDTHS)),
                Interval(size, size + draw(WIDTHS)), draw(SIDES), draw(st.none() | st.floats(-3.2, 3.2)), (-0.1, 0.1),
            )
        )  # fmt: skip
    return tuple(rollers)


def at(value: float) -> Interval:
    """One value alone."""
    return Interval(value, value)


def point(box: tuple[RollerBox, ...], shares: list[float]) -> list[Roller]:
    """Rollers somewhere in the box."""
    left = iter(shares)

    def some(part: Interval) -> float:
        return min(part.high, part.low + (part.high - part.low) * next(left))

    return [Roller(r.name, some(r.x), some(r.y), some(r.diameter), r.side, r.moves, r.travel) for r in box]


SHARES = st.lists(st.sampled_from([0.0, 0.5, 1.0]) | st.floats(0, 1), min_size=15, max_size=15)


@settings(max_examples=300, deadline=None)
@given(boxes(), st.lists(SHARES, min_size=4, max_size=4))
def test_every_point_of_a_bounded_box_is_a_path_within_the_bounds(
    box: tuple[RollerBox, ...], points: list[list[float]]
) -> None:
    found = bound_path(box)
    if isinstance(found, Unbounded):
        return
    for shares in points:
        path = solve(point(box, shares))
        assert isinstance(path, WebPath), path
        assert [contact.turn for contact in path.contacts] == list(found.turns)
        for place in range(1, len(box) - 1):
            bounds, contact = found.contacts[place], path.contacts[place]
            assert bounds.wrap.low <= contact.wrap <= bounds.wrap.high
            assert bounds.arc.low <= contact.arc <= bounds.arc.high
            assert bounds.pull.low <= contact.pull <= bounds.pull.high
        for bound, span in zip(found.spans, path.spans, strict=True):
            assert bound.low <= span <= bound.high
        whole = found.between(0, len(box) - 1)
        assert isinstance(whole, Interval)
        assert whole.low <= path.length <= whole.high


@settings(max_examples=100, deadline=None)
@given(boxes(), SHARES, st.floats(0, 1))
def test_a_roller_anywhere_on_its_travel_is_within_the_bounds(
    box: tuple[RollerBox, ...], shares: list[float], share: float
) -> None:
    whole = bound_path(box)
    moved = with_roller_at(whole, 1, Interval(-0.1, 0.1)) if isinstance(whole, PathBounds) else whole
    if isinstance(moved, Unbounded):
        return
    path = solve(point(box, shares))
    assert isinstance(path, WebPath)
    there = travel.with_roller_at(path, 1, -0.1 + 0.2 * share)
    assert isinstance(there, WebPath), there
    for bound, span in zip(moved.spans, there.spans, strict=True):
        assert bound.low <= span <= bound.high


def test_a_path_that_is_one_path_and_runs_is_nearly_always_proven_to() -> None:
    """Bounds are of use: where a path is one path, the proof finds it nearly as often as the solution itself."""
    runs = proven = 0
    for number in range(400):
        rollers = [
            Roller(
                f"r{k}",
                k * 0.6,
                0.5 * ((number * (k + 3) * 7919 % 100) / 100 - 0.5),
                0.1,
                "over" if (number >> k) % 2 else "under",
            )
            for k in range(5)
        ]
        if isinstance(solve(rollers), WebPath):
            runs += 1
            box = tuple(RollerBox(r.name, at(r.x), at(r.y), at(r.diameter), r.side) for r in rollers)
            proven += isinstance(bound_path(box), PathBounds)
    assert runs > 20
    assert proven > 0.9 * runs
