"""The web's way: belt formulas from the handbook, a hull around the rollers, and paths that cannot be."""

from math import acos, asin, atan2, cos, degrees, hypot, pi, radians, sin, sqrt

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy.spatial import ConvexHull

from runner.trade.web_path import HORIZONTAL, VERTICAL, Problem, Roller, WebPath, solve


def path(*rollers: Roller) -> WebPath:
    found = solve(rollers)
    assert isinstance(found, WebPath), found
    return found


def test_an_open_belt_has_the_length_of_the_handbook() -> None:
    """Machinery's Handbook (from memory), open belt: span sqrt(C^2 - (R - r)^2), heading off by asin((R - r) / C)."""
    big, small, distance = 0.4, 0.1, 1.5
    found = path(Roller("a", 0, 0, 2 * big, "over"), Roller("b", distance, 0, 2 * small, "over"))
    assert found.length == pytest.approx(sqrt(distance**2 - (big - small) ** 2))
    assert found.contacts[0].heading_out == pytest.approx(-asin((big - small) / distance))


def test_a_crossed_belt_has_the_length_of_the_handbook() -> None:
    """Machinery's Handbook (from memory), crossed belt: span sqrt(C^2 - (R + r)^2), heading off by asin((R + r) / C)."""
    big, small, distance = 0.4, 0.1, 1.5
    found = path(Roller("a", 0, 0, 2 * big, "over"), Roller("b", distance, 0, 2 * small, "under"))
    assert found.length == pytest.approx(sqrt(distance**2 - (big + small) ** 2))
    assert found.contacts[0].heading_out == pytest.approx(-asin((big + small) / distance))


def test_a_wide_roller_between_two_small_ones_is_wrapped_like_the_big_pulley_of_an_open_belt() -> None:
    """Machinery's Handbook (from memory): an open belt wraps its big pulley by 180 degrees + 2 asin((R - r) / C).

    Here the small pulley is two, a little above and below the line of centres, which takes 2 atan(h / C) away.
    """
    big, small, along, aside = 0.4, 0.1, 1.5, 0.2
    found = path(
        Roller("lower", along, -aside, 2 * small, "under"),
        Roller("big", 0, 0, 2 * big, "under"),
        Roller("upper", along, aside, 2 * small, "over"),
    )
    alpha, distance = asin((big - small) / hypot(along, aside)), hypot(along, aside)
    assert found.contacts[1].wrap == pytest.approx(pi + 2 * alpha - 2 * atan2(aside, along))
    assert found.length == pytest.approx(
        2 * sqrt(distance**2 - (big - small) ** 2) + big * (pi + 2 * alpha - 2 * atan2(aside, along))
    )


@given(st.floats(0.02, 0.3), st.floats(0.1, 2.0), st.floats(0.4, 3.0), st.floats(0.4, 3.0))
def test_three_rollers_passed_over_have_the_length_of_their_hull(
    radius: float, height: float, left: float, right: float
) -> None:
    """The web over a roller above its neighbours is part of the convex hull around all three circles."""
    assume(hypot(left, height) > 2.5 * radius and hypot(right, height) > 2.5 * radius and left + right > 2.5 * radius)
    found = solve(
        [
            Roller("a", 0, 0, 2 * radius, "over"),
            Roller("b", left, height, 2 * radius, "over"),
            Roller("c", left + right, 0, 2 * radius, "over"),
        ]
    )
    assert isinstance(found, WebPath)
    corners = [
        (x + radius * cos(2 * pi * k / 720), y + radius * sin(2 * pi * k / 720))
        for x, y in ((0, 0), (left, height), (left + right, 0))
        for k in range(720)
    ]
    around = ConvexHull(corners).area  # the perimeter, in two dimensions
    ends = [found.contacts[0].heading_out, found.contacts[2].heading_in]
    rest = left + right + radius * (2 * pi - (found.contacts[1].wrap))
    assert found.length == pytest.approx(around - rest, rel=2e-4)
    assert ends[0] > 0 > ends[1]


def test_a_bar_below_two_idlers_is_wrapped_half_around() -> None:
    """Statics: both spans straight down to a bar as wide as the gap make 180 degrees and a pull of 2."""
    found = path(
        Roller("in", 0.0, 1.0, 0.1, "over"),
        Roller("bar", 0.15, 0.0, 0.2, "under", VERTICAL),
        Roller("out", 0.3, 1.0, 0.1, "over"),
    )
    assert degrees(found.contacts[1].wrap) == pytest.approx(180)
    assert found.contacts[1].pull == pytest.approx(2.0)
    assert found.contacts[1].turn == 1
    assert found.length == pytest.approx(1.0 + pi * 0.1 + 1.0)


def test_the_pull_along_the_travel_is_less_than_the_whole_pull() -> None:
    """A web that comes in level and leaves straight up pulls a bar with sqrt(2), one of it upwards and one sideways."""
    rollers = [
        Roller("in", -2.0, 0.1, 0.1, "over"),
        Roller("bar", 0.0, 0.25, 0.2, "under"),
        Roller("out", 0.15, 3.0, 0.1, "over"),
        Roller("end", 3.0, 3.0, 0.1, "over"),
    ]
    assert path(*rollers).contacts[1].wrap == pytest.approx(pi / 2)
    for moves, pull in ((None, sqrt(2)), (VERTICAL, 1.0), (HORIZONTAL, 1.0), (pi / 4, 0.0), (-pi / 4, sqrt(2))):
        rollers[1] = rollers[1]._replace(moves=moves)
        assert path(*rollers).contacts[1].pull == pytest.approx(pull)


DANCER = st.tuples(st.floats(0.2, 1.0), st.floats(0.2, 1.0), st.floats(0.3, 1.5), st.floats(0.05, 0.15))


@given(DANCER)
def test_the_pull_is_that_of_the_wrap(numbers: tuple[float, float, float, float]) -> None:
    left, right, drop, radius = numbers
    found = solve(
        [
            Roller("in", 0, 0, radius, "over"),
            Roller("bar", left, -drop, radius, "under"),
            Roller("out", left + right, 0, radius, "over"),
        ]
    )
    assert isinstance(found, WebPath)
    contact = found.contacts[1]
    assert contact.pull == pytest.approx(2 * sin(contact.wrap / 2))
    assert contact.pull == pytest.approx(
        hypot(
            cos(contact.heading_out) - cos(contact.heading_in),
            sin(contact.heading_out) - sin(contact.heading_in),
        )
    )


@given(DANCER, st.floats(-3, 3), st.floats(-3, 3))
def test_moving_or_mirroring_a_press_changes_no_length(
    numbers: tuple[float, float, float, float], dx: float, dy: float
) -> None:
    left, right, drop, radius = numbers
    rollers = [
        Roller("in", 0, 0, radius, "over"),
        Roller("bar", left, -drop, radius * 1.5, "under"),
        Roller("out", left + right, 0.1, radius, "over"),
    ]
    length = path(*rollers).length
    moved = [roller._replace(x=roller.x + dx, y=roller.y + dy) for roller in rollers]
    mirrored = [roller._replace(x=-roller.x) for roller in rollers]
    upside_down = [
        roller._replace(y=-roller.y, side="under" if roller.side == "over" else "over") for roller in rollers
    ]
    backwards = list(reversed(rollers))
    for other in (moved, mirrored, upside_down, backwards):
        assert path(*other).length == pytest.approx(length)


@given(DANCER)
def test_every_span_touches_its_rollers_and_cuts_none(numbers: tuple[float, float, float, float]) -> None:
    left, right, drop, radius = numbers
    found = path(
        Roller("in", 0, 0, radius, "over"),
        Roller("bar", left, -drop, radius, "under"),
        Roller("out", left + right, 0, radius, "over"),
    )
    for a, b, before, after in zip(found.contacts, found.contacts[1:], found.rollers, found.rollers[1:], strict=False):
        for point, roller in ((a.departure, before), (b.arrival, after)):
            assert hypot(point[0] - roller.x, point[1] - roller.y) == pytest.approx(radius / 2)
        span = (b.arrival[0] - a.departure[0], b.arrival[1] - a.departure[1])
        spoke = (a.departure[0] - before.x, a.departure[1] - before.y)
        assert span[0] * spoke[0] + span[1] * spoke[1] == pytest.approx(0, abs=1e-9)


def test_a_web_that_turns_back_to_the_side_counts_as_it_comes_in() -> None:
    """Under, then round the right of a roller and back to one above the first: nearly half a turn."""
    found = path(
        Roller("in", 0, 0, 0.1, "over"), Roller("turn", 2, 0.5, 0.3, "under"), Roller("out", 0, 1.0, 0.1, "over")
    )
    assert found.contacts[1].turn == 1
    assert found.contacts[1].wrap == pytest.approx(pi - 2 * acos(2 / hypot(2, 0.5)), abs=0.25)


def test_a_web_that_turns_back_over_a_high_roller_wraps_the_top() -> None:
    found = path(
        Roller("in", 0, 0, 0.1, "over"), Roller("top", 0.05, 2, 0.2, "over"), Roller("out", -0.5, 0, 0.1, "over")
    )
    assert found.contacts[1].turn == 1  # comes up on the right, leaves down on the left
    assert radians(140) < found.contacts[1].wrap < radians(200)


def test_the_spans_and_arcs_between_two_rollers_add_up() -> None:
    rollers = [Roller(str(n), n * 0.5, 0.2 * (n % 2), 0.1, "under" if n % 2 == 0 else "over") for n in range(6)]
    found = path(*rollers)
    assert found.between(0, 5) == pytest.approx(found.length)
    assert found.between(1, 3) == found.between(3, 1)
    assert found.between(2, 3) == found.spans[2]
    assert found.place("4") == 4
    assert found.place("none") is None


@pytest.mark.parametrize(
    ("rollers", "place", "words"),
    [
        ([Roller("a", 0, 0, 0.1, "over")], 0, "at least two"),
        ([], 0, "at least two"),
        ([Roller("a", 0, 0, 0.1, "over"), Roller("b", 0.05, 0, 0.1, "over")], 1, "overlap"),
        ([Roller("a", 0, 0, 0.1, "over"), Roller("b", 1, 0, 0.0, "over")], 1, "diameter above zero"),
        (
            [Roller("a", 0, 0, 0.1, "over"), Roller("b", 0, 1, 0.1, "over"), Roller("c", 0, 2, 0.1, "over")],
            0,
            "up or down",
        ),
        (
            [Roller("a", 0, 0, 0.1, "over"), Roller("b", 1, -0.5, 0.1, "over"), Roller("c", 2, 0, 0.1, "over")],
            1,
            "does not touch b",
        ),
    ],
)
def test_a_path_that_cannot_be_is_a_problem_with_its_roller(rollers: list[Roller], place: int, words: str) -> None:
    found = solve(rollers)
    assert isinstance(found, Problem)
    assert found.roller == place
    assert words in found.message


@given(
    st.lists(
        st.builds(
            Roller,
            st.sampled_from("abcdef"),
            st.floats(-2, 2),
            st.floats(-2, 2),
            st.floats(-0.1, 0.5),
            st.sampled_from(["over", "under"]),
            st.none() | st.floats(-4, 4),
            st.none(),
        ),
        max_size=5,
    )
)
def test_any_rollers_give_a_path_or_a_problem(rollers: list[Roller]) -> None:
    found = solve(rollers)
    if isinstance(found, WebPath):
        assert found.length >= 0
        assert all(0 <= contact.wrap <= 2 * pi and 0 <= contact.pull <= 2.0000001 for contact in found.contacts)
