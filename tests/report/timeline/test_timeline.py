"""The timeline: stretches and points of both people where the events say that they were, in the drawing and in lines."""

from dataclasses import replace
from xml.etree import ElementTree

import pytest
from rich.cells import cell_len

from runner.engine import events as ev
from runner.report.contents.names import names_from_events
from runner.report.document import Note, Pictures
from runner.report.timeline.axis import SHORT, axis_of
from runner.report.timeline.lines import timeline_lines
from runner.report.timeline.picture import description, timeline_blocks
from runner.report.timeline.spans import (
    EXCEPTION,
    HALT,
    HOLD,
    VALUE,
    WAIT,
    WORK,
    Span,
    Timeline,
    seconds_of,
    timeline_of,
)
from runner.report.timeline.svg import timeline_svg
from tests.report import sample
from tests.report.sample import AT, BO, CY, late, moment

START = seconds_of(moment(0).utc)
assert START is not None


def of(entries: sample.Entries) -> Timeline:
    found = timeline_of(entries, names_from_events(entries))
    assert found is not None
    return found


def spans(found: Timeline, kind: str) -> list[tuple[str, float, float]]:
    return [(s.lane, s.start - START, s.end - START) for s in found.spans if s.kind == kind]  # type: ignore[operator]


def test_work_is_from_the_beginning_of_an_attempt_to_its_end() -> None:
    work = spans(of(sample.full_run()), WORK)
    assert (AT, 60.0, 72.0) in work
    assert (AT, 205.0, 250.0) in work, "ended by a trouble"
    assert (AT, 340.0, 610.4) in [(lane, start, round(end, 3)) for lane, start, end in work]
    assert (BO, 1600.0, 1660.0) in work, "ended by stopping"


def test_a_hold_stands_where_its_step_was_done_and_a_wait_with_its_step() -> None:
    found = of(sample.full_run())
    assert (AT, 101.0, 161.0) in spans(found, HOLD)
    assert spans(found, WAIT) == [(AT, 705.0, 1110.0)]


def test_the_run_stands_while_it_is_paused_made_safe_or_the_program_ended() -> None:
    # the gap of the interruption began at the last event before those that opening notes
    assert spans(of(sample.full_run()), HALT) == [("", 1200.0, 1500.0), ("", 1660.0, 1900.0), ("", 1900.0, 2501.0)]


def test_exceptions_and_values_out_of_limits_are_points_with_their_words_and_events() -> None:
    found = of(sample.full_run())
    noted = [p for p in found.points if p.kind == EXCEPTION]
    assert [p.words.partition(",")[0] for p in noted] == [f"exception {n}" for n in (1, 2, 3, 4)]
    values = {p.words for p in found.points if p.kind == VALUE}
    assert "Pressure on the gauge: 7.4 bar (allowed: 5.5 to 7 bar)" in values
    assert all(p.event for p in found.points)


def test_what_was_entered_from_paper_stands_where_the_paper_says() -> None:
    found = of(sample.full_run())
    point = next(p for p in found.points if "Idler 2 runs hot" in p.words)
    assert point.at == seconds_of("2026-11-25T10:05:00.000Z")


def test_a_review_on_another_day_is_not_drawn() -> None:
    assert of(sample.full_run()).end == seconds_of(moment(2700).utc)


def test_a_record_without_two_times_has_no_timeline_and_says_so() -> None:
    entries = sample.numbered([sample.begun_run()])
    (block,) = timeline_blocks(entries, names_from_events(entries))
    assert isinstance(block, Note)


def test_a_clock_that_was_set_back_makes_no_stretch_negative() -> None:
    entries = sample.numbered([
        sample.begun_run(), ev.StepBegun(AT, moment(600), "a", "1", 1, "Go."), ev.StepDone(AT, moment(300), "a", "1", ()),
        ev.Finished(AT, moment(700), 0),
    ])  # fmt: skip
    found = of(entries)
    assert all(span.end >= span.start for span in found.spans)
    timeline_lines(found, axis_of(found))


def test_places_on_the_axis_go_with_the_clock() -> None:
    axis = axis_of(Timeline((AT,), (), (), 0.0, 100.0))
    assert [axis.at(moment_) for moment_ in (-5.0, 0.0, 25.0, 100.0, 120.0)] == [0.0, 0.0, 0.25, 1.0, 1.0]


def test_a_night_in_which_the_run_stood_is_drawn_short() -> None:
    night = Span("", HALT, 1000.0, 50000.0, "paused")
    axis = axis_of(Timeline((AT,), (night,), (), 0.0, 51000.0))
    assert axis.at(50000.0) - axis.at(1000.0) == pytest.approx(SHORT / (1 + SHORT))
    assert axis.at(1000.0) == pytest.approx(1 / (2 + 2 * SHORT))
    assert not any(1000.0 < at < 50000.0 for at, _ in axis.ticks(10))


@pytest.mark.parametrize("whole", [5.0, 59.0, 600.0, 3600.0, 40000.0, 2e6])
def test_labels_are_few_round_and_in_order(whole: float) -> None:
    start = 1764063000.0  # half past nine of 2025-11-25, UTC
    ticks = axis_of(Timeline((AT,), (), (), start, start + whole)).ticks(10)
    assert len(ticks) <= 11
    assert [at for at, _ in ticks] == sorted({at for at, _ in ticks})


def test_labels_tell_the_clock_in_utc_and_the_day_where_there_are_two() -> None:
    start = seconds_of("2026-11-25T23:50:00.000Z")
    assert start is not None
    ticks = axis_of(Timeline((AT,), (), (), start, start + 1200)).ticks(5)
    assert "26 00:00" in [label for _, label in ticks]


def test_the_drawing_is_well_formed_has_words_and_no_style_of_its_own() -> None:
    (block, note) = timeline_blocks(sample.full_run(), names_from_events(sample.full_run()))
    assert isinstance(block, Pictures)
    root = ElementTree.fromstring(block.pictures[0].svg)
    space = "{http://www.w3.org/2000/svg}"
    # W3C, SVG Accessibility API Mappings 1.0: title and desc as first children name and describe the image
    assert [child.tag for child in root[:2]] == [f"{space}title", f"{space}desc"]
    assert root.get("role") == "img"
    assert not any("style" in element.attrib or element.tag == f"{space}style" for element in root.iter())
    assert isinstance(note, Note)
    assert (root[1].text or "") == note.text
    assert "Sam Birch: 1 step, 2 exceptions." in note.text


def test_no_text_of_a_record_becomes_markup_in_the_drawing() -> None:
    words = "</svg><script>alert(1)</script>\x1b[2J\u202e"
    lanes = (f"Robin {words}",)
    found = Timeline(lanes, (Span(lanes[0], WORK, 0.0, 10.0, words),), (), 0.0, 10.0)
    drawn = timeline_svg(found, axis_of(found), words, description(found))
    ElementTree.fromstring(drawn)
    assert "<script" not in drawn
    assert "\x1b" not in drawn


def test_the_lines_fit_80_cells_and_name_everybody() -> None:
    found = of(sample.full_run())
    lines = timeline_lines(found, axis_of(found))
    assert max(map(cell_len, lines)) <= 80
    assert all(any(line.startswith(lane[:14]) for line in lines) for lane in found.lanes)
    assert "▲ exception" in " ".join(lines)


def test_nobody_is_ranked() -> None:
    # durations of a person's work are not summed up: a run's picture is no measure of people
    assert " min" not in description(of(sample.full_run())).partition("The run stood")[0]


def test_moments_that_are_none_are_left_out() -> None:
    entries = sample.full_run()
    broken = [(n, replace(e, at=e.at._replace(utc=f"{e.at.utc}x"))) for n, e in entries]
    (block,) = timeline_blocks(broken, names_from_events(broken))
    assert isinstance(block, Note)


def test_days_later_is_the_same_axis() -> None:
    entries = sample.numbered([sample.begun_run(), ev.Paused(AT, moment(60), ""), ev.Resumed(CY, late(80000), "pause", (), ""),
                               ev.Finished(CY, late(80100), 0)])  # fmt: skip
    found = of(entries)
    assert axis_of(found).stretches[1].broken
