"""The independent second look: nowhere on the screen stands what the first person answered, or what rests on it."""

import pytest

from runner.engine import events as ev
from runner.screen.plain import run_plain
from runner.screen.view import HIDDEN, hidden, veiled, view
from tests.screen.bench import MemoryRun, Person, compiled
from tests.screen.test_plain import Lines

CREW = (("unwind", "N. Petrov"), ("lead", "S. Lind"))
FIRST = ("5.37", "10.74")
"""What the first person typed, and what is worked out from it."""


def measured(size: tuple[int, int] = (80, 24)) -> Person:
    """The first person has answered; the second is to look."""
    run = MemoryRun(compiled("twice"), CREW, ())
    person = Person(run, size).press("enter").type("5.37")
    assert run.state.values["twice"].shown == "10.74 mm"
    return person


def leaks(text: str) -> list[str]:
    """The first answers that can be read there."""
    return [figure for figure in FIRST if figure in text]


KEYS: tuple[tuple[str, ...], ...] = (
    (), ("enter",), ("f7",), ("f7", "1", "enter"), ("f7", "2", "enter"), ("f6",), ("f6", "enter"),
    ("f6", "down", "enter"), ("f2",), ("f3",), ("f3", "2", "enter"), ("f1",),
)  # fmt: skip


@pytest.mark.parametrize("keys", KEYS)
@pytest.mark.parametrize("size", [(80, 24), (120, 50)])
def test_no_page_shows_the_first_answer_to_the_second_person(size: tuple[int, int], keys: tuple[str, ...]) -> None:
    assert not leaks(measured(size).press(*keys).screen())


def test_nothing_is_said_of_the_step_that_follows() -> None:
    assert "then" not in measured().screen().split()


def test_the_values_page_says_that_they_are_hidden() -> None:
    text = measured().press("f7").screen()
    assert f"gap: ({HIDDEN})" in text
    assert f"twice: ({HIDDEN})" in text


def test_all_that_rests_on_the_answer_is_hidden_too_until_both_have_answered() -> None:
    person = measured()
    run = person.run
    assert hidden(run.procedure, run.state) == {"gap", "twice"}
    person.press("enter").type("S. Lind").type("5.37")
    assert hidden(run.procedure, run.state) == frozenset()
    assert veiled(run.procedure, run.state) is run.state
    person.press("enter")
    assert "Set the stop to 5.37 mm and the gauge to 10.74 mm." in person.screen()


def test_plain_mode_hides_it_as_well() -> None:
    run = MemoryRun(compiled("twice"), CREW, ())
    lines = Lines(run, "begin\n5.37\nvalues\n1\nback\n2\nback\nback\nsteps\ndown\nlook\nback\nback\nagain")
    run_plain(run, lines.ask, lines.written.append)
    after = lines.text.split("Gap [mm]", 1)[1]
    assert HIDDEN in after
    assert not leaks(after)


def test_a_run_that_is_opened_again_does_not_tell_either() -> None:
    run = measured().run
    run.interrupted = True
    person = Person(run)
    assert "answered: Gap: hidden" in person.screen()
    assert not leaks(person.screen())


def test_the_veil_changes_nothing_of_what_the_engine_is_told() -> None:
    person = measured()
    person.press("enter").type("S. Lind").type("9.9")
    looked = person.run.last(ev.LookedTwice)
    assert isinstance(looked, ev.LookedTwice)
    assert not looked.agrees


def test_a_step_that_a_role_must_agree_to_leave_out_names_the_role() -> None:
    person = measured().press("enter").type("S. Lind").type("5.37").press("enter", "enter", "enter")
    seen = view(person.run.procedure, person.run.state, person.run.now()).step
    assert seen is not None
    assert seen.agrees == "Shift lead"
    assert "may be left out with a reason; Shift lead must agree" in person.screen()


def test_what_a_scan_must_equal_is_not_there_for_the_second_person_to_copy() -> None:
    scans = (
        ('calculations:\n  twice: {formula: "gap * 2", unit: mm}', "inputs:\n  drawn: {ask: Number on the drawing}"),
        (
            "read:\n          gap: {ask: Gap, unit: mm, within: [1, 20]}",
            "scan:\n          label: {ask: Label, match: drawn}",
        ),
        ("Set the stop to {gap} and the gauge to {twice}.", "Set the stop."),
    )
    run = MemoryRun(compiled("twice", scans), CREW, (("drawn", "KP-77"),))
    person = Person(run, (80, 24)).press("enter")
    assert "allowed: as drawn: KP-77" in person.screen(), "the first person compares it with the ticket"
    person.type("KP-77").press("enter").type("S. Lind")
    assert "Label" in person.screen()
    assert "KP-77" not in person.screen()
    person.type("KP-77")
    assert run.state.record("measure").looked_twice
