"""The formats of the arithmetic: text that fits, tables that spreadsheets read, pages that load nothing."""

import csv
import io
import json
import re
from base64 import b64encode
from hashlib import sha256
from xml.etree import ElementTree

import pytest

from runner.procedure.jobs.worst import Worst
from runner.report.formats.csv import cell
from runner.report.working.asked import Asked
from runner.report.working.forms import FORMS
from runner.report.working.look import Look
from runner.report.working.marks import ASCII, UNICODE
from runner.report.working.nearest import nearest
from runner.report.working.worked import work_all
from tests.report.test_hostile_text import ATTACKS, acting
from tests.report.test_html import ATTRIBUTES, TAGS, Page, policy_of
from tests.report.working.bench import BENCH, given, swept

WORST = (
    Worst("apart", "<= 4 m", 2.0, 2.0, (("roll_od", 1.0),), True),
    Worst("wound", "<= 1100 mm", 1.2, -0.1, (("roll_od", 1.2), ("substrate", "kraft paper")), True),
    Worst("warm", "<= 100 degC", 363.15, 10.0, (("oven", 363.15),), False),
    Worst("share", ">= 0 m", 0.5, 0.5, (), False),
)

RANGE = Asked(BENCH, given(), swept=swept("roll_od=300..1200 mm by 100 mm"))
LIST = Asked(BENCH, given(), swept=swept("substrate=*"))
VALUES = Asked(BENCH, given(), work_all(BENCH, given()))
NEAREST = Asked(BENCH, given(), nearest=nearest(BENCH, WORST))
ALL = {"range": RANGE, "list": LIST, "values": VALUES, "nearest": NEAREST}


def written(asked: Asked, form: str, width: int = 80, signs: object = UNICODE, colour: bool = False) -> str:
    assert signs in (UNICODE, ASCII)
    return FORMS[form].render(asked, Look(width, UNICODE if signs is UNICODE else ASCII, colour)).decode()


@pytest.mark.parametrize("name", ALL)
@pytest.mark.parametrize("width", [60, 80, 120])
def test_text_fits_the_terminal_and_needs_no_colour(name: str, width: int) -> None:
    text = written(ALL[name], "text", width)
    assert max(len(line) for line in text.splitlines()) <= width
    assert "\x1b" not in text


@pytest.mark.parametrize("name", ALL)
def test_plain_text_is_ascii_and_says_the_same(name: str) -> None:
    plain, rich = written(ALL[name], "text", signs=ASCII), written(ALL[name], "text")
    assert plain.isascii()
    assert plain.count(" OUT") == rich.count(" OUT")
    assert plain.count("NO RESULT") == rich.count("NO RESULT")


def test_colour_only_repeats_what_is_said() -> None:
    coloured = written(RANGE, "text", colour=True)
    assert "\x1b[" in coloured
    assert re.sub(r"\x1b\[[0-9;]*m", "", coloured).split() == written(RANGE, "text").split()


def test_no_digit_is_cut_off_in_a_narrow_terminal() -> None:
    text = written(RANGE, "text", 40)
    assert RANGE.swept is not None
    for found in RANGE.swept.along("web_length"):
        assert found.shown.removesuffix(" m") in text


def test_numbers_of_a_column_line_up_at_their_points() -> None:
    table = written(Asked(BENCH, given(), swept=swept("roll_od=500..800 by 100", "web_length", "share")), "text")
    rows = [line for line in table.splitlines() if re.match(r" +\d+  +\d+\.\d", line)]
    assert len(rows) == 4
    assert len({line.index(".") for line in rows}) == 1


def test_a_result_comes_with_formula_numbers_limits_and_where_its_inputs_are_from() -> None:
    text = written(VALUES, "text", 200)
    assert "web_length = 7508.29 m" in text
    assert "formula: pi * (roll_od^2 - core_od^2) / (4 * caliper)" in text
    assert "numbers: π × ((1000 mm)² - (76 mm)²) / (4 × 104 um)" in text
    assert "core_od = 76 mm (job file)" in text
    assert "limits: <= 1100 mm: within" in text


def test_nearest_jobs_are_sorted_with_the_broken_first_and_tell_the_reserve() -> None:
    assert NEAREST.nearest is not None
    assert [near.name for near in NEAREST.nearest] == ["wound", "warm", "apart", "share"]
    # reserve over limit: 100 mm of 1100 mm and 2 m of 4 m; a limit of 0 and a temperature have no share
    assert [near.reserve_shown for near in NEAREST.nearest] == [
        "-100 mm, -9.1 % of the limit", "10 degC", "2 m, 50.0 % of the limit", "0.5 m",
    ]  # fmt: skip
    text = written(NEAREST, "text", 200)
    assert "wound ≤ 1100 mm: ▲ OUT OF LIMITS: comes to 1200 mm" in text
    assert "job: roll_od = 1200 mm, substrate = kraft paper" in text
    assert not NEAREST.clean


@pytest.mark.parametrize("name", ALL)
def test_a_table_is_rectangular_and_ends_its_lines_as_the_standard_says(name: str) -> None:
    # RFC 4180, section 2: records end with CR LF (1), have the same number of fields (4).
    text = written(ALL[name], "csv")
    assert text.endswith("\r\n")
    assert "\n" not in text.replace("\r\n", "")
    rows = list(csv.reader(io.StringIO(text, newline="")))
    assert len({len(row) for row in rows}) == 1


def test_the_header_of_a_table_has_the_units_and_its_numbers_all_their_digits() -> None:
    rows = list(csv.DictReader(io.StringIO(written(RANGE, "csv"), newline="")))
    assert [float(row["roll_od [mm]"]) for row in rows] == [100.0 * n for n in range(3, 13)]
    assert RANGE.swept is not None
    for row, found in zip(rows, RANGE.swept.along("web_length"), strict=True):
        assert float(row["web_length [m]"]) == found.magnitude
    assert rows[3]["share verdict"] == "failed"
    assert rows[3]["share [m]"] == ""


@pytest.mark.parametrize(
    ("field", "wanted"),
    [
        ("=1+1", "'=1+1"), ("+cmd", "'+cmd"), ("-cmd|'/c'", "'-cmd|'/c'"), ("@SUM(A1)", "'@SUM(A1)"), (" =1", "' =1"),
        ("-5", "-5"), ("+5.5", "+5.5"), ("--5", "'--5"), (-5.0, "-5.0"), (None, ""), ("kraft", "kraft"), ("\t=1", "␉=1"),
    ],
)  # fmt: skip
def test_a_cell_that_a_spreadsheet_would_work_out_is_made_harmless(field: str | float | None, wanted: str) -> None:
    assert cell(field) == wanted


def test_json_has_magnitude_and_si_of_every_value_at_every_point() -> None:
    sweep = json.loads(written(RANGE, "json"))["sweep"]
    assert (sweep["name"], sweep["unit"], len(sweep["points"])) == ("roll_od", "mm", 10)
    point = sweep["points"][3]
    assert (point["magnitude"], point["si"]) == (600.0, 0.6)
    assert point["values"]["share"]["verdict"] == "failed"
    assert point["values"]["share"]["magnitude"] is None
    assert point["values"]["hung"]["ends"] == [{"5": 1, "1": 1}, {"5": 1, "1": 1}]


@pytest.mark.parametrize("name", ALL)
def test_a_page_runs_and_loads_nothing(name: str) -> None:
    # W3C, Content Security Policy Level 3, 2.3.1: base64 of SHA-256 over the one style.
    text = written(ALL[name], "html")
    page = Page(text.encode())
    assert {tag for tag, _ in page.tags} <= {*TAGS, "figure", "figcaption", "svg", "desc", "path", "rect", "text"}
    hashed = b64encode(sha256(page.style.encode()).digest()).decode()
    assert f"style-src 'sha256-{hashed}'" in policy_of(page)
    names = {attribute for tag, attributes in page.tags for attribute in attributes if tag not in SVG_TAGS}
    assert names <= ATTRIBUTES
    assert not re.search(r"\s(?:href|src|style|on\w+)=", text)


SVG_TAGS = ("svg", "title", "desc", "path", "rect", "text")


@pytest.mark.parametrize("name", ["range", "list"])
def test_pictures_are_well_formed_and_speak(name: str) -> None:
    # W3C, Extensible Markup Language 1.0: the standard library's parser refuses what is not well-formed.
    pictures = re.findall(r"<svg.*?</svg>", written(ALL[name], "html"), re.DOTALL)
    assert pictures
    space = "{http://www.w3.org/2000/svg}"
    for picture in pictures:
        root = ElementTree.fromstring(picture)
        assert root.attrib["role"] == "img"
        assert root.findtext(f"{space}title")
        assert root.findtext(f"{space}desc")


def test_a_picture_has_the_word_where_the_value_is_out_of_limits() -> None:
    page = written(Asked(BENCH, given(), swept=swept("roll_od=900..1200", "steps")), "html")
    assert re.search(r"<svg.*▲ OUT.*</svg>", page)


@pytest.mark.parametrize("attack", ATTACKS)
@pytest.mark.parametrize("form", FORMS)
def test_hostile_texts_act_nowhere(attack: str, form: str) -> None:
    words = ATTACKS[attack]
    job = given(ticket="A1" + words.replace("\r", "").replace("\n", " "))
    hostile = BENCH._replace(title="Bench" + words)
    for asked in (Asked(hostile, job, work_all(hostile, job)), Asked(hostile, job, swept=RANGE.swept)):
        text = written(asked, form)
        assert acting(text.replace("\r\n", "\n")) == set()
        if form == "html":
            assert {tag for tag, _ in Page(text.encode()).tags} <= {*TAGS, *SVG_TAGS, "figure", "figcaption"}
