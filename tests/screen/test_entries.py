"""A value that is typed again: the field is empty both times, and both entries stay on record as typed."""

from runner.engine import events as ev
from tests.screen.bench import MemoryRun, Person, compiled
from tests.screen.test_view import to_lift


def at_reading(run: MemoryRun) -> Person:
    """The gauge is asked for."""
    person = to_lift(run).press("enter", "enter").type("S. Lind")
    return person.press("enter", "enter", "f5", "enter", "enter", "enter")


def test_nothing_is_filled_in_beforehand_at_the_first_entry_nor_at_the_second() -> None:
    person = at_reading(MemoryRun(compiled()))
    assert person.shell.sheet().entry is not None
    assert person.shell.typed.text == ""
    person.press("enter")
    assert person.run.count(ev.Answered) == 0
    person.type("7.4")
    assert person.shell.typed.text == ""
    person.press("enter")
    assert person.run.count(ev.Answered) == 1


def test_both_entries_are_on_record_as_typed() -> None:
    run = MemoryRun(compiled())
    at_reading(run).type("7.4").type("6.4 bar")
    given = [(event.entry, event.typed, event.verdict) for event in run.events if isinstance(event, ev.Answered)]
    assert given == [(1, "7.4", "out"), (2, "6.4 bar", "in")]


def test_a_refused_entry_stays_in_sight_and_what_is_typed_next_takes_its_place() -> None:
    run = MemoryRun(compiled())
    person = at_reading(run).type("6,4")
    assert "> 6,4" in person.screen()
    person.type("6.4")
    assert [event.typed for event in run.events if isinstance(event, ev.Answered)] == ["6.4"]
