"""A bar on its travel: by hand where both spans hang straight down, and the ways in which a travel can go wrong."""

from itertools import pairwise
from math import asin, atan2, cos, degrees, hypot, pi, radians, sin

import pytest
from hypothesis import given
from hypothesis import strategies as st

from runner.trade.web_path import HORIZONTAL, VERTICAL, Problem, Roller, WebPath
from runner.trade.web_path.travel import (
    TravelRow,
    at_place,
    place_of_share,
    spread,
    take_up,
    taken_up,
    travel_table,
    with_roller_at,
)
from tests.trade.webs import path

# Two idlers as far apart as the bar is thick: both spans hang straight down, the wrap is 180 degrees everywhere.
STRAIGHT = (
    Roller("in", 0.0, 1.0, 0.1, "over"),
    Roller("bar", 0.15, 0.0, 0.2, "under", VERTICAL, (-0.4, 0.3)),
    Roller("out", 0.3, 1.0, 0.1, "over"),
)
# Wide apart: the flatter the spans, the less they pull on the bar.
WIDE = (
    Roller("in", -0.6, 1.0, 0.1, "over"),
    Roller("bar", 0.0, 0.0, 0.1, "under", VERTICAL, (-0.5, 0.5)),
    Roller("out", 0.6, 1.0, 0.1, "over"),
)


@given(st.floats(-0.4, 0.3))
def test_a_bar_between_upright_spans_takes_up_twice_its_way(place: float) -> None:
    """Statics and geometry by hand: two spans, each longer by the way; pull 2 at every place."""
    found = path(*STRAIGHT)
    (row,) = travel_table(found, 1, (place,))
    assert isinstance(row, TravelRow)
    assert row.length == pytest.approx(found.length - 2 * place)
    assert taken_up(found, path(STRAIGHT[0], at_place(STRAIGHT[1], place), STRAIGHT[2])) == pytest.approx(-2 * place)
    assert take_up(found, 1) == pytest.approx(2 * 0.7)
    assert degrees(row.wrap) == pytest.approx(180)
    assert row.factor == pytest.approx(2)


def test_the_pull_of_a_wide_bar_falls_as_it_comes_up() -> None:
    """Spans of direction a from the vertical pull with 2 cos a; tan a is half the gap through the drop, all radii equal."""
    rows = travel_table(path(*WIDE), 1, spread(-0.5, 0.5, 5))
    for place, row in zip(spread(-0.5, 0.5, 5), rows, strict=True):
        assert isinstance(row, TravelRow)
        drop, gap, radii = 1.0 - place, 0.6, 0.1
        # crossed belt: the span is steeper than the line of centres by asin((R + r) / C)
        steep = atan2(drop, gap) + asin(radii / hypot(drop, gap))
        assert row.factor == pytest.approx(2 * sin(steep))
    factors = [row.factor for row in rows if isinstance(row, TravelRow)]
    assert all(after < before for before, after in pairwise(factors))


def test_a_roller_travels_along_its_direction() -> None:
    roller = STRAIGHT[1]
    assert at_place(roller, 0.2)[1:3] == (0.15, 0.2)
    assert at_place(roller._replace(moves=HORIZONTAL), 0.2)[1:3] == (0.35, 0.0)
    slanted = at_place(roller._replace(moves=radians(30)), 0.2)
    assert slanted[1:3] == pytest.approx((0.15 + 0.2 * cos(pi / 6), 0.1))
    assert at_place(roller._replace(moves=None), 0.2) == roller._replace(moves=None)


def test_a_place_where_the_web_cannot_run_is_a_problem_in_its_row() -> None:
    rows = travel_table(path(STRAIGHT[0], STRAIGHT[1]._replace(x=0.14), STRAIGHT[2]), 1, (0.0, 1.0))
    assert isinstance(rows[0], TravelRow)
    assert isinstance(rows[1], Problem)
    assert "overlap" in rows[1].message


def test_a_web_does_not_jump_to_the_other_side_of_a_roller() -> None:
    """Drawn, the web travels to the right past the bar; moved past its neighbour it would have to be led anew."""
    rollers = [
        Roller("in", 0.0, 1.0, 0.1, "over"),
        Roller("bar", 0.6, 0.0, 0.1, "under", HORIZONTAL, (-2.0, 0.1)),
        Roller("out", 1.2, 1.0, 0.1, "over"),
        Roller("end", 2.0, 1.0, 0.1, "under"),
    ]
    moved = with_roller_at(path(*rollers), 1, 2.0)
    assert isinstance(moved, Problem | WebPath)
    far = with_roller_at(path(*rollers), 1, -2.0)
    assert isinstance(far, Problem)


@pytest.mark.parametrize(("share", "place"), [(0, -0.4), (1, 0.3), (0.5, -0.05)])
def test_a_share_of_the_travel_is_a_place(share: float, place: float) -> None:
    assert place_of_share(STRAIGHT[1], share) == pytest.approx(place)


@pytest.mark.parametrize(
    ("roller", "share", "words"), [(0, 0.5, "has no travel"), (1, 1.1, "not between 0 and 1"), (1, -0.1, "not between")]
)
def test_no_share_leads_off_the_travel(roller: int, share: float, words: str) -> None:
    with pytest.raises(ValueError, match=words):
        place_of_share(STRAIGHT[roller], share)


def test_places_are_spread_from_end_to_end() -> None:
    assert spread(-0.5, 0.3, 3) == pytest.approx((-0.5, -0.1, 0.3))
    assert spread(0.1, 0.7, 2) == (0.1, 0.7)
