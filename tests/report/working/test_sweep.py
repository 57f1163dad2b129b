"""What `--sweep` takes: ranges, lists, all that is allowed; and what it says of the rest."""

import itertools

import pytest
from hypothesis import given as drawn
from hypothesis import strategies as st

from runner.report.working.sweep import MOST, WANTED, plain_step, read_sweep, steps_between
from tests.report.working.bench import BENCH, sweep


def shown(text: str, points: int | None = None) -> list[str]:
    return [one.shown for one in sweep(text, points).given]


def test_a_range_has_both_ends_and_round_places_between() -> None:
    places = shown("roll_od=405mm..1200mm")
    assert places[:3] == ["405 mm", "450 mm", "500 mm"]
    assert places[-2:] == ["1150 mm", "1200 mm"]


@pytest.mark.parametrize(
    "text", ["roll_od=0.4..1 m by 0.3 m", "roll_od=0.4m..1 by 0.3", "roll_od = 0.4 m .. 1 m by 300 mm"]
)
def test_a_unit_at_one_end_holds_for_the_other_and_for_the_step(text: str) -> None:
    assert shown(text) == ["0.4 m", "0.7 m", "1 m"]


def test_a_range_without_units_is_in_the_unit_of_its_name() -> None:
    assert shown("roll_od=400..800 by 200") == ["400 mm", "600 mm", "800 mm"]


def test_steps_are_counted_from_the_lower_end_and_the_upper_end_is_there_too() -> None:
    assert shown("roll_od=410..700 by 100") == ["410 mm", "510 mm", "610 mm", "700 mm"]


def test_points_divide_the_range_evenly() -> None:
    assert shown("roll_od=400..1000", 4) == ["400 mm", "600 mm", "800 mm", "1000 mm"]


def test_a_step_of_a_temperature_is_a_difference() -> None:
    assert shown("oven=20..60 degC by 20 K") == ["20 degC", "40 degC", "60 degC"]
    assert shown("oven=68..86 degF by 9 degF") == ["68 degF", "77 degF", "86 degF"]


def test_a_star_means_all_that_the_procedure_allows() -> None:
    assert shown("substrate=*") == ["kraft paper", "BOPP film"]
    assert (shown("core_od=*")[0], shown("core_od=*")[-1]) == ("76 mm", "180 mm")


def test_a_list_may_have_its_own_units() -> None:
    assert shown("roll_od=0.5 m, 600 mm; 700") == ["500 mm", "600 mm", "700 mm"]


def test_readings_and_choices_of_steps_can_be_swept() -> None:
    assert shown("counter=0..20 m by 10 m") == ["0 m", "10 m", "20 m"]
    assert shown("side=*") == ["left", "right"]


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("roll_od", "takes NAME=RANGE"),
        ("roll_od=", "takes NAME=RANGE"),
        ("rol_od=1..2", "did you mean roll_od?"),
        ("web_length=1..2 m", "is worked out"),
        ("roll_od=1200mm..400mm", "write the lower end first: roll_od=400mm..1200mm"),
        ("roll_od=400mm..", "the range is open"),
        ("roll_od=..400mm", "200 mm to 1200 mm"),
        ("roll_od=400mm..400mm", "--set roll_od=400mm"),
        ("roll_od=400kg..500kg", "type it in mm"),
        ("roll_od=400..500 kg", "type it in mm"),
        ("roll_od=100..500", "outside what the procedure allows"),
        ("roll_od=0.4..1.5 m", "outside what the procedure allows"),
        ("roll_od=400..800 by 0", "more than 0"),
        ("roll_od=400..800 by -50", "more than 0"),
        ("roll_od=400..800 by 5 kg", "step"),
        ("roll_od=400..800 by 1 um", f"more than {MOST} values"),
        ("roll_od=1,5", "one number or 2 numbers?"),
        ("roll_od=400,500,600", "one number or 3 numbers?"),
        ("roll_od=400 mm,,500 mm", "missing"),
        ("roll_od=400 mm, 0.4 m", "twice"),
        ("free_speed=*", "sets no range"),
        ("ticket=*", "any text"),
        ("ticket=1..3", "no range"),
        ("substrate=glass", "none of kraft paper, BOPP film"),
        ("side=up", "none of left, right"),
        ("roll_od=four..five", "is not a number"),
    ],
)
def test_what_is_not_understood_is_said_with_what_to_do(text: str, words: str) -> None:
    found = read_sweep(BENCH, text)
    assert isinstance(found, str)
    assert words in found


@pytest.mark.parametrize(
    ("text", "points"),
    [
        ("roll_od=400..800", 1),
        ("roll_od=400..800", MOST + 1),
        ("roll_od=400..800 by 5", 3),
        ("substrate=*", 3),
        ("roll_od=400; 500", 3),
    ],
)
def test_points_that_cannot_be_had_are_refused(text: str, points: int) -> None:
    found = read_sweep(BENCH, text, points)
    assert isinstance(found, str)
    assert "--points" in found


@drawn(st.floats(-1e6, 1e6), st.floats(1e-3, 1e6))
def test_places_rise_from_end_to_end_and_are_at_most_as_many_as_wanted(first: float, span: float) -> None:
    last = first + span
    places = steps_between(first, last, plain_step(last - first), anchored=False)
    assert (places[0], places[-1]) == (first, last)
    assert all(a < b for a, b in itertools.pairwise(places))
    assert len(places) <= WANTED + 2
