"""A sweep worked out: numbers at each place, limits, and nothing that is left out without a word."""

from math import pi

import pytest

from runner.report.working.marks import UNICODE
from runner.report.working.sweep import read_sweep
from runner.report.working.swept import FINE, sweep_out
from runner.report.working.words import lacking_words, limits_words, out_words, reasons
from runner.report.working.worked import depending, work_all
from tests.report.working.bench import BENCH, given, sweep, swept


def test_a_place_of_a_sweep_is_the_value_of_that_job() -> None:
    # Length of a wound web, pi (D^2 - d^2) / (4 t): 7508.286 m for 1000 mm, 76 mm, 104 um (regression value, derived).
    along = swept("roll_od=1000..1200 mm by 100 mm").along("web_length")
    assert along[0].magnitude == pytest.approx(7508.286, abs=0.001)
    for found, diameter in zip(along, (1.0, 1.1, 1.2), strict=True):
        assert found.value == pytest.approx(pi * (diameter**2 - 0.076**2) / (4 * 104e-6), rel=1e-12)


def test_a_sweep_agrees_with_one_job_at_a_time() -> None:
    found = swept("roll_od=300..1200 mm by 100 mm")
    for one, result in zip(found.sweep.given, found.results, strict=True):
        alone = work_all(BENCH, {**given(), "roll_od": one})
        assert {n: w.shown for n, w in alone.worked.items()} == {n: w.shown for n, w in result.worked.items()}


def test_only_what_depends_on_the_swept_value_is_shown_unless_picked() -> None:
    assert depending(BENCH, "oven") == ("warm",)
    assert swept("oven=20..60 by 20").names == ("warm",)
    assert "apart" in swept("oven=20..60 by 20").steady
    assert swept("oven=20..60 by 20", "apart", "warm").names == ("apart", "warm")


def test_a_value_without_a_result_is_there_with_its_reason() -> None:
    found = swept("roll_od=500..700 mm by 100 mm", "share", "after")
    assert [one.verdict for one in found.along("share")] == ["in", "failed", "in"]
    assert [one.verdict for one in found.along("after")] == ["in", "failed", "in"]
    said = reasons(found)
    assert said[0] == "share has no result at 600 mm: this divides by zero"
    assert said[1] == "after has no result at 600 mm: needs share"
    assert not found.clean


def test_a_limit_that_moves_is_told_place_by_place_and_drawn() -> None:
    found = swept("substrate=*", "wound")
    assert limits_words(found, UNICODE) == ["limits of wound: kraft paper: ≤ 1100 mm; BOPP film: ≤ 900 mm"]
    assert out_words(found) == ["wound is out of limits at BOPP film"]
    (curve,) = found.curves
    assert list(curve.bounds[0].ys) == [1100.0, 900.0]
    assert curve.verdicts == ("in", "out")


def test_where_a_value_goes_out_of_its_limits_is_said() -> None:
    assert out_words(swept("roll_od=900..1200 mm by 100 mm", "steps")) == [
        "steps is out of limits from 1100 mm to 1200 mm"
    ]


def test_what_lacks_a_value_is_named_with_what_it_needs() -> None:
    assert lacking_words(swept("roll_od=500..700").lacking) == [
        "not worked out, for want of values:", "  length_left needs counter",
    ]  # fmt: skip


def test_a_curve_is_worked_out_between_the_places_too_so_that_steps_show() -> None:
    found = swept("roll_od=300..1200 mm by 900 mm", "steps")
    (curve,) = found.curves
    assert len(curve.xs) == FINE + 1
    assert {round(y, 9) for y in curve.ys if y is not None} == {round(0.1 * n, 9) for n in range(3, 13)}


def test_names_that_cannot_be_shown_are_refused_in_words() -> None:
    unknown = sweep_out(BENCH, given(), sweep("oven=20..60"), ("hot",))
    assert isinstance(unknown, str)
    assert "hot is not worked out" in unknown
    nothing = sweep_out(BENCH, given(), sweep("side=*"))
    assert isinstance(nothing, str)
    assert "nothing is worked out from side" in nothing
    asked = read_sweep(BENCH, "counter=0..10")
    assert not isinstance(asked, str)
    early = sweep_out(BENCH, {}, asked)
    assert isinstance(early, str)
    assert "give roll_od" in early or "give caliper" in early
