"""Plots and bars in characters: they fit, they show what the numbers do, and they need no colour."""

import unicodedata
from collections.abc import Sequence

import pytest
from hypothesis import given as drawn
from hypothesis import settings
from hypothesis import strategies as st
from rich.cells import cell_len

from runner.report.working.bars import bar_lines
from runner.report.working.marks import ASCII, UNICODE, Signs
from runner.report.working.plot import BRAILLE, DOTS, ROWS, plot_lines
from runner.report.working.scale import scale_of
from runner.report.working.swept import Bound, Curve

NUMBERS = st.floats(-1e9, 1e9) | st.none()


def curve(ys: Sequence[float | None], verdicts: list[str] | None = None, *bounds: Bound) -> Curve:
    return Curve(
        "mass", "kg", tuple(map(float, range(len(ys)))), tuple(ys), tuple(verdicts or ["in"] * len(ys)), bounds
    )


def plotted(one: Curve, signs: Signs = ASCII, width: int = 40) -> list[str]:
    return [line.plain for line in plot_lines(one, ("0 mm", "9 mm"), width, signs)]


def picture(one: Curve, signs: Signs = ASCII) -> list[str]:
    """The picture itself: what stands behind the upright axis."""
    lines = [line for line in plotted(one, signs) if signs.upright in line or signs.tick in line][:ROWS]
    return [line[max(line.find(signs.upright), line.find(signs.tick)) + 1 :] for line in lines]


def test_the_dots_of_a_braille_cell_are_those_of_the_standard() -> None:
    # The Unicode Standard, block Braille Patterns: dots 1 2 3 7 stand in the left column, 4 5 6 8 in the right one; the
    # names of the standard library's character database say which dots a character has.
    for row, numbers in enumerate(((1, 4), (2, 5), (3, 6), (7, 8))):
        for column, number in enumerate(numbers):
            assert unicodedata.name(chr(BRAILLE + DOTS[row][column])) == f"BRAILLE PATTERN DOTS-{number}"


def test_a_step_is_level_then_upright() -> None:
    lines = picture(curve([0.0] * 120 + [1.0] * 120))
    starred = [line for line in lines if "**" in line]
    assert len(starred) == 2
    assert starred[0].strip("* ") == starred[1].strip("* ") == ""
    upright = [line.index("*") for line in lines if line.count("*") == 1]
    assert len(upright) == len(lines) - 2
    assert max(upright) - min(upright) <= 1


@drawn(st.lists(st.floats(-1e6, 1e6), min_size=2, max_size=80, unique=True))
@settings(max_examples=60, deadline=None)
def test_a_rising_value_never_falls_in_the_picture(ys: list[float]) -> None:
    lines = picture(curve(sorted(ys)))
    tops = [next((row for row, line in enumerate(lines) if line[at : at + 1] == "*"), None) for at in range(30)]
    known = [top for top in tops if top is not None]
    assert known == sorted(known, reverse=True)


@drawn(st.lists(NUMBERS, min_size=2, max_size=60), st.integers(30, 130), st.sampled_from([ASCII, UNICODE]), NUMBERS)
@settings(max_examples=100, deadline=None)
def test_no_line_is_wider_than_the_plot(ys: list[float | None], width: int, signs: Signs, limit: float | None) -> None:
    verdicts = ["failed" if y is None else "out" if limit is not None and y > limit else "in" for y in ys]
    one = curve(ys, verdicts, Bound("<=", (limit,) * len(ys)))
    notes = 2  # name and limits may need more room than a narrow plot has; the terminal's own width is kept elsewhere
    for line in plot_lines(one, ("1", "2"), width, signs)[notes:]:
        assert cell_len(line.plain) <= width
        assert not signs.plain or line.plain.isascii()


def test_places_out_of_limits_are_marked_under_the_axis_with_a_word() -> None:
    one = curve([1.0, 2.0, 3.0, 4.0], ["in", "in", "out", "out"], Bound("<=", (2.5,) * 4))
    last = plotted(one)[-1]
    assert "! OUT" in last
    assert any(line.lstrip().startswith("<= 2.5") for line in plotted(one))
    assert any("-----" in line for line in picture(one))


def test_places_without_a_result_are_marked_and_not_joined() -> None:
    one = curve([1.0] * 10 + [None] * 10 + [1.0] * 10, ["in"] * 10 + ["failed"] * 10 + ["in"] * 10)
    assert "x NO RESULT" in plotted(one)[-1]
    level = next(line for line in picture(one) if "*" in line)
    assert "     " in level.strip()


def test_a_value_without_any_result_is_a_plot_too() -> None:
    assert "NO RESULT" in plotted(curve([None, None], ["failed", "failed"]))[-1]


def test_a_limit_far_off_is_said_and_does_not_squash_the_value() -> None:
    one = curve([1.0, 2.0], None, Bound("<=", (1000.0,) * 2))
    assert plotted(one)[1] == "limit <= 1000 (above)"
    assert not any("----" in line for line in picture(one))


@drawn(st.lists(st.floats(-1e12, 1e12), min_size=1, max_size=9), st.integers(1, 6))
def test_the_scale_holds_every_value_and_its_labels_lie_on_it(values: list[float], wanted: int) -> None:
    scale = scale_of(values, ())
    assert all(scale.holds(value) for value in values)
    ticks = scale.ticks(wanted)
    assert 1 <= len(ticks) <= max(1, wanted)
    room = 1e-9 * (scale.high - scale.low)
    assert all(scale.low - room <= tick <= scale.high + room for tick in ticks)


def test_bars_are_as_long_as_their_values() -> None:
    lines = [line.plain for line in bar_lines(curve([10.0, 20.0, 40.0]), ("a", "b", "c"), 60, ASCII)][1:]
    lengths = [line.count("#") for line in lines]
    assert lengths[0] / lengths[2] == pytest.approx(0.25, abs=0.05)
    assert lengths[1] / lengths[2] == pytest.approx(0.5, abs=0.05)


def test_a_bar_out_of_limits_has_the_word_and_the_limit_as_a_stroke() -> None:
    one = curve([10.0, 20.0], ["in", "out"], Bound("<=", (15.0, 15.0)))
    lines = [line.plain for line in bar_lines(one, ("a", "b"), 60, UNICODE)]
    assert lines[-1].endswith("20 ▲ OUT")
    assert all("│" in line for line in lines[-2:])
