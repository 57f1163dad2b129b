"""Paths that no web can take: each is told at the roller where the author has to look, and nothing possible is refused."""

import pytest

from runner.trade.web_path import Problem, Roller, WebPath, solve


def rollers_of(*rows: tuple[float, float, float, str]) -> list[Roller]:
    """Rollers a, b, c and so on."""
    return [Roller("abcdefgh"[n], *row) for n, row in enumerate(rows)]


THROUGH_A_LATER = rollers_of((0, 0, 0.1, "over"), (1, 0, 0.1, "over"), (0.5, -0.06, 0.26, "under"))
THROUGH_AN_EARLIER = rollers_of((0, 0, 1.0, "under"), (2, 0, 0.2, "under"), (-2, 0.1, 0.2, "over"))
LOOP = rollers_of(
    (0, 0, 0.1, "over"), (1, 0, 0.1, "over"), (1, -0.6, 0.1, "under"), (0.5, -0.6, 0.1, "under"),
    (0.5, 0.8, 0.1, "over"), (1.5, 0.8, 0.1, "over"),
)  # fmt: skip


@pytest.mark.parametrize(
    ("rollers", "place", "words"),
    [
        (THROUGH_A_LATER, 2, "runs through c on its way from a to b"),
        (THROUGH_AN_EARLIER, 0, "runs through a on its way from b to c"),
        (LOOP, 4, "through itself: on its way from d to e it crosses the way from a to b"),
        (rollers_of((0, 0, 1.0, "over"), (2, 0, 0.2, "under"), (-2, 0.1, 0.2, "over")), 1, "itself right behind b"),
        (rollers_of((0, 0, 0.1, "over"), (1, 0.5, 0.1, "under"), (2, 0, 0.1, "over")), 1, "does not touch b"),
        (rollers_of((0, 0, 0.1, "over"), (0.5, 0, 0.5, "over"), (0.7, 0.1, 0.1, "over")), 2, "c and b overlap"),
        (rollers_of((0, 0, 0.1, "over"), (0.5, 0.02, 0.1, "over"), (0, 0.03, 0.1, "over")), 2, "c and a overlap"),
        (rollers_of((0, 0, 0.1, "over"), (1, 0, float("nan"), "over")), 1, "diameter above zero"),
    ],
)
def test_the_problem_stands_at_its_roller(rollers: list[Roller], place: int, words: str) -> None:
    found = solve(rollers)
    assert isinstance(found, Problem)
    assert (found.roller, words in found.message) == (place, True), found


def test_a_span_may_pass_close_to_a_roller() -> None:
    """A millimetre of room is room: the third roller's top is just below the first span."""
    rollers = rollers_of(
        (0, 0, 0.1, "over"), (1, 0, 0.1, "over"), (1.5, -0.5, 0.1, "under"), (0.5, -0.051, 0.2, "under")
    )
    found = solve(rollers)
    assert isinstance(found, WebPath), found
    touching = rollers[3]._replace(y=-0.049)
    problem = solve([*rollers[:3], touching])
    assert isinstance(problem, Problem)
    assert problem.roller == 3


def test_a_roller_may_be_wrapped_by_more_than_half() -> None:
    """Two rollers close together, the web round most of both: an S-wrap, which real webs take."""
    found = solve(
        rollers_of((-1, 0.5, 0.1, "over"), (0.0, 0.0, 0.3, "under"), (-0.2, 0.38, 0.3, "over"), (1, 0.4, 0.1, "under"))
    )
    assert isinstance(found, WebPath), found
    assert max(contact.wrap for contact in found.contacts) > 3.2
