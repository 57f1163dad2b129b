"""What a step draws: how far web is fed, the path on a page of its own, the path's list for the second person."""

import pytest

from runner.engine import events as ev
from runner.screen.blocks import Ink, Say
from runner.screen.drawings import bar
from runner.screen.pages.path import path_words
from runner.screen.view import view
from tests.screen.bench import MemoryRun, Person, compiled

FED = (
    (
        "- {id: drive-off, by: unwind, do: Set the unwind speed to zero.,",
        "- {id: drive-off, by: unwind, do: Feed., advance: '25 [m]',",
    ),
)
THREADED = (
    ("- {id: drive-off, by: unwind, do: Set the unwind speed to zero.,",
     "- {id: drive-off, by: unwind, do: Thread it., thread: unwind, second: {by: lead, how: independent},"),
)  # fmt: skip


def feeding() -> Person:
    return Person(MemoryRun(compiled(change=FED))).press("enter")


def feed_line(person: Person) -> Say:
    blocks = person.shell.sheet().blocks
    return next(block for block in blocks if isinstance(block, Say) and block.label == "feed")


@pytest.mark.parametrize(("share", "filled"), [(-1.0, 0), (0.0, 0), (0.5, 5), (0.999, 9), (1.0, 10), (7.0, 10)])
def test_a_bar_is_full_only_where_nothing_is_left(share: float, filled: int) -> None:
    assert bar(share, 10) == f"[{'#' * filled}{'.' * (10 - filled)}]"


def test_needed_fed_and_left_are_shown_and_only_a_short_feed_is_abnormal() -> None:
    person = feeding()
    line = feed_line(person)
    assert "needed 25 m, fed 0 m, left 25 m" in line.text
    assert line.ink is Ink.PLAIN
    line = feed_line(person.type("20"))
    assert "needed 25 m, fed 20 m, left 5 m" in line.text
    assert line.text.count("#") == 24  # 20/25 of 30 cells
    assert line.ink is Ink.ABNORMAL
    line = feed_line(person.type("25.5"))
    assert "fed 25.5 m, left 0 m" in line.text
    assert line.ink is Ink.PLAIN


def test_a_path_has_a_page_of_its_own_with_what_is_threaded_and_what_is_next() -> None:
    person = Person(MemoryRun(compiled(change=THREADED))).press("enter", "enter")
    assert person.run.count(ev.RollerThreaded) == 1
    person.press("f7")
    rows = [line for line in person.screen().splitlines() if "Web path unwind" in line]
    assert "drawing" in rows[0]
    screen = person.press(rows[0].split()[0], "enter").screen()
    assert "Web path unwind" in screen
    listed = person.press(*["down"] * 12).screen()
    assert "[x] 1 roll: over" in listed
    assert "[ ] 2 entry idler: under" in listed
    person.press("escape", "escape")
    assert person.shell.sheet().page == "run"


def test_the_second_person_has_the_list_of_the_path_before_them_and_not_the_first_answer() -> None:
    person = Person(MemoryRun(compiled(change=THREADED))).press(*["enter"] * 4)
    step = view(person.run.procedure, person.run.state, person.run.now()).step
    assert step is not None
    ask = next(ask for ask in step.step.asks if ask.kind == "thread")
    words = path_words(ask)
    assert words.startswith("1 ")
    assert words.count(",") == len(ask.of) - 1
    screen = " ".join(person.press("enter").screen().split())
    assert words in screen
    assert "N. Petrov" not in screen.split("1 roll")[1]


def test_pieces_that_wait_to_be_accepted_are_not_drawn_as_hung() -> None:
    from tests.screen.test_held_pieces import REASON, at_the_load

    person = at_the_load()
    assert "end 1" not in person.screen()
    accepted = person.press("enter").type("S. Lind").type(REASON).press("f5")
    assert person.run.count(ev.PiecesAccepted) == 1
    assert "4 pieces, 20 kg" in accepted.screen()
