"""Pieces out of tolerance on the screen and line by line: what is wanted, the nearest, what it gives, and who accepts it."""

from runner.engine import events as ev
from runner.screen.plain import run_plain
from tests.engine.bench import compiled
from tests.engine.held_pieces import TEXT
from tests.screen.bench import MemoryRun, Person
from tests.screen.test_plain import Lines

CREW = (("unwind", "N. Petrov"), ("rewind", "T. Oduya"), ("lead", "S. Lind"))
INPUTS = (("width", "1200"), ("tension", "150"))
REASON = "Film stands it"


def begun(crew: tuple[tuple[str, str], ...] = CREW) -> MemoryRun:
    return MemoryRun(compiled("", TEXT), crew, INPUTS)


def at_the_load(crew: tuple[tuple[str, str], ...] = CREW) -> Person:
    return Person(begun(crew)).press("enter", "enter")


def test_the_held_step_says_so_and_enter_opens_the_hold() -> None:
    person = at_the_load()
    assert "Shift lead must accept the nearest choice, and not who does the step" in " ".join(person.screen().split())
    screen = person.press("enter").screen()
    for words in ("36.7098 kg", "40 kg", "4 x 5 kg", "163.4 N/m (wanted 150 N/m, +9.0 %)", "Shift lead decides"):
        assert words in screen
    assert "F5" not in screen


def test_name_reason_and_the_release_key_accept_and_enter_never_does() -> None:
    person = at_the_load().press("enter").type("S. Lind").type(REASON).press(*["enter"] * 6)
    assert person.run.count(ev.PiecesAccepted) == 0
    assert "accepts the nearest choice" in person.screen()
    person.press("f5")
    event = person.run.last(ev.PiecesAccepted)
    assert isinstance(event, ev.PiecesAccepted)
    assert (event.by, event.why) == ("S. Lind", REASON)
    assert "accepted by S. Lind: Film stands it" in " ".join(person.screen().split())
    person.press("enter")
    assert person.run.count(ev.StepBegun) == 2


def test_neither_an_empty_name_nor_the_doers_is_taken() -> None:
    person = at_the_load().press("enter", "enter", "f5")
    assert "Name of the accepting person (Shift lead)" in person.screen()
    person.type("N. Petrov").type(REASON).press("f5")
    assert person.run.count(ev.PiecesAccepted) == 0
    assert "Only Shift lead (S. Lind)" in person.screen()


def test_esc_takes_name_and_reason_back_together() -> None:
    person = at_the_load().press("enter").type("S. Lind").type(REASON).press("escape")
    assert "Name of the accepting person" in person.screen()
    assert "S. Lind" not in person.screen().split("HOLD")[1]
    assert REASON not in person.screen()
    assert "Load the bar" in person.press("escape").screen()


def test_where_nobody_has_the_role_the_page_says_how_somebody_takes_it() -> None:
    person = at_the_load(CREW[:2]).press("enter")
    assert "Nobody has signed on as Shift lead" in person.screen()
    assert person.press("enter").run.count(ev.PiecesAccepted) == 0


def test_line_by_line_the_same_is_done_with_words() -> None:
    run = begun()
    lines = Lines(run, f"begin\ndone\nhold\nS. Lind\n{REASON}\nrelease\nbegin\n40\ndone")
    run_plain(run, lines.ask, lines.written.append)
    event = run.last(ev.PiecesAccepted)
    assert isinstance(event, ev.PiecesAccepted)
    assert event.why == REASON
    assert run.count(ev.StepDone) == 2
    assert "gives 163.4 N/m (wanted 150 N/m, +9.0 %)" in lines.text


def test_the_working_shows_where_each_number_came_from_and_what_the_pieces_give() -> None:
    person = at_the_load().press("f7")
    rows = [line for line in person.screen().splitlines() if "pull" in line]
    number = rows[0].split()[0].strip(".")
    working = person.press(number, "enter").screen()
    assert "2 × 150 N/m × 1200 mm" in working
    assert "job ticket" in working
    pieces = at_the_load().press("f7", "1", "enter").screen()
    for words in ("bar mass", "worked out", "NOT KEPT", "163.4 N/m", "4 x 5 kg"):
        assert words in pieces
