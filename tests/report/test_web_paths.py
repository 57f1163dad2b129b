"""Web paths for people: the table says what the path says, and the report draws a path where it is threaded."""

from math import degrees
from xml.etree import ElementTree

import pytest

from runner.engine import events as ev
from runner.procedure.model import Procedure
from runner.report.contents.run_record import job_of
from runner.report.contents.web_paths import path_lines, solved_path, thread_figures, travel_lines
from runner.report.document import Document, Pictures
from runner.report.formats import FORMATS
from runner.trade.web_path import VERTICAL, WebPath
from tests.procedures.shipped import procedure_of
from tests.report.sample import AT, given, moment, numbered

VALUES = {"roll_od": 1.0, "rewind_core_od": 0.106}


@pytest.fixture(scope="module")
def procedure() -> Procedure:
    """The shipped change of the roll."""
    return procedure_of("change-roll")


def solved(procedure: Procedure) -> WebPath:
    """Its unwind path."""
    found = solved_path(procedure, "unwind_path", VALUES)
    assert isinstance(found, WebPath)
    return found


def test_the_table_says_what_the_path_says(procedure: Procedure) -> None:
    lines, path = path_lines(procedure, VALUES), solved(procedure)
    rows = [line.split() for line in lines[2:8]]
    assert [int(row[0]) for row in rows] == [1, 2, 3, 4, 5, 6]
    bar = rows[2]
    assert " ".join(bar[1:4]) == "tension bar under"
    numbers = [float(part) for part in bar[4:]]
    contact = path.contacts[2]
    assert numbers == pytest.approx(
        [120, degrees(contact.wrap), contact.arc * 1000, path.spans[2] * 1000, contact.pull, 90], abs=0.06
    )
    assert any(
        f"{path.length * 1000:.0f} mm of web from leaving new roll to reaching infeed nip" in line for line in lines
    )
    assert "  3 tension bar moves vertical" in lines


def test_the_lines_fit_a_terminal_of_80_columns(procedure: Procedure) -> None:
    for plain in (False, True):
        lines = path_lines(procedure, VALUES, plain=plain)
        assert max(map(len, lines)) <= 80
        assert not plain or all(line.isascii() for line in lines)


def test_a_path_whose_job_is_not_known_says_what_is_missing(procedure: Procedure) -> None:
    lines = path_lines(procedure, {"roll_od": 1.0})
    assert "  cannot be worked out: rewind core: rewind_core_od is not known yet" in lines
    assert any("new roll" in line for line in lines)


def test_a_travel_is_told_with_the_tension_that_one_weight_gives(procedure: Procedure) -> None:
    """By hand: the tension is the weight through the pull, so against the drawn place it is the pulls the other way."""
    path = solved(procedure)
    assert path.rollers[2].moves == VERTICAL
    travelling = path._replace(
        rollers=tuple(r._replace(travel=(-0.3, 0.6)) if n == 2 else r for n, r in enumerate(path.rollers))
    )
    lines = travel_lines(travelling, 2)
    assert lines[0] == "tension bar on its travel:"
    assert len(lines) == 7
    first = lines[2].split()
    assert first[0:2] == ["-300.0", "mm"]
    assert float(first[-2]) == pytest.approx(100 * path.contacts[2].pull / float(first[-3]), abs=0.06)


def test_a_report_draws_each_path_in_the_phase_that_threads_it(procedure: Procedure) -> None:
    figures = thread_figures(procedure, VALUES)
    assert list(figures) == ["Thread both sides"]
    blocks = figures["Thread both sides"]
    assert [type(block) for block in blocks] == [Pictures, Pictures]
    for form in ("html", "text"):
        rendered = FORMATS[form].render(Document("Test", blocks)).decode()
        assert "Web path unwind, threaded in step 8a.3" in rendered
        assert rendered.count("6 infeed nip: over") == 1
    page = FORMATS["html"].render(Document("Test", blocks)).decode()
    assert page.count("<svg") == 2
    assert 'id="path-1-title"' in page
    assert 'id="path-2-title"' in page
    assert "<script" not in page
    assert "style=" not in page


def test_a_path_that_cannot_be_drawn_is_a_note(procedure: Procedure) -> None:
    (first, second) = thread_figures(procedure, {"roll_od": 1.0})["Thread both sides"]
    assert isinstance(first, Pictures)
    assert "has no drawing: rewind core: rewind_core_od is not known yet" in str(second)


def test_a_hostile_name_of_a_roller_is_text_everywhere(procedure: Procedure) -> None:
    rollers = procedure.scope.paths["unwind_path"]
    named = (*rollers[:-1], rollers[-1]._replace(name="</svg><b>\x1b[2J\u202e"))
    hostile = procedure._replace(scope=procedure.scope._replace(paths={"unwind_path": named}))
    blocks = thread_figures(hostile, VALUES)["Thread both sides"]
    block = blocks[0]
    assert isinstance(block, Pictures)
    ElementTree.fromstring(block.pictures[0].svg)
    everything = "\n".join([*path_lines(hostile, VALUES), FORMATS["text"].render(Document("t", blocks)).decode()])
    assert "\x1b" not in everything
    assert "\u202e" not in everything


def test_a_corrected_diameter_is_the_one_that_is_drawn() -> None:
    entries = numbered([
        given(AT, moment(1), "roll_od", "Outer diameter", "1030", 1.03, "1030 mm", "mm"),
        ev.AnswerCorrected(AT, moment(2), "", "roll_od", "1030 mm", "1000", "1000 mm", 1.0, 1000.0, "mm", "Misread"),
        ev.AnswerCorrected(AT, moment(3), "lift", "pressure", "5 bar", "6", "6 bar", 6e5, 6.0, "bar", "Misread"),
    ])  # fmt: skip
    assert job_of(entries) == {"roll_od": 1.0}
