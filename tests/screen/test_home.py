"""The home page: what is there, search as typed over all of it, each kind opened, on both rims and quickly."""

import time

import pytest

from runner.engine import flow
from runner.engine.moment import Moment
from runner.engine.state import RunState
from runner.screen.door import Idle
from runner.screen.pages.home import NO_PROCEDURE, HomeLine, HomePage, Listing
from runner.screen.plain import run_plain_home
from runner.screen.shell import Shell
from runner.screen.widgets.lines import text_of

RECORDS = tuple(
    HomeLine(f"r/{at}.journal", f"Change the roll; finished; 2026-{1 + at % 12:02d}-03 06:10; N. Petrov", f"run-{at:04d} JOB-{7000 + at}")
    for at in range(2000)
)  # fmt: skip
LISTING = Listing(
    (HomeLine("r/open.journal", "Change the knives; at step 2.4; since 11-25 06:10; T. Oduya", "run-9000"),),
    (HomeLine("p/change-roll.procedure.yaml", "Change the roll; revision 4 approved", "change-roll Line 3"),),
    RECORDS,
    (HomeLine("r/7.journal", "BLOCKS: Chuck latch sticks; Line 3; 2026-11-24 14:02", "run-0007 S. Lind"),),
    (HomeLine("p/training/leak.scenario.yaml", "DRY RUN; leak; Mount the new roll; change-roll", "leak"),),
)


class Visitor:
    """Somebody at the keys of the home page."""

    def __init__(self, listing: Listing = LISTING, size: tuple[int, int] = (80, 24)) -> None:
        self.tick = 0.0
        idle = Idle(NO_PROCEDURE, RunState(flow.start(NO_PROCEDURE)))
        self.shell = Shell(lambda: Moment("2026-11-25T09:40:14.250Z", self.tick, ""), HomePage(listing), idle=idle)
        self.shell.size = size
        self.shell.picture()

    def press(self, *keys: str) -> "Visitor":
        for key in keys:
            self.tick += 1.0
            self.shell.key(key, key if len(key) == 1 else None)
        return self

    def screen(self) -> str:
        return "\n".join(text_of(line) for line in self.shell.picture().lines)

    @property
    def choice(self) -> tuple[str, str]:
        assert self.shell.left is not None
        return self.shell.left.choice


@pytest.mark.parametrize("size", [(80, 24), (120, 40)])
def test_all_kinds_are_listed_and_that_there_is_more_is_said(size: tuple[int, int]) -> None:
    screen = Visitor(size=size).screen()
    order = [
        "Unfinished runs",
        "at step 2.4",
        "Still open",
        "BLOCKS: Chuck latch",
        "Procedures",
        "revision 4",
        "Dry runs, with no press",
        "DRY RUN; leak",
        "Records",
    ]
    assert [screen.index(words) for words in order] == sorted(screen.index(words) for words in order)
    assert "more: type to search" in screen


@pytest.mark.parametrize(
    ("typed", "choice"),
    [
        ("knives", ("resume", "r/open.journal")),
        ("oduya", ("resume", "r/open.journal")),
        ("latch line", ("report", "r/7.journal")),
        ("approved", ("run", "p/change-roll.procedure.yaml")),
        ("leak", ("dry-run", "p/training/leak.scenario.yaml")),
        ("job-8123", ("report", "r/1123.journal")),
        ("RUN-1999", ("report", "r/1999.journal")),
    ],
)
def test_a_search_by_any_word_that_leaves_one_line_opens_it(typed: str, choice: tuple[str, str]) -> None:
    assert Visitor().press(*typed, "enter").choice == choice


def test_a_date_finds_the_records_of_that_month_and_an_arrow_chooses() -> None:
    person = Visitor().press(*"2026-03")
    assert "167 lines" in person.screen()
    assert person.press("enter").shell.left is None
    assert person.press("down", "down", "enter").choice == ("report", "r/14.journal")


def test_what_was_chosen_under_another_search_counts_for_nothing() -> None:
    person = Visitor().press(*"petrov", "down", "down", *" 2026")
    assert person.press("enter").shell.left is None


def test_esc_takes_the_search_back_and_then_leaves() -> None:
    person = Visitor().press(*"nothing like it")
    assert "Nothing fits" in person.screen()
    assert "Unfinished runs" in person.press("escape").screen()
    assert person.press("escape").choice == ("", "")


def test_every_record_is_come_to_by_going_down() -> None:
    person = Visitor().press(*"petrov", *["pagedown"] * 300)
    assert person.press("enter").choice == ("report", "r/1999.journal")


def test_two_thousand_records_are_searched_within_a_key_press() -> None:
    person, slowest = Visitor(), 0.0
    for letter in "petrov":
        before = time.perf_counter()
        person.press(letter).screen()
        slowest = max(slowest, time.perf_counter() - before)
    assert slowest < 0.2  # a few milliseconds; the room is for a busy machine


def test_an_exception_that_cannot_be_opened_here_says_where_it_is_closed() -> None:
    listing = LISTING._replace(still_open=(LISTING.still_open[0]._replace(path=""),))
    person = Visitor(listing).press(*"latch", "enter")
    assert person.shell.left is None
    assert "start of the next run" in person.screen()


def plainly(*typed: str) -> tuple[tuple[str, str], str]:
    written: list[str] = []
    left = iter(typed)

    def ask(question: str) -> str:
        written.append(question)
        line = next(left, None)
        if line is None:
            raise EOFError
        return line

    choice = run_plain_home(LISTING, lambda: Moment("2026-11-25T09:40:14.250Z", 0, ""), ask, written.append)
    return choice, "\n".join(written)


def test_plain_mode_lists_searches_and_opens_by_number() -> None:
    choice, text = plainly("1")
    assert choice == ("resume", "r/open.journal")
    assert "1 Change the knives; at step 2.4" in text
    assert plainly("job-8123", "1")[0] == ("report", "r/1123.journal")
    assert plainly("petrov", "/back", "2")[0] == ("report", "r/7.journal")
    assert plainly("petrov", "21", "/back", "/back")[0] == ("", "")
