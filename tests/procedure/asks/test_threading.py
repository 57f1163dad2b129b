"""Threading: rollers ticked in order; only all of them are an answer."""

import pytest

from runner.procedure.asks.ask import Judged, Misread
from tests.procedure.asks.built import ask_of, judged, printed, prompted, verdict

THREAD = "thread: unwind"


@pytest.mark.parametrize(
    ("typed", "expected"),
    [
        ("3", "in"),
        ("all", "in"),
        (" ALL ", "in"),
        ("2", "misread"),
        ("0", "misread"),
        ("4", "misread"),
        ("-1", "misread"),
        ("", "misread"),
    ],
)
def test_only_all_rollers_are_an_answer(typed: str, expected: str) -> None:
    assert verdict(THREAD, typed) == expected


def test_a_short_count_names_the_next_roller() -> None:
    found = judged(THREAD, "1")
    assert isinstance(found, Misread)
    assert found.message == "1 of 3 rollers are ticked; next is entry idler: under"


def test_the_rollers_stand_in_order_with_their_sides() -> None:
    prompt = prompted(THREAD)
    assert prompt.shape == "ticks"
    assert prompt.choices == ("roll: over", "entry idler: under", "exit idler: under")
    assert printed(THREAD).split("\n") == [
        "Thread the unwind path, in this order", "[ ] 1 roll: over", "[ ] 2 entry idler: under", "[ ] 3 exit idler: under",
    ]  # fmt: skip


def test_the_ask_is_named_after_its_step() -> None:
    ask, _ = ask_of(THREAD)
    found = judged(THREAD, "all")
    assert isinstance(found, Judged)
    assert (ask.name, ask.path, found.shown) == ("act_now_threaded", "unwind", "3 of 3 rollers")
