"""Who it was: asked where more than one person is there, and never before stopping."""

from runner.engine import events as ev
from runner.engine.intents import NoteException
from tests.screen.bench import MemoryRun, Person, compiled
from tests.screen.test_view import to_lift

ALONE = (("unwind", "N. Petrov"), ("rewind", "N. Petrov"), ("lead", ""))


def stopped(run: MemoryRun) -> Person:
    """Somebody has pressed stop."""
    return to_lift(run).press("f4")


def test_who_looked_is_asked_with_the_one_who_has_the_list_first() -> None:
    run = MemoryRun(compiled())
    person = Person(run).press("f7", "tab", "1", "enter", "1", "enter")
    assert run.count(ev.StateSeen) == 0
    text = person.screen()
    assert "Who looked?" in text
    assert text.index("N. Petrov") < text.index("T. Oduya") < text.index("S. Lind")
    person.press("2", "enter")
    assert run.last(ev.StateSeen).by == "T. Oduya"
    assert "What the press is taken for" in person.screen(), "back at the board"


def test_who_looked_last_is_proposed_for_the_next_look() -> None:
    run = MemoryRun(compiled())
    person = Person(run).press("f7", "tab", "1", "enter", "1", "enter", "2", "enter")
    person.press("2", "enter", "1", "enter", "enter")
    assert [event.by for event in run.events if isinstance(event, ev.StateSeen)] == ["T. Oduya", "T. Oduya"]


def test_who_resumes_is_asked() -> None:
    run = MemoryRun(compiled())
    person = Person(run).press("f3", "1", "enter", "enter")
    person.press("enter", "3", "enter")
    assert run.last(ev.Resumed).by == "S. Lind"


def test_stopping_waits_for_no_question_and_who_it_was_is_asked_after() -> None:
    run = MemoryRun(compiled())
    person = stopped(run)
    assert run.state.halted == "make-safe"
    assert "[ ] Set the unwind speed to zero." in person.screen()
    person.press("enter")
    assert "Who stopped the press" in person.screen()
    person.press("2", "enter")
    made = [event for event in run.events if isinstance(event, ev.MadeSafe)]
    assert [event.by for event in made] == ["N. Petrov", "T. Oduya"]
    person.press("enter", "enter")
    acts = [event for event in run.events if isinstance(event, ev.SafeActDone)]
    assert [(event.by, event.number) for event in acts] == [("T. Oduya", 0), ("T. Oduya", 1)]


def test_where_it_was_the_one_who_has_the_list_nothing_more_is_kept() -> None:
    run = MemoryRun(compiled())
    stopped(run).press("enter", "enter", "enter")
    assert run.count(ev.MadeSafe) == 1
    assert run.state.safe_acts_done == (0, 1)


def test_going_on_after_stopping_asks_who_stopped_and_who_resumes() -> None:
    run = MemoryRun(compiled())
    person = stopped(run).press("3", "enter", "enter", "enter", "enter")
    assert "Who resumes the run?" in person.screen()
    person.press("3", "enter")
    assert run.last(ev.Resumed).by == "S. Lind"


def test_going_on_while_acts_are_open_names_them_and_takes_one_more_key() -> None:
    run = MemoryRun(compiled())
    person = stopped(run).press("3", "enter", "enter", "enter")
    assert "GO ON WITH ACTS LEFT OPEN?" in person.screen()
    assert "[ ] Set the unwind speed to zero." in person.screen()
    person.press("escape")
    assert "STOP, MAKE SAFE" in person.screen()
    assert run.state.halted == "make-safe"


def test_going_on_after_every_act_is_asked_nothing_more() -> None:
    run = MemoryRun(compiled())
    person = stopped(run).press("enter", "enter", "enter", "3", "enter")
    assert "Who resumes the run?" in person.screen()


def test_who_closes_an_exception_is_asked() -> None:
    run = MemoryRun(compiled())
    run.submit(NoteException("N. Petrov", "", "other", "note", "The lamp flickers"))
    Person(run).press("f2", "2", "enter").type("Lamp changed").press("2", "enter")
    assert run.last(ev.ExceptionClosed).by == "T. Oduya"


def test_who_corrects_is_asked_and_the_engine_takes_the_one_who_did_the_step() -> None:
    run = MemoryRun(compiled())
    person = (
        to_lift(run)
        .press("enter", "enter")
        .type("S. Lind")
        .press("enter", "enter", "f5", "enter", "enter", "enter")
        .type("6.2")
    )
    person.press("f6", "enter", "2", "enter").type("6.4").type("misread the gauge")
    assert run.count(ev.AnswerCorrected) == 0
    person.press("2", "enter")
    assert run.count(ev.AnswerCorrected) == 0
    assert "is for Operator, unwind side (N. Petrov)" in person.screen()
    person.press("1", "enter")
    assert run.last(ev.AnswerCorrected).by == "N. Petrov"


def test_one_person_alone_is_not_asked() -> None:
    run = MemoryRun(compiled(), ALONE)
    Person(run).press("f7", "tab", "1", "enter", "1", "enter")
    assert run.last(ev.StateSeen).by == "N. Petrov"
    Person(run).press("f4", "enter")
    assert run.last(ev.SafeActDone).by == "N. Petrov"
