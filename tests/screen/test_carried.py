"""What earlier runs left open at the press: read by name first, closed or accepted where it blocks, on both rims."""

import pytest

from runner.engine import events as ev
from runner.engine.intents import LeftOpen
from runner.screen.plain import run_plain
from tests.screen.bench import MemoryRun, Person, compiled
from tests.screen.test_plain import Lines

HARMLESS = (("makes: {drive: stopped}}\n      - {id: open-guard", "makes: {guard: open}}\n      - {id: open-guard"),)
"""The first step of the small procedure stops the drive, which nothing keeps back; here it does something else."""
AT = "2026-11-24T14:02:11.000Z"
DENT = LeftOpen(
    "20261124-1310-qp7d", 2, "Change a small roll", "material", "minor", "Core is dented.", "", False, "N. Petrov", AT
)
LATCH = LeftOpen(
    "20261124-1310-qp7d", 3, "Change a small roll", "equipment", "serious", "Chuck latch sticks.", "", True, "", AT
)


def carrying(*left: LeftOpen) -> MemoryRun:
    return MemoryRun(compiled(change=HARMLESS), left_open=left)


@pytest.mark.parametrize("size", [(80, 24), (120, 40)])
def test_the_run_opens_with_what_is_still_open_and_where_it_comes_from(size: tuple[int, int]) -> None:
    lines = Person(carrying(DENT, LATCH), size).screen().split("\n")
    screen = " ".join(" ".join(line.partition("│")[0] for line in lines).split())
    for words in (
        "STILL OPEN FROM EARLIER RUNS",
        "2 exceptions are still open",
        "Core is dented.",
        "Chuck latch sticks.",
    ):
        assert words in screen
    assert "run 20261124-1310-qp7d, exception 2, noted by N. Petrov, 2026-11-24 14:02 UTC" in screen
    assert "close it, or Shift lead (S. Lind) accepts it" in screen


def test_reading_is_by_name_and_leads_to_the_step() -> None:
    person = Person(carrying(DENT))
    person.press("enter")
    assert "Who has read" in person.screen()
    person.press("2", "enter")
    read = person.run.last(ev.ExceptionRead)
    assert (read.by, person.run.count(ev.ExceptionRead)) == ("T. Oduya", 1)
    assert "Set the unwind speed to zero" in person.screen()
    person.press("enter")
    assert person.run.count(ev.StepBegun) == 1


def test_one_that_blocks_is_said_at_the_step_and_accepted_under_not_as_expected() -> None:
    person = Person(carrying(LATCH)).press("enter", "1", "enter")
    assert "exception 1 of an earlier run blocks" in " ".join(person.screen().split())
    person.press("enter")
    assert person.run.count(ev.StepBegun) == 0
    person.press("f2")
    assert "Accept exception 1 for this run" in person.screen()
    person.press("2", "enter").type("S. Lind").type("a second latch holds")
    accepted = person.run.last(ev.ExceptionAccepted)
    assert (accepted.by, accepted.number) == ("S. Lind", 1)  # type: ignore[attr-defined]
    person.press("enter")
    assert person.run.count(ev.StepBegun) == 1


def test_one_that_blocks_is_closed_under_not_as_expected_with_words_and_name() -> None:
    person = Person(carrying(LATCH)).press("enter", "1", "enter", "f2", "3", "enter")
    assert "run 20261124-1310-qp7d, exception 3" in " ".join(person.screen().split())
    person.type("Spring changed").press("1", "enter")
    closed = person.run.last(ev.ExceptionClosed)
    assert isinstance(closed, ev.ExceptionClosed)
    assert (closed.by, closed.number, closed.words) == ("N. Petrov", 1, "Spring changed")
    person.press("enter")
    assert person.run.count(ev.StepBegun) == 1


def test_stopping_works_while_nothing_has_been_read() -> None:
    person = Person(carrying(LATCH)).press("f4")
    assert person.run.count(ev.MadeSafe) == 1
    assert "STOP, MAKE SAFE" in person.screen()


def test_plain_mode_reads_accepts_and_goes_on() -> None:
    run = carrying(DENT, LATCH)
    lines = Lines(run, "read\n1\nnot\n2\nS. Lind\na second latch holds\nbegin\ndone")
    run_plain(run, lines.ask, lines.written.append)
    assert "STILL OPEN FROM EARLIER RUNS" in lines.text
    assert "run 20261124-1310-qp7d, exception 3, noted by the program" in " ".join(lines.text.split())
    assert [run.count(kind) for kind in (ev.ExceptionRead, ev.ExceptionAccepted, ev.StepDone)] == [2, 1, 1]


def test_many_are_read_to_the_end_before_anybody_is_asked_who_has_read_them() -> None:
    many = tuple(DENT._replace(number=at, words=f"Core {at} is dented.") for at in range(1, 13))
    person = Person(carrying(*many))
    assert "more below" in person.screen()
    assert "Core 12" not in person.screen()
    for _ in range(10):
        if "Who has read" in person.screen():
            break
        before = person.screen()
        person.press("enter")
    assert "Core 12" in before
    assert "Who has read" in person.screen()
