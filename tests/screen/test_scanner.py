"""A barcode reader at any page: what it sends is one entry or nothing, whatever its timing, its length and its end.

Gaps of 1 to 10 ms between characters are usual for readers that act as a keyboard (common practice, no source); slower
ones are tried to 40 ms. A person's quickest keys here come 80 ms apart.
"""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from runner.screen.keys import KEYS, Action
from runner.screen.shell import Shell
from tests.screen.bench import MemoryRun, Person, compiled

PROCEDURE = compiled()
GAPS = st.floats(0.0005, 0.04)
SIGNS = "0123456789ABCDEFX-./ "
ENDS = ("", "enter", "tab", "down", "escape", "f5", "f2", "f3", "f6", "f7", "f1", "f10", "f12")
BEFORE: dict[str, tuple[str, ...]] = {
    "begin": (),
    "done": ("enter",),
    "cautions": ("enter", "enter", "enter", "enter"),
    "hold": ("enter",) * 5,
    "troubles": ("f2",),
    "pause": ("f3",),
    "steps": ("f6",),
    "values": ("f7",),
    "help": ("f1",),
    "stopped": ("f4",),
}
"""Pages, by the keys that lead to them from the start of the run."""


def reader(person: Person, text: str, gap: float, end: str) -> None:
    """A scan, and its end as one more key."""
    person.pause = gap
    person.press(*text, *((end,) if end else ()))
    person.pause = 1.0


def at(place: str) -> Person:
    """Somebody at a page."""
    return Person(MemoryRun(PROCEDURE)).press(*BEFORE[place])


def standing(shell: Shell) -> tuple[object, ...]:
    """Everything that a key could have moved."""
    return tuple(shell.pages), shell.lane, shell.far, shell.left


@pytest.mark.parametrize("place", list(BEFORE))
@settings(max_examples=25, deadline=None)
@given(st.text(SIGNS, min_size=4, max_size=40), GAPS, st.sampled_from(ENDS), st.floats(0.0, 2.0))
def test_a_scan_moves_no_page_and_puts_nothing_on_record(
    place: str, text: str, gap: float, end: str, rest: float
) -> None:
    person = at(place)
    assert person.shell.sheet().entry is None
    before, events = standing(person.shell), len(person.run.events)
    person.run.tick += rest
    reader(person, text, gap, end)
    assert standing(person.shell) == before, person.screen()
    assert len(person.run.events) == events


@settings(max_examples=40, deadline=None)
@given(st.text(SIGNS, min_size=1, max_size=3), st.floats(0.0005, 0.02), st.sampled_from(ENDS[1:]))
def test_a_short_scan_picks_no_line_that_a_later_enter_would_take(text: str, gap: float, end: str) -> None:
    person = at("troubles")
    before = standing(person.shell)
    reader(person, text, gap, end)
    assert standing(person.shell) == before


def asked() -> Person:
    """Somebody who is asked for a text: the name of who releases the hold, or why a step was not as expected."""
    person = at("troubles")
    for _ in range(9):
        if person.shell.sheet().entry is not None:
            return person
        person.press("1", "enter")
    raise AssertionError(person.screen())


@settings(max_examples=40, deadline=None)
@given(st.text(SIGNS[:-1], min_size=4, max_size=40), GAPS, st.sampled_from(ENDS[2:]))
def test_a_scan_into_an_entry_stays_one_entry_and_its_end_presses_no_other_key(text: str, gap: float, end: str) -> None:
    person = asked()
    events, pages = len(person.run.events), len(person.shell.pages)
    reader(person, text, gap, end)
    assert person.shell.typed.text == text
    assert (len(person.run.events), len(person.shell.pages)) == (events, pages)


@settings(max_examples=40, deadline=None)
@given(st.text(SIGNS[:-1], min_size=4, max_size=20), GAPS, st.integers(2, 5), st.floats(0.001, 0.25))
def test_several_scans_at_once_give_at_most_one_entry(text: str, gap: float, scans: int, between: float) -> None:
    person = asked()
    events = len(person.run.events)
    for _ in range(scans):
        reader(person, text, gap, "enter")
        person.run.tick += between
    assert len(person.run.events) - events <= 1
    noted = [event for event in person.run.events[events:] if text in str(event)]
    assert len(noted) <= 1


@settings(max_examples=60, deadline=None)
@given(st.lists(st.floats(0.08, 0.4), min_size=4, max_size=12))
def test_a_person_who_types_quickly_is_not_taken_for_a_reader(gaps: list[float]) -> None:
    person = asked()
    text = "torn at edge"[: len(gaps)]
    for sign, gap in zip(text, gaps, strict=False):
        person.pause = gap
        person.press(sign)
    assert person.shell.typed.text == text


def test_a_number_that_a_person_types_still_picks_its_line() -> None:
    person = at("troubles")
    before = standing(person.shell)
    person.press("1")
    assert standing(person.shell) != before


def test_stopping_is_never_kept_back_by_a_burst() -> None:
    person = at("begin")
    reader(person, "40123456", 0.002, "f4")
    assert person.run.state.halted == "make-safe"


def test_every_key_that_acts_is_tried_behind_a_scan() -> None:
    acting = {key.key for key in KEYS if key.action is not Action.SAFE}
    untried = acting - set(ENDS) - {"up", "pageup", "pagedown", "f8", "f9"}
    assert not untried
