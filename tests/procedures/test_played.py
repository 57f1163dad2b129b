"""Each shipped procedure runs to its end through the engine and its journal, by the plain way and by a bad day."""

import os
from collections import Counter
from collections.abc import Iterator
from math import isclose, radians, sin
from typing import TypeVar

import pytest

from runner.engine import events as ev
from runner.engine.intents import Refusal
from runner.procedure.model import steps_of
from runner.record.clock import SteppedClock
from tests.procedures.plays import Play, answers_of, begun, play
from tests.procedures.shipped import ANSWERS, NAMES, procedure_of
from tests.procedures.taut_web import taut
from tests.procedures.test_arithmetic import REWIND, REWIND_FACTOR, UNWIND_FACTOR, G, length_on_roll, tube

FILES = tuple(
    sorted(name.removesuffix(".answers.yaml") for name in os.listdir(ANSWERS) if name.endswith(".answers.yaml"))
)


@pytest.fixture(scope="module")
def plays(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Play]:
    """Every answers file played once."""
    found = {}
    for file in FILES:
        answers = answers_of(file)
        found[file] = play(answers.procedure, answers, str(tmp_path_factory.mktemp(file)))
    return found


E = TypeVar("E", bound=ev.Event)


def of_kind(played: Play, kind: type[E]) -> list[E]:
    """The events of one kind."""
    return [event for event in played.events if isinstance(event, kind)]


def test_every_shipped_procedure_has_answers() -> None:
    assert {answers_of(file).procedure for file in FILES} == set(NAMES)


@pytest.mark.parametrize("file", FILES)
def test_the_run_is_finished_and_its_record_is_whole(plays: dict[str, Play], file: str) -> None:
    played = plays[file]
    assert played.stopped == ""
    assert played.outcome == "finished"
    assert played.flaws == ()
    assert isinstance(played.events[-2], ev.Finished)
    assert isinstance(played.events[-1], ev.Sealed)


@pytest.mark.parametrize("file", FILES)
def test_every_step_was_done_or_did_not_apply_or_was_left_out(plays: dict[str, Play], file: str) -> None:
    closed = ev.StepDone | ev.StepNotApplicable | ev.StepLeftOut
    done = {event.step for event in plays[file].events if isinstance(event, closed)}
    assert done == {step.id for step in steps_of(procedure_of(answers_of(file).procedure))}


@pytest.mark.parametrize("file", FILES)
def test_no_hold_was_released_by_the_one_who_did_the_step(plays: dict[str, Play], file: str) -> None:
    played = plays[file]
    begun_by = {(event.step, event.attempt): event.by for event in of_kind(played, ev.StepBegun)}
    released = of_kind(played, ev.HoldReleased)
    assert released
    for event in released:
        doers = {by for (step, _), by in begun_by.items() if step == event.step}
        assert event.by not in doers


@pytest.mark.parametrize("file", FILES)
def test_no_value_of_the_shipped_job_breaks_a_limit(plays: dict[str, Play], file: str) -> None:
    assert [event.name for event in of_kind(plays[file], ev.WorkedOut) if event.verdict != "in"] == []


def test_the_plain_way_meets_no_trouble_and_no_exception(plays: dict[str, Play]) -> None:
    kinds = Counter(type(event) for event in plays["change-roll"].events)
    assert kinds[ev.TroubleMet] == kinds[ev.ExceptionNoted] == kinds[ev.WentBack] == 0


@pytest.mark.parametrize(
    "kind",
    [
        ev.TroubleMet, ev.WentBack, ev.ExceptionNoted, ev.ExceptionClosed, ev.Paused, ev.Resumed, ev.StateSeen,
        ev.MadeSafe, ev.SafeActDone, ev.AnswerCorrected, ev.HandedOver, ev.StepLeftOut, ev.StepRepeated, ev.WaitEnded,
        ev.LookedTwice, ev.StepNotApplicable,
    ],
)  # fmt: skip
def test_the_bad_day_has_all_that_leaves_the_plain_way(plays: dict[str, Play], kind: type[ev.Event]) -> None:
    assert of_kind(plays["change-roll-troubles"], kind)


def test_the_bad_day_keeps_what_was_entered_out_of_limits_and_its_re_entry(plays: dict[str, Play]) -> None:
    answered = of_kind(plays["change-roll-troubles"], ev.Answered)
    diameter = [(event.verdict, event.entry, event.typed) for event in answered if event.name == "measured_od"]
    assert diameter[:2] == [("out", 1, "1040"), ("in", 2, "1004")]


def test_a_state_found_otherwise_after_the_pause_is_an_exception(plays: dict[str, Play]) -> None:
    seen = [e for e in of_kind(plays["change-roll-troubles"], ev.StateSeen) if e.state == "brake"]
    assert [(event.was, event.value) for event in seen[:2]] == [("holding", "released"), ("released", "holding")]
    words = [event.words for event in of_kind(plays["change-roll-troubles"], ev.ExceptionNoted)]
    assert "unwind brake was taken for holding and is released" in words


def test_a_swinging_roll_needs_a_new_release_before_it_is_lifted_again(plays: dict[str, Play]) -> None:
    played = plays["change-roll-troubles"]
    lifts = [event.attempt for event in of_kind(played, ev.StepBegun) if event.step == "lift-new-roll"]
    releases = [event for event in of_kind(played, ev.HoldReleased) if event.step == "lift-new-roll"]
    assert lifts == [1, 2]
    assert len(releases) == 2


def test_what_rests_on_an_answer_that_the_second_look_did_not_share_is_worked_out_again(plays: dict[str, Play]) -> None:
    """The counter of the first good metre was 214, not 204: ten metres less on the roll."""
    left = [e.value for e in of_kind(plays["change-roll-troubles"], ev.WorkedOut) if e.name == "metres_left"]
    assert len(left) == 2
    assert isclose(float(left[0]) - float(left[1]), 10.0, abs_tol=1e-9)


def job_chain() -> Iterator[tuple[str, float]]:
    """The shipped roll change worked out by hand from its job, in plain Python. Sources stand in test_arithmetic."""
    length = length_on_roll(1.0, 0.106, 104e-6)
    mass = -(-(0.080 * 1.2 * length + tube(0.106, 0.015, 1.2, 700)) // 1)
    feed = -(-(14.2 + 6 + taut(REWIND).length) // 1)
    yield "web_length", length
    yield "roll_mass", mass
    yield "hook_load", mass + 57
    yield "lift_reserve", 1000 - (mass + 57)
    yield "sling_leg", -(-(mass + 57) / 2 / sin(radians(60)) // 1)
    yield "unwind_pull", 150 * 1.2 * UNWIND_FACTOR
    yield "unwind_mass", 150 * 1.2 * UNWIND_FACTOR / G - 8
    yield "unwind_pieces", 28
    yield "rewind_mass", 150 * 1.2 * REWIND_FACTOR / G - 6.5
    yield "rewind_pieces", 30
    yield "thread_speed", 3 / 60
    yield "feed_length", feed
    yield "spare_length", length - feed - 6000
    yield "run_time", 6000 / 3
    yield "sensor_place", 0.602
    yield "metres_left", length - 186 - 6000


@pytest.mark.parametrize(("name", "expected"), list(job_chain()), ids=[name for name, _ in job_chain()])
def test_the_record_of_the_roll_change_holds_the_numbers_of_an_independent_calculation(
    plays: dict[str, Play], name: str, expected: float
) -> None:
    found = [event.value for event in of_kind(plays["change-roll"], ev.WorkedOut) if event.name == name]
    assert len(found) == 1
    assert isclose(float(found[0]), expected, rel_tol=1e-6)


@pytest.mark.parametrize(("bar", "end_kg"), [("unwind_pieces", 14), ("rewind_pieces", 15)])
def test_both_ends_of_a_bar_get_the_same_from_the_rack(plays: dict[str, Play], bar: str, end_kg: int) -> None:
    event = next(event for event in of_kind(plays["change-roll"], ev.WorkedOut) if event.name == bar)
    sums = [sum(int(piece) * count for piece, count in end) for end in event.ends]
    assert sums == [end_kg, end_kg]
    total = Counter(piece for end in event.ends for piece, count in end for _ in range(count))
    assert all(total[piece] <= held for piece, held in {"2": 8, "3": 8, "5": 16}.items())


def test_nothing_is_invented_where_an_answer_is_missing(tmp_path: os.PathLike[str]) -> None:
    answers = answers_of("change-roll")
    without = answers._replace(entries=tuple(e for e in answers.entries if e.step != "read-plates"))
    played = play("change-roll", without, str(tmp_path))
    assert played.outcome == "unfinished"
    assert "crane_plate" in played.stopped


@pytest.mark.parametrize(
    ("changed", "value"),
    [
        ({"roll_od": "1200 mm", "web_width": "1300 mm"}, "roll_mass"),  # 1131 kg: the chucks carry 800 kg
        ({"job_length": "9000 m"}, "spare_length"),  # more than the 7467 m on the roll
        ({"tension": "300 N/m"}, "set_tension"),  # more than kraft paper is given here
        ({"feed_speed": "15 m/min", "tension": "80 N/m"}, "set_tension"),
    ],
)
def test_a_job_outside_what_is_allowed_does_not_begin(
    tmp_path: os.PathLike[str], changed: dict[str, str], value: str
) -> None:
    refused = begun("change-roll", str(tmp_path), SteppedClock(), **changed)
    assert isinstance(refused, Refusal)
    assert any(line.startswith(f"{value}:") for line in refused.missing)


def test_gear_that_is_too_weak_keeps_the_press_from_being_stopped_at_all(tmp_path: os.PathLike[str]) -> None:
    """Roll, beam and slings have 778 kg; a crane for 700 kg is met before the last good metre."""
    answers = answers_of("change-roll")
    weak = tuple(
        entry._replace(answers=(("crane_plate", ("700", "700")), *entry.answers[1:]))
        if entry.step == "read-plates"
        else entry
        for entry in answers.entries
    )
    played = play("change-roll", answers._replace(entries=weak), str(tmp_path))
    assert played.outcome == "unfinished"
    assert "weak-gear" in {event.trouble for event in of_kind(played, ev.TroubleMet)}
    assert "stop-press" not in {event.step for event in of_kind(played, ev.StepBegun)}


def test_each_lock_of_the_knife_change_is_handled_by_one_person(plays: dict[str, Play]) -> None:
    """29 CFR 1910.147(e)(3): a device is taken off by the person who put it on (informed by)."""
    begun_by = {event.step: event.by for event in of_kind(plays["slitter-knives"], ev.StepBegun)}
    for person in ("fitter", "helper"):
        assert begun_by[f"{person}-lock-on"] == begun_by[f"{person}-lock-off"]
    assert begun_by["fitter-lock-on"] != begun_by["helper-lock-on"]
