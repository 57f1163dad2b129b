"""Drawings of web paths: every number once, the marks of threading, plain characters, and SVG that nobody can write into."""

from math import pi, radians
from xml.etree import ElementTree

import pytest
import shapely
from hypothesis import given, settings
from rich.cells import cell_len

from runner.trade.path_drawing.dots import BLANK, Dots, looks_like
from runner.trade.path_drawing.svg import svg
from runner.trade.path_drawing.text import ARROWS, key_line, rows_for, text_lines
from runner.trade.path_drawing.view import described, extent, travel_words
from runner.trade.web_path import HORIZONTAL, VERTICAL, Roller
from tests.trade.webs import ROWS, path

UNWIND = path(
    Roller("new roll", 0, 1, 1.0, "over"),
    Roller("entry idler", 1, 1.3, 0.1, "over"),
    Roller("tension bar", 1.2, 0.6, 0.12, "under", VERTICAL, (-0.3, 0.3)),
    Roller("exit idler", 1.4, 1.3, 0.1, "over"),
    Roller("guide roller", 1.9, 0.9, 0.12, "under"),
    Roller("infeed nip", 2.4, 1.3, 0.18, "over"),
)
SIZES = [(60, 16), (100, 24), (48, 14), (20, 6), (200, 60)]
SVG = "{http://www.w3.org/2000/svg}"


@pytest.mark.parametrize("plain", [False, True])
@pytest.mark.parametrize("size", SIZES)
def test_a_drawing_fills_its_canvas_exactly(size: tuple[int, int], plain: bool) -> None:
    lines = text_lines(UNWIND, *size, done=2, plain=plain)
    assert len(lines) == size[1]
    assert {cell_len(line) for line in lines} == {size[0]}
    assert not plain or "".join(lines).isascii()


@pytest.mark.parametrize("size", SIZES[:3])
def test_every_roller_has_its_number_once(size: tuple[int, int]) -> None:
    text = "\n".join(text_lines(UNWIND, *size))
    assert sorted(character for character in text if character.isdigit()) == list("123456")
    assert text.count("3↕") == 1
    assert sum(text.count(arrow) for arrow in ARROWS) == 5


def test_a_number_stands_where_its_roller_is() -> None:
    """In reading order across: the rollers of this path lie from left to right, 3 below 2 and 4."""
    lines = text_lines(UNWIND, 100, 24)
    at = {c: (column, row) for row, line in enumerate(lines) for column, c in enumerate(line) if c.isdigit()}
    assert sorted(at, key=lambda number: at[number][0]) == list("123456")
    assert at["3"][1] > max(at["2"][1], at["4"][1])


def test_what_is_threaded_is_marked_and_drawn_through() -> None:
    fresh, half, whole = ("\n".join(text_lines(UNWIND, 100, 24, done=done)) for done in (0, 3, 6))
    assert ("▶1" in fresh, "✓" in fresh) == (True, False)
    assert [mark in half for mark in ("✓1", "✓2", "✓3", "▶4", "▶5")] == [True, True, True, True, False]
    assert ("▶" in whole, whole.count("✓")) == (False, 6)

    def dots(text: str) -> int:
        return sum((ord(character) - BLANK).bit_count() for character in text if BLANK <= ord(character) < BLANK + 256)

    assert dots(fresh) < dots(half) < dots(whole)


def test_the_signs_are_told() -> None:
    assert key_line(None) == ""
    assert key_line(2) == "✓ done  ▶ next"
    assert key_line(2, plain=True) == "x done  > next"


def test_too_small_a_canvas_stays_empty() -> None:
    assert text_lines(UNWIND, 19, 20) == text_lines(UNWIND, 60, 5) == ()


def test_a_flat_path_wants_few_rows_and_a_high_one_no_more_than_there_are() -> None:
    flat = path(Roller("a", 0, 0, 0.1, "over"), Roller("b", 9, -0.2, 0.1, "over"))
    high = path(Roller("a", 0, 0, 0.1, "over"), Roller("b", 0.5, 9, 0.1, "over"))
    assert (rows_for(flat, 60), rows_for(high, 60)) == (8, 20)
    assert 12 <= rows_for(UNWIND, 60) <= 16


@pytest.mark.parametrize(
    ("look", "character"),
    [((0, 0, 0, 0), " "), ((3, 3, 3, 3), "#"), ((0, 3, 3, 0), "-"), ((1, 1, 1, 1), "|"), ((2, 2, 1, 1), "/"), ((1, 1, 2, 2), "\\")],
)  # fmt: skip
def test_dots_look_like_the_nearest_plain_character(look: tuple[int, ...], character: str) -> None:
    dots = Dots(1, 1)
    for row, columns in enumerate(look):
        for column in range(2):
            if columns >> column & 1:
                dots.put(column, row)
    assert dots.character(0, 0, plain=True) == looks_like(dots.cells[0][0]) == character


def test_a_dot_is_the_dot_of_the_unicode_standard() -> None:
    """The Unicode Standard, Braille patterns: dot 1 upper left is 2801, dot 8 lower right is 2880, all eight 28FF."""
    for (x, y), code in {(0, 0): 0x2801, (0, 3): 0x2840, (1, 0): 0x2808, (1, 3): 0x2880}.items():
        dots = Dots(1, 1)
        dots.put(x, y)
        assert dots.character(0, 0, plain=False) == chr(code)


@settings(max_examples=25, deadline=None)
@given(ROWS)
def test_any_path_can_be_drawn(rollers: list[Roller]) -> None:
    found = path(*rollers)
    text = "".join(text_lines(found, 70, 18, done=1))
    assert all(str(number + 1) in text for number in range(len(rollers)))
    ElementTree.fromstring(svg(found, "t", "k"))


def parsed(drawing: str) -> ElementTree.Element:
    """The SVG as a browser's parser sees it; it must be well-formed."""
    return ElementTree.fromstring(drawing)


def test_the_svg_shows_each_roller_at_its_place_and_size() -> None:
    found = parsed(svg(UNWIND, "Unwind", "path-1"))
    circles = [tuple(float(circle.attrib[key]) for key in ("cx", "cy", "r")) for circle in found.iter(f"{SVG}circle")]
    assert len(circles) == 6
    scale = circles[0][2] / 0.5
    for (x, y, r), roller in zip(circles, UNWIND.rollers, strict=True):
        assert r == pytest.approx(roller.radius * scale, abs=0.1)
        assert x - circles[0][0] == pytest.approx(
            (roller.x - UNWIND.rollers[0].x) * scale, abs=0.4
        )  # tenths of a unit, also in the scale
        assert circles[0][1] - y == pytest.approx(
            (roller.y - UNWIND.rollers[0].y) * scale, abs=0.4
        )  # tenths of a unit, also in the scale
    left, top, width, height = (float(part) for part in found.attrib["viewBox"].split())
    assert all(left <= x - r and x + r <= width and top <= y - r and y + r <= height for x, y, r in circles)


def test_the_spans_of_the_svg_are_as_long_as_the_path_says() -> None:
    """shapely: the straight part of each drawn piece, in the drawing's own scale."""
    found = parsed(svg(UNWIND, "Unwind", "path-1"))
    scale = float(next(found.iter(f"{SVG}circle")).attrib["r"]) / 0.5
    ways = [way.attrib["d"].split() for way in found.iter(f"{SVG}path") if way.attrib["stroke-width"] == "4"]
    lengths = [shapely.LineString([tuple(map(float, way[1:3])), tuple(map(float, way[4:6]))]).length for way in ways]
    assert [length / scale for length in lengths] == pytest.approx(list(UNWIND.spans), abs=1e-3)
    # the arc flags: a turn to the left is against the clock on the screen too, flag 0; no wrap here is over half a turn
    flags = [(way[10], way[11]) for way in ways if len(way) > 6]
    assert flags == [("0", "0" if contact.turn > 0 else "1") for contact in UNWIND.contacts[1:-1]]


def test_a_screen_reader_is_told_the_path() -> None:
    found = parsed(svg(UNWIND, "Unwind path", "path-7"))
    assert found.attrib["role"] == "img"
    assert found.attrib["aria-labelledby"] == "path-7-title path-7-desc"
    assert (found.findtext(f"{SVG}title"), found.findtext(f"{SVG}desc")) == ("Unwind path", described(UNWIND))
    assert "over 1 new roll, over 2 entry idler, under 3 tension bar" in described(UNWIND)
    texts = ["".join(text.itertext()) for text in found.iter(f"{SVG}text")]
    assert "3 tension bar: under, moves vertical" in texts


def test_threading_shows_in_the_svg() -> None:
    found = parsed(svg(UNWIND, "t", "k", done=3))
    assert [circle.attrib.get("stroke-width") for circle in found.iter(f"{SVG}circle")] == [None] * 3 + ["5"] + [
        None
    ] * 2
    dashed = [way for way in found.iter(f"{SVG}path") if way.attrib.get("stroke-dasharray") == "6 8"]
    assert len(dashed) == 3
    assert any("(next)" in (text.text or "") for text in found.iter(f"{SVG}text"))


HOSTILE = [
    "</text><script>alert(1)</script>",
    '" onload="x',
    "&amp;<b>",
    "\x1b[2J\u202eesrever\u0000",
    "name" * 40,
    "漢字" * 30,
]


@pytest.mark.parametrize("name", HOSTILE)
def test_a_name_is_never_markup(name: str) -> None:
    rollers = [roller._replace(name=name + str(n)) for n, roller in enumerate(UNWIND.rollers)]
    found = parsed(svg(path(*rollers), name, "k"))
    kinds = {element.tag.removeprefix(SVG) for element in found.iter()}
    assert kinds == {"svg", "title", "desc", "circle", "path", "polygon", "g", "text"}
    names = {key for element in found.iter() for key in element.attrib}
    assert not {key for key in names if key.startswith("on") or key in ("style", "href", "class")}
    shown = "".join(found.itertext())
    assert all(character.isprintable() or character == "\n" for character in shown)


@pytest.mark.parametrize("key", ["", 'a"', "a b", "ä"])
def test_a_key_that_could_end_its_attribute_is_refused(key: str) -> None:
    with pytest.raises(ValueError, match="letters, digits"):
        svg(UNWIND, "t", key)


def test_there_is_room_for_the_whole_travel() -> None:
    assert extent(UNWIND).bottom == pytest.approx(0.5)
    assert extent(UNWIND, travels=True).bottom == pytest.approx(0.6 - 0.3 - 0.06)


@pytest.mark.parametrize(
    ("moves", "words"),
    [(None, ""), (VERTICAL, "vertical"), (HORIZONTAL, "horizontal"), (radians(30), "30 deg from the horizontal"), (-pi / 4, "-45 deg from the horizontal")],
)  # fmt: skip
def test_a_direction_is_told_as_it_was_written(moves: float | None, words: str) -> None:
    assert travel_words(moves) == words
