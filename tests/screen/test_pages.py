"""Pages driven by keys over the real engine: a whole procedure to its end, and what leaves the plain way."""

import re
from dataclasses import replace
from pathlib import Path

import pytest

from runner.engine import events as ev
from runner.engine.intents import LookAt, NoteException, Refusal
from runner.engine.state import StepStatus
from runner.screen import guard, pages, words
from runner.screen.desk import Desk
from runner.screen.pages.broken import BrokenPage
from runner.screen.pages.finish import FinishPage
from tests.screen.bench import MemoryRun, Person, compiled
from tests.screen.test_view import through_to_threading, to_lift


def test_a_procedure_runs_to_its_end_by_keys_alone() -> None:
    run = MemoryRun(compiled())
    person = through_to_threading(run)
    person.press("enter", "enter", "enter", "enter", "enter")  # begin, three rollers, done
    person.press("enter", "enter")  # the guard
    assert "This list has ended" in person.screen()
    person.press("enter", "enter", "1", "enter", "enter").type("S. Lind").press("1", "enter", "enter")
    person.press("enter", "enter")
    assert "Wait: 4 s to go" in person.screen()
    run.tick += 10
    person.press("enter")
    assert "Nothing is missing" in person.screen()
    person.press("enter")
    assert run.state.outcome == "finished"
    assert "04HM-ASW9-NF6Y-Y093-B" in person.screen()


def test_enter_never_releases_a_hold() -> None:
    run = MemoryRun(compiled())
    person = to_lift(run).press(*["enter"] * 12)
    person.type("S. Lind").press(*["enter"] * 12)
    assert run.count(ev.HoldReleased) == 0
    assert run.count(ev.ConfirmationTicked) == 2
    person.press("f5")
    assert run.count(ev.HoldReleased) == 1


def test_the_one_who_does_the_step_cannot_release_its_hold() -> None:
    run = MemoryRun(compiled(), crew=(("unwind", "N. Petrov"), ("rewind", "T. Oduya"), ("lead", "N. Petrov")))
    person = to_lift(run).press("enter", "enter").type("n.  petrov")
    assert "another person must release" in person.screen()
    assert "hand one of the two roles to another person" in " ".join(person.screen().split())
    person.press("enter", "f5")
    assert run.count(ev.ConfirmationTicked) == run.count(ev.HoldReleased) == 0


def test_an_unticked_confirmation_keeps_the_release_key_away() -> None:
    run = MemoryRun(compiled())
    person = to_lift(run).press("enter", "enter").type("S. Lind").press("enter", "f5")
    assert run.count(ev.HoldReleased) == 0
    assert "F5" not in person.screen()


def test_a_value_out_of_limits_is_said_and_typed_again_and_then_is_the_trouble() -> None:
    run = MemoryRun(compiled())
    person = (
        to_lift(run)
        .press("enter", "enter")
        .type("S. Lind")
        .press("enter", "enter", "f5", "enter", "enter", "enter")
        .type("7.4")
    )
    assert "OUT OF LIMITS: 7.4 bar" in person.screen()
    assert "second entry" in person.screen()
    person.type("7.5")
    assert run.count(ev.TroubleMet) == 1
    assert run.state.record("pressure").status is StepStatus.AGAIN


def test_a_decimal_comma_is_asked_about_and_what_was_typed_stays_for_correction() -> None:
    run = MemoryRun(compiled())
    person = (
        to_lift(run)
        .press("enter", "enter")
        .type("S. Lind")
        .press("enter", "enter", "f5", "enter", "enter", "enter")
        .type("6,2")
    )
    assert run.count(ev.Answered) == 0
    assert "> 6,2" in person.screen()
    person.press("left", "backspace", ".", "enter")
    assert run.count(ev.Answered) == 1


def test_nothing_is_chosen_beforehand() -> None:
    run = MemoryRun(compiled())
    person = (
        to_lift(run)
        .press("enter", "enter")
        .type("S. Lind")
        .press("enter", "enter", "f5", "enter", "enter", "enter")
        .type("6.2")
    )
    person.press("enter")
    assert run.count(ev.Answered) == 1
    assert words.PICK in person.screen()


def test_a_trouble_is_shown_with_its_way_on_before_it_is_taken() -> None:
    run = MemoryRun(compiled())
    person = (
        to_lift(run).press("enter", "enter").type("S. Lind").press("enter", "enter", "f5", "enter", "f2", "1", "enter")
    )
    assert "Lower it to the floor." in person.screen()
    assert "goes back to step 2.1" in person.screen()
    assert run.count(ev.TroubleMet) == 0
    person.press("enter")
    assert run.count(ev.TroubleMet) == 1
    person.press("enter", "enter")
    assert "[ ] Both chucks are open" in person.screen(), "each attempt needs its own release"


def test_anything_else_is_noted_in_words_and_closed_later() -> None:
    run = MemoryRun(compiled())
    person = Person(run).press("f2", "2", "enter", "1", "enter").type("The lamp flickers")
    assert run.state.open_exceptions[0].words == "The lamp flickers"
    assert "! 1 open" in person.screen()
    person.press("f2", "2", "enter").type("Lamp changed").press("enter")
    assert not run.state.open_exceptions


def test_pause_asks_the_next_intention_and_shows_it_large_on_return() -> None:
    run = MemoryRun(compiled())
    person = to_lift(run).press("f3", "1", "enter").type("check the sling")
    assert run.state.halted == "pause"
    assert "check the sling" in person.screen()
    person.press("enter", "enter")
    assert "check the sling" in person.screen()
    assert "what do you see?" in person.screen()
    assert "unwind drive: stopped" not in person.screen(), "what it was before is not shown where it is to be looked at"
    assert "it was" not in person.screen(), "what it was is told after the look"
    for state in run.procedure.states:
        person.press(str(state.of.index(run.state.unconfirmed[state.name]) + 1))
    assert not run.state.unconfirmed
    person.press("enter")
    assert run.state.position.states == (0, 0, 0)


def test_stop_and_make_safe_is_one_key_from_any_page_and_past_a_hold() -> None:
    run = MemoryRun(compiled())
    person = to_lift(run).press("enter", "enter", "f4")
    assert run.state.halted == "make-safe"
    assert "[ ] Set the unwind speed to zero." in person.screen()
    person.press("enter", "enter", "enter")
    assert run.state.safe_acts_done == (0, 1)
    person.press("enter")
    assert run.state.halted == "make-safe", "going on is chosen, not slipped into"
    person.press("4", "enter").type("roll damaged")
    assert run.state.outcome == "abandoned"


def test_stop_is_taken_even_right_after_another_key() -> None:
    run = MemoryRun(compiled())
    person = Person(run)
    person.pause = 0.01
    person.press("enter", "f4")
    assert run.state.halted == "make-safe"


def test_looking_about_keeps_the_place() -> None:
    run = MemoryRun(compiled())
    person = to_lift(run)
    events = len(run.events)
    person.press("f6", "down", "down", "enter")
    assert "LOOKING at step 2.3" in person.screen()
    person.press("escape", "pageup", "pagedown", "escape")
    assert "2.1" in person.screen()
    assert len(run.events) == events


def test_going_back_needs_a_reason_and_marks_what_is_to_be_done_again() -> None:
    run = MemoryRun(compiled())
    person = Person(run).press("enter", "enter", "f6", "up", "enter", "1", "enter", "enter")
    assert run.count(ev.WentBack) == 0
    person.type("speed was not at zero")
    assert run.state.record("drive-off").status is StepStatus.AGAIN


def test_an_optional_step_is_left_out_with_a_reason() -> None:
    run = MemoryRun(compiled())
    person = to_lift(run).press("enter", "enter").type("S. Lind").press("enter", "enter", "f5", "enter", "enter")
    person.press("enter").type("6.2").press("1", "enter", "enter")
    person.press("f6", "enter", "1", "enter").type("no tools used")
    assert run.state.record("count-tools").status is StepStatus.LEFT_OUT


def test_a_given_answer_is_corrected_and_the_old_one_stays_on_record() -> None:
    run = MemoryRun(compiled())
    person = (
        to_lift(run)
        .press("enter", "enter")
        .type("S. Lind")
        .press("enter", "enter", "f5", "enter", "enter", "enter")
        .type("6.2")
    )
    person.press("f6", "enter", "2", "enter").type("6.4").type("misread the gauge").press("enter")
    corrected = run.last(ev.AnswerCorrected)
    assert isinstance(corrected, ev.AnswerCorrected)
    assert (corrected.old, corrected.shown) == ("6.2 bar", "6.4 bar")


def test_a_role_is_handed_over_with_what_is_open_read_back() -> None:
    run = MemoryRun(compiled())
    person = Person(run).press("f3", "2", "enter", "1", "enter")
    person.type("A. Berg").type("step one is open")
    assert run.state.crew["unwind"] == "A. Berg"


def test_the_working_shows_formula_numbers_result_and_limit() -> None:
    run = MemoryRun(compiled())
    person = to_lift(run).press("f7", "1", "enter")
    for part in ("roll_od^2", "1000 mm", "785", "<= 1500 kg"):
        assert part in person.screen()


def test_what_was_typed_does_not_follow_to_another_step() -> None:
    run = MemoryRun(compiled())
    person = (
        to_lift(run)
        .press("enter", "enter")
        .type("S. Lind")
        .press("enter", "enter", "f5", "enter", "enter", "enter", "6", ".")
    )
    person.press("f6", "escape")
    assert person.shell.typed.text == ""


def test_a_held_enter_passes_one_stage_and_says_why() -> None:
    run = MemoryRun(compiled())
    person = Person(run).press("enter")
    events = len(run.events)
    person.pause = 0.03
    person.press(*["enter"] * 60)
    assert len(run.events) == events
    assert person.shell.message in (guard.HELD, guard.TOO_SOON)


def test_a_scan_into_a_step_that_asks_nothing_does_nothing() -> None:
    run = MemoryRun(compiled())
    person = Person(run).press("enter")
    events = len(run.events)
    run.tick += 5
    person.pause = 0.0005
    person.type("4012345678901")
    assert len(run.events) == events


def test_a_poisoned_record_takes_the_whole_screen_and_nothing_more_is_accepted() -> None:
    run = MemoryRun(compiled())
    person = Person(run)
    run.poisoned = "no space left on device"
    person.press("enter")
    assert isinstance(person.shell.pages[0], BrokenPage)
    assert words.BROKEN in person.screen()
    before = len(run.events)
    person.press("f4", "f2", "f5", "1")
    assert len(run.events) == before


def test_an_interrupted_run_is_resumed_before_anything_else() -> None:
    run = MemoryRun(compiled())
    to_lift(run)
    run.interrupted = True
    person = Person(run)
    assert "INTERRUPTED" in person.screen()
    person.press("enter", "enter")
    assert run.count(ev.Resumed) == 1
    assert "what do you see?" in person.screen()


@pytest.mark.parametrize("mode", ["live", "dry"])
def test_the_screen_never_says_that_a_machine_is_safe(mode: str) -> None:
    run = MemoryRun(compiled(), mode=mode)
    person = Person(run)
    texts = [person.press("f1").screen(), person.press("escape", "f4").screen()]
    assert all("is safe" not in text for text in texts)
    assert "You confirm" in words.CONFIRM or "you confirm" in words.CONFIRM


def test_the_hold_page_tells_how_somebody_signs_on_where_nobody_has_the_role() -> None:
    run = MemoryRun(compiled(), crew=(("unwind", "N. Petrov"), ("rewind", "T. Oduya")))
    person = to_lift(run).press("enter", "enter")
    text = " ".join(person.screen().split())
    assert "Nobody has signed on as Shift lead" in text
    assert "Esc, then F3, then pick Sign on" in text
    assert "[x]" not in text, "nothing is ticked for nobody"
    person.press("escape", "f3", "3", "enter", "1", "enter").type("S. Lind")
    assert run.state.crew["lead"] == "S. Lind"
    person.press("enter").type("S. Lind").press("enter", "enter", "f5")
    assert run.count(ev.HoldReleased) == 1


def test_the_hold_page_shows_what_the_step_needs_and_has_not() -> None:
    run = MemoryRun(compiled())
    person = to_lift(run).press("enter")
    run.submit(LookAt("N. Petrov", "guard", "closed"))
    person.press("enter")
    assert "unwind guard must be open; it is closed" in person.screen()


def test_a_refusal_of_several_things_reads_as_one_sentence() -> None:
    refusal = Refusal("The run is not finished.", ("exception 1 is open: Lamp.", "the crane must be free"))
    assert words.refused(refusal) == "The run is not finished: exception 1 is open: Lamp; the crane must be free."


def test_no_page_imports_another_that_imports_it() -> None:
    folder = Path(pages.__path__[0])
    found = re.compile(r"^\s*from runner\.screen\.pages\.(\w+) import", re.MULTILINE)
    leads = {path.stem: set(found.findall(path.read_text(encoding="utf-8"))) for path in folder.glob("*.py")}

    def reached(name: str, seen: frozenset[str] = frozenset()) -> set[str]:
        return {far for near in leads[name] - seen for far in {near, *reached(near, seen | leads[name])}}

    assert [name for name in leads if name in reached(name)] == []


@pytest.mark.parametrize(("count", "told"), [(1, "1 exception stays open"), (2, "2 exceptions stay open")])
def test_the_finish_page_counts_what_stays_open(count: int, told: str) -> None:
    run = MemoryRun(compiled())
    for _ in range(count):
        run.submit(NoteException("N. Petrov", "", "other", "note", "The lamp flickers"))
    ended = replace(run.state, position=run.state.position._replace(phase=len(run.procedure.phases), cursors=()))
    sheet = FinishPage().show(Desk(run.procedure, ended, run.now()))
    assert told in " ".join(str(block) for block in sheet.blocks)
