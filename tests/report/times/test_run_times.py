"""The figures of one run, against runs of which every time is known by hand, and as laws over runs of the real engine."""

import random

import pytest

from runner.engine import events as ev
from runner.engine.events import Event
from runner.report.times.plan import plan_of
from runner.report.times.run_times import RunTimes, run_times, worked
from runner.report.times.visits import AGAIN, BROKEN_OFF, TROUBLE, stretches_of
from tests.engine.test_laws import SHIPPED, begun, shipped
from tests.engine.wanderer import wish
from tests.procedures.plays import answers_of, play
from tests.procedures.shipped import procedure_of
from tests.report.times.small import LEAD, LENA, PLAN, REWIND, ROLF, UMA, UNWIND, moment, plain, run_of, step


def told(events: list[Event]) -> RunTimes:
    return run_times(run_of(events), PLAN)


def waits(run: RunTimes) -> dict[str, float]:
    found: dict[str, float] = {}
    for wait in run.waits:
        found[wait.reason] = found.get(wait.reason, 0.0) + wait.seconds
    return found


def test_last_good_to_first_good_is_the_time_of_the_phases_with_the_press_stopped() -> None:
    assert told(plain()).stood == 250 - 50


def test_work_is_parted_by_what_the_press_does_and_adds_up() -> None:
    run = told(plain())
    assert run.work == (30 + 10, 60 + 60 + 30 + 60)


def test_a_step_moved_to_the_running_press_shortens_the_standstill_and_not_the_labour() -> None:
    """S. Shingo, A Revolution in Manufacturing: The SMED System, 1985: internal and external work together are all the
    work; what becomes external is still done, and the machine stands for less."""
    moved = {**PLAN, "lift-a": PLAN["stage"]}
    before, after = told(plain()), run_times(run_of(plain()), moved)
    assert sum(before.work) == sum(after.work)
    assert after.work[1] == before.work[1] - 60
    assert before.stood is not None
    assert after.stood is not None
    assert after.stood < before.stood


def test_a_list_that_waits_for_the_other_is_a_wait_of_that_list() -> None:
    found = waits(told(plain()))
    assert found[f"{REWIND}, for the other list"] == 180 - 90
    assert found[f"{UNWIND}, for the end of the other list"] == 250 - 180
    assert len(found) == 2


def test_the_chain_goes_over_to_the_list_that_was_waited_for_and_fills_the_time() -> None:
    run = told(plain())
    names = [link.visit.step for link in run.chain]
    assert names == ["stage", "lift-a", "lower-a", "lift-b", "tidy"]
    assert [link.gap for link in run.chain] == [10, 10, 10, 10, 10]
    lift = run.chain[3]
    assert (lift.crossed, lift.waited) == (True, 90)
    assert sum(link.gap + link.until - link.since for link in run.chain) == 270


def test_a_release_a_second_look_and_a_waiting_time_are_waits_with_their_reasons() -> None:
    events = [
        ev.HoldReached("", moment(10), "lift-a", "lead"),
        ev.HoldReleased(LENA, moment(70), "lift-a", "lead", (), ()),
        ev.StepBegun(UMA, moment(80), "lift-a", "2a.1", 1, "Lift."),
        ev.WaitBegun("", moment(80), "lift-a", "rest", 30.0),
        ev.WaitEnded("", moment(110), "lift-a", "rest", 30.0, False),
        ev.LookedTwice(ROLF, moment(125), "lift-a", "together", True, ""),
        ev.StepDone(UMA, moment(130), "lift-a", "2a.1", ()),
    ]
    assert waits(told(events)) == {
        f"release by {LEAD}": 60, "waiting time of the procedure": 30, f"second look by {REWIND}": 15,
    }  # fmt: skip


def test_a_halt_is_no_work_and_no_other_wait() -> None:
    events = [
        ev.HoldReached("", moment(10), "lift-a", "lead"),
        ev.Paused(UMA, moment(20), "Lift"),
        ev.Resumed(UMA, moment(50), "pause", (), "Lift"),
        ev.HoldReleased(LENA, moment(70), "lift-a", "lead", (), ()),
        *step("lift-a", 80, 100),
    ]
    run = told(events)
    assert waits(run) == {"run halted: paused": 30, f"release by {LEAD}": 30}
    assert list(run.work) == [0, 90 - 30 - 30]
    assert run.stood == 90


def test_the_time_in_which_the_program_had_ended_is_a_halt_from_the_event_before() -> None:
    events = [
        ev.StepBegun(UMA, moment(10), "lift-a", "2a.1", 1, "Lift."),
        ev.TailSetAside("", moment(100), 3, "x"),
        ev.Resumed(UMA, moment(110), "interruption", (), ""),
        ev.StepDone(UMA, moment(120), "lift-a", "2a.1", ()),
    ]
    assert waits(told(events)) == {"run halted: program ended": 100}


def test_each_attempt_is_a_visit_and_says_how_it_ended() -> None:
    def begin(at: float) -> ev.StepBegun:
        return ev.StepBegun(UMA, moment(at), "lift-a", "2a.1", 1, "Lift.")

    events = [
        begin(10), ev.TroubleMet(UMA, moment(20), "lift-a", "2a.1", "swings", "The roll swings", "", "back_to", "lift-a"),
        begin(30), ev.StepRepeated("", moment(40), "lift-a", 1, "x"),
        begin(50), ev.Answered(UMA, moment(55), "lift-a", "x", "read", "", "", "", 1.0, 1.0, "", "", "in", 1),
        begin(70), ev.StepDone(UMA, moment(90), "lift-a", "2a.1", ()),
    ]  # fmt: skip
    run = stretches_of(run_of(events), PLAN)
    assert run is not None
    ended = [(visit.how, visit.until - visit.came) for visit in run.visits]
    assert ended == [(TROUBLE, 10), (AGAIN, 10), (BROKEN_OFF, 5), ("done", 20)]


def test_a_machine_that_restarted_leaves_no_times_but_the_exceptions() -> None:
    events = [
        *plain()[:2],
        ev.ExceptionNoted(UMA, moment(900, "boot-2"), 1, "equipment", "minor", "words", "", "", False),
    ]
    run = told(events)
    assert (run.stretches, run.stood, run.whole, run.waits, run.chain) == (None, None, None, (), ())
    assert not run.counts
    assert run.exceptions == (("", "equipment"),)


def test_an_exception_out_of_a_trouble_has_its_sign_and_another_its_kind() -> None:
    noted = ev.ExceptionNoted(UMA, moment(21), 1, "equipment", "minor", "Uma was slow", "lift-a", "", False)
    trouble = ev.TroubleMet(UMA, moment(20), "lift-a", "2a.1", "swings", "The roll swings", "", "go_on", "")
    run = told([trouble, noted, ev.ExceptionNoted(UMA, moment(30), 2, "people", "minor", "words", "lift-a", "", False)])
    assert run.exceptions == (("lift-a", "The roll swings"), ("lift-a", "people"))
    elsewhere = told([trouble, ev.ExceptionNoted(UMA, moment(21), 1, "people", "minor", "words", "wipe-b", "", False)])
    assert elsewhere.exceptions == (("wipe-b", "people"),)


@pytest.mark.parametrize("answers", ["change-roll", "change-roll-troubles", "slitter-knives", "web-break"])
def test_a_played_run_is_explained_to_its_last_second(answers: str, tmp_path: object) -> None:
    name = answers.removesuffix("-troubles")
    procedure = procedure_of(name)
    events = play(name, answers_of(answers), str(tmp_path)).events
    run = run_times(list(enumerate(events, start=1)), plan_of(procedure))
    assert run.counts
    assert run.stood is not None
    assert run.whole is not None
    assert 0 < run.stood < run.whole
    lawful(run)
    assert sum(wait.reason.startswith("release by") for wait in run.waits) > 0


@pytest.mark.parametrize("at", range(len(SHIPPED)), ids=lambda at: SHIPPED[at].name)
@pytest.mark.parametrize("seed", range(3))
def test_the_chain_of_any_run_fills_its_time_without_overlap(seed: int, at: int) -> None:
    chance = random.Random(seed)
    bench = begun(shipped(SHIPPED[at]), SHIPPED[at])
    for _ in range(300):
        if bench.state.outcome:
            break
        bench.attempt(wish(bench, chance))
    lawful(run_times(list(enumerate(bench.events, start=1)), plan_of(bench.procedure)))


def lawful(run: RunTimes) -> None:
    """What holds of every run with known times."""
    assert run.stretches is not None
    assert run.chain
    end = 0.0
    for link in run.chain:
        assert link.gap >= 0
        assert link.since - link.gap == pytest.approx(end)
        assert link.until >= link.since
        end = link.until
    assert sum(link.gap + link.until - link.since for link in run.chain) == pytest.approx(end)
    ended = [visit for visit in run.stretches.visits if visit.how != "passed over"]
    assert end == ended[-1].until
    assert all(wait.seconds >= 0 for wait in run.waits)
    for visit in ended:
        assert worked(run.stretches, visit) >= 0
        assert visit.came <= (visit.came if visit.begun is None else visit.begun) <= visit.until
