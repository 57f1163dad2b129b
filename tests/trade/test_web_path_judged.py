"""The web path against others: hulls and lines of shapely, belt lengths of the handbook, integrals of scipy, virtual work."""

from math import asin, cos, hypot, pi, radians, sin, sqrt

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import quad

from runner.trade.web_path import HORIZONTAL, VERTICAL, Problem, Roller, WebPath, solve
from runner.trade.web_path.impossible import clearance, crossing
from runner.trade.web_path.solving import laid
from runner.trade.web_path.travel import taken_up, with_roller_at
from tests.trade.webs import ROWS, arc, disc, path, span

ANGLES = st.floats(-pi, pi)


def closed(rollers: list[Roller], turns: list[int]) -> float:
    """Length of a belt around rollers in their order, back to the first."""
    count = len(rollers)
    found = laid([*rollers, *rollers[:2]], [*turns, *turns[:2]])
    return found.between(0, count) + found.contacts[count].arc


@given(st.floats(0.05, 0.5), st.floats(0.05, 0.5), st.floats(1.1, 4.0))
def test_a_closed_belt_has_the_lengths_of_the_handbook(big: float, small: float, distance: float) -> None:
    """Machinery's Handbook, belt lengths (formulas from memory): open belt 2 sqrt(C^2 - (R - r)^2) + pi (R + r) +
    2 (R - r) asin((R - r) / C), crossed belt 2 sqrt(C^2 - (R + r)^2) + (R + r)(pi + 2 asin((R + r) / C))."""
    rollers = [Roller("a", 0, 0, 2 * big, "over"), Roller("b", distance, 0, 2 * small, "over")]
    less, more = big - small, big + small
    open_belt = 2 * sqrt(distance**2 - less**2) + pi * more + 2 * less * asin(less / distance)
    crossed = 2 * sqrt(distance**2 - more**2) + more * (pi + 2 * asin(more / distance))
    assert closed(rollers, [1, 1]) == pytest.approx(open_belt, rel=1e-12)
    assert closed(rollers, [1, -1]) == pytest.approx(crossed, rel=1e-12)


@settings(max_examples=30, deadline=None)
@given(st.lists(st.tuples(st.floats(0.95, 1.05), st.floats(0.05, 0.07)), min_size=3, max_size=6), ANGLES)
def test_a_belt_around_rollers_is_as_long_as_their_hull(rim: list[tuple[float, float]], first: float) -> None:
    """shapely: perimeter of the convex hull of discs; its outlines lie inside the circles, so it is a little short."""
    rollers = [
        Roller(
            str(n), far * cos(first + 2 * pi * n / len(rim)), far * sin(first + 2 * pi * n / len(rim)), 2 * r, "over"
        )
        for n, (far, r) in enumerate(rim)
    ]
    hull = shapely.union_all([disc(roller) for roller in rollers]).convex_hull
    assert closed(rollers, [1] * len(rollers)) == pytest.approx(hull.length, rel=1e-5)


@settings(max_examples=40, deadline=None)
@given(ROWS)
def test_spans_touch_their_two_rollers_and_no_other(rollers: list[Roller]) -> None:
    """shapely: distance of each span from each disc; for its own two rollers it also never enters them."""
    found = path(*rollers)
    for number in range(len(found.spans)):
        line = span(found, number)
        assert line.length == pytest.approx(found.spans[number], rel=1e-9)
        for place, roller in enumerate(rollers):
            room = line.distance(shapely.Point(roller.x, roller.y)) - roller.radius
            if place in (number, number + 1):
                assert room == pytest.approx(0, abs=1e-9)
                assert line.intersection(disc(roller).buffer(-1e-6)).is_empty
            else:
                assert room > 0
                assert clearance(found, number, place) == pytest.approx(room, abs=1e-9)


@settings(max_examples=40, deadline=None)
@given(ROWS)
def test_the_whole_web_is_one_line_that_never_crosses_itself(rollers: list[Roller]) -> None:
    """shapely: spans and arcs together are simple, hang together and are as long as said."""
    found = path(*rollers)
    points = [found.contacts[0].departure]
    for place in range(1, len(rollers) - 1):
        points += [tuple(point) for point in arc(found, place)]
    points.append(found.contacts[-1].arrival)
    web = shapely.LineString(points)
    assert web.is_simple
    assert web.length == pytest.approx(found.length, rel=1e-6)
    for place, contact in enumerate(found.contacts[1:-1], start=1):
        assert arc(found, place)[0] == pytest.approx(contact.arrival, abs=1e-9)
        assert arc(found, place)[-1] == pytest.approx(contact.departure, abs=1e-9)


@settings(max_examples=60, deadline=None)
@given(
    st.lists(
        st.builds(
            Roller, st.just("r"), st.floats(-1, 1), st.floats(-1, 1), st.floats(0.02, 0.4), st.sampled_from(["over", "under"]),
            moves=st.none(), travel=st.none(),
        ),
        min_size=3,
        max_size=5,
    )
)  # fmt: skip
def test_whatever_is_called_possible_is_free_of_faults_that_shapely_sees(rollers: list[Roller]) -> None:
    found = solve(rollers)
    if isinstance(found, Problem):
        return
    for number in range(len(found.spans)):
        for place, roller in enumerate(rollers):
            if place not in (number, number + 1):
                assert span(found, number).distance(shapely.Point(roller.x, roller.y)) >= roller.radius - 2e-9
        for other in range(number):
            assert crossing(found, other, number) is False
            assert not span(found, other).buffer(-1e-9).crosses(span(found, number))


@given(ROWS)
def test_the_force_is_the_integral_of_the_pressure_on_the_arc(rollers: list[Roller]) -> None:
    """scipy: a web of tension T presses on a roller with T / r a metre of arc, along the inward normal."""
    found = path(*rollers)
    for place in range(1, len(rollers) - 1):
        contact = found.contacts[place]
        start = contact.heading_in - contact.turn * (pi / 2)
        across, _ = quad(lambda a, s=start, t=contact.turn: -cos(s + t * a), 0.0, contact.wrap)
        upwards, _ = quad(lambda a, s=start, t=contact.turn: -sin(s + t * a), 0.0, contact.wrap)
        assert (across, upwards) == pytest.approx(contact.force, abs=1e-9)
        assert contact.resultant == pytest.approx(2 * sin(contact.wrap / 2), abs=1e-12)
        assert contact.pull == pytest.approx(contact.resultant)
        assert contact.arc == pytest.approx(found.rollers[place].radius * contact.wrap)
        if contact.force_direction is not None:
            assert hypot(*contact.force) * cos(contact.force_direction) == pytest.approx(contact.force[0], abs=1e-9)


@given(ROWS, st.sampled_from([VERTICAL, HORIZONTAL, radians(30), radians(-75), radians(140)]))
def test_the_pull_along_a_travel_is_the_web_given_up_for_each_metre_of_it(rollers: list[Roller], moves: float) -> None:
    """Virtual work: for a tension of 1 the work of the force is the length that comes free, so pull = |d length / d place|."""
    rollers[1] = rollers[1]._replace(moves=moves)
    found, step = path(*rollers), 1e-5
    ends = [with_roller_at(found, 1, place) for place in (-step, step)]
    moved = [end for end in ends if isinstance(end, WebPath)]
    assert len(moved) == 2
    assert found.contacts[1].pull == pytest.approx(abs(taken_up(*moved)) / (2 * step), abs=1e-6)


@given(ROWS, ANGLES, st.floats(0.1, 10), st.floats(-5, 5), st.floats(-5, 5))
def test_turning_shifting_and_scaling_a_path_changes_nothing_but_its_size(
    rollers: list[Roller], angle: float, scale: float, dx: float, dy: float
) -> None:
    found = path(*rollers)
    turned = [
        roller._replace(
            x=scale * (roller.x * cos(angle) - roller.y * sin(angle)) + dx,
            y=scale * (roller.x * sin(angle) + roller.y * cos(angle)) + dy,
            diameter=scale * roller.diameter,
        )
        for roller in rollers
    ]
    # over and under are told from the horizontal; turned, the rollers still turn the way they did
    other = laid(turned, [contact.turn for contact in found.contacts])
    assert other.length == pytest.approx(scale * found.length, rel=1e-9)
    for mine, theirs in zip(found.contacts, other.contacts, strict=True):
        assert theirs.wrap == pytest.approx(mine.wrap, abs=1e-7)
        assert theirs.resultant == pytest.approx(mine.resultant, abs=1e-7)


@given(ROWS)
def test_backwards_and_mirrored_the_path_is_as_long(rollers: list[Roller]) -> None:
    found = path(*rollers)
    backwards = path(*reversed(rollers))
    mirrored = path(*(roller._replace(x=-roller.x) for roller in rollers))
    other = {"over": "under", "under": "over"}
    upside_down = path(*(roller._replace(y=-roller.y, side=other[roller.side]) for roller in rollers))
    for one in (backwards, mirrored, upside_down):
        assert one.length == pytest.approx(found.length, rel=1e-12)
    wraps = [contact.wrap for contact in found.contacts]
    assert [contact.wrap for contact in backwards.contacts] == pytest.approx(wraps[::-1], abs=1e-9)
    assert [contact.wrap for contact in mirrored.contacts] == pytest.approx(wraps, abs=1e-9)
    assert all(0 <= wrap < 2 * pi for wrap in wraps)
