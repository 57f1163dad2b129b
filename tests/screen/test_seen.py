"""What a person cannot see does not act, numbers pick what they say, and stopping is never taken for an answer."""

from runner.engine import events as ev
from runner.engine.intents import HandOver
from runner.screen.plain import answer
from tests.screen.bench import MemoryRun, Person, compiled
from tests.screen.test_view import to_lift


def test_on_a_terminal_too_small_for_a_page_only_stopping_acts() -> None:
    run = MemoryRun(compiled())
    person = Person(run)
    before = len(run.events)
    person.shell.size = (40, 10)
    person.press("enter", "enter", "f3", "1", "f6")
    assert len(run.events) == before
    person.press("f4")
    assert run.state.halted == "make-safe"


def test_the_header_claims_nothing_about_the_press() -> None:
    assert "press stopped" not in Person(MemoryRun(compiled())).screen()
    assert "press running" not in Person(MemoryRun(compiled())).screen()


def test_ticks_of_one_person_do_not_release_for_another() -> None:
    run = MemoryRun(compiled())
    person = to_lift(run).press("enter", "enter").type("S. Lind").press("enter", "enter", "escape")
    run.submit(HandOver("S. Lind", "lead", "A. Okafor", "the lift"))
    person.type("A. Okafor").press("f5")
    assert not any(isinstance(event, ev.HoldReleased) for event in run.events)
    assert "ticked by S. Lind: look again" in person.screen()


def test_a_number_picks_its_own_line_whatever_was_chosen_before() -> None:
    run = MemoryRun(compiled())
    page = to_lift(run).press("f7", "down", "2").shell.pages[-1]
    assert getattr(page, "cursor", None) == 1


def test_the_word_that_stops_is_no_answer_to_a_question_for_text() -> None:
    run = MemoryRun(compiled())
    person = to_lift(run).press("enter", "enter")
    sheet = person.shell.sheet()
    assert sheet.entry is not None
    assert sheet.entry.free
    wanted = answer(person.shell, sheet, "safe")
    assert type(wanted).__name__ == "MakeSafe"
