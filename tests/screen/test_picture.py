"""The screen as lines: sizes, order, what must be read, and that nothing hostile gets through."""

import re

import pytest

from runner.engine.intents import NoteException
from runner.screen.blocks import Gap, Say, Sheet
from runner.screen.typed import Line
from runner.screen.widgets.bars import rule_line
from runner.screen.widgets.lines import text_of, width_of, wrap
from runner.screen.widgets.picture import Shown, picture
from tests.screen.bench import INPUTS, MemoryRun, Person, compiled
from tests.screen.test_view import to_lift

RAW = re.compile("[\x00-\x1f\x7f-\x9f\u061c\u200b-\u200f\u2028-\u202e\u2060-\u206f\ufeff]")
HOSTILE = (
    "[/b] plan",
    "[@click=app.quit]x[/]",
    "[TODO] Q3",
    "\\[link=x]",
    "\x1b[2J\x1b]0;owned\x07",
    "\x1b]52;c;ZWNobw==\x07",
    "\x9b31m",
    "\u202eesrever",
    "a\u200bb\ufeff",
    "tab\there\nline",
    "o" + "\u0301" * 10_000,
    "漢字" * 60,
)
"""Markup, terminal control, bidirectional and zero-width characters, piles of marks, wide letters."""


@pytest.mark.parametrize("size", [(80, 24), (60, 18), (110, 30), (120, 40), (200, 60)])
def test_the_screen_is_filled_exactly_at_every_size(size: tuple[int, int]) -> None:
    for mode in ("live", "dry"):
        run = MemoryRun(compiled(), mode=mode)
        person = to_lift(run)
        person.shell.size = size
        for key in (
            "f1",
            "escape",
            "enter",
            "enter",
            "escape",
            "f2",
            "escape",
            "f3",
            "escape",
            "f6",
            "escape",
            "f7",
            "tab",
        ):
            lines = person.press(key).shell.picture().lines
            assert len(lines) == size[1]
            assert {width_of(text_of(line)) for line in lines} == {size[0]}


@pytest.mark.parametrize("size", [(59, 18), (60, 17), (1, 1), (20, 5)])
def test_too_small_a_terminal_says_so_in_one_line_and_keeps_the_hold_in_sight(size: tuple[int, int]) -> None:
    run = MemoryRun(compiled())
    person = to_lift(run).press("enter")
    person.shell.size = size
    first = person.screen().split("\n")[0]
    assert width_of(first) == size[0]
    if size[0] >= 59:
        assert "TOO SMALL" in first
        assert "HELD" in first


def test_cautions_come_before_the_act_and_the_act_before_why() -> None:
    text = to_lift(MemoryRun(compiled())).screen()
    order = [
        "DANGER",
        "A roll on the crane can fall",
        "Crushing.",
        "Stay clear",
        "CAUTION",
        "Lift the roll of",
        "why",
        "HOLD",
    ]
    places = [text.index(part) for part in order]
    assert places == sorted(places)


def test_cautions_stay_in_sight_while_the_step_is_done() -> None:
    person = to_lift(MemoryRun(compiled())).press("enter")
    assert "DANGER" in person.screen()
    assert "Stay clear of the drop" in person.screen()


def test_a_dry_run_says_so_on_every_page_and_at_every_edge() -> None:
    run = MemoryRun(compiled(), mode="dry")
    person = to_lift(run)
    for keys in (
        ("enter",),
        ("enter",),
        ("escape", "f1"),
        ("escape", "f2"),
        ("escape", "f3"),
        ("escape", "f6"),
        ("escape", "f7"),
        ("f4",),
    ):
        text = person.press(*keys).screen()
        assert text.count("DRY RUN") >= 3, keys
        middle = [line for line in text.split("\n")[4:-3] if not line.startswith("///")]
        assert all(line[0] == line[-1] == "/" for line in middle), keys


def test_a_live_run_has_no_stripes() -> None:
    assert "///" not in to_lift(MemoryRun(compiled())).screen()


def test_enter_reads_a_long_page_to_its_end_before_it_acts() -> None:
    long = "This sentence about the hanging load is repeated so that it fills the page. " * 20
    run = MemoryRun(compiled(change=(("Crushing.", long.strip()),)))
    person = to_lift(run)
    before = len(run.events)
    assert "more below" in person.screen()
    person.press("enter")
    assert len(run.events) == before
    for _ in range(6):
        if "more below" not in person.screen():
            break
        person.press("enter")
    assert len(run.events) == before
    person.press("enter")
    assert len(run.events) == before + 2, "cautions read, hold reached"


def test_wide_terminals_show_board_steps_and_working_beside_the_step() -> None:
    person = to_lift(MemoryRun(compiled()))
    person.shell.size = (110, 30)
    text = person.screen()
    for part in ("unwind guard: open", "roll mass: 785", "numbers", "2.2"):
        assert part in text
    person.shell.size = (109, 30)
    assert "unwind guard: open" not in person.screen()


@pytest.mark.parametrize("words", HOSTILE)
def test_hostile_text_is_shown_and_never_acts(words: str) -> None:
    inputs = (*INPUTS[:2], ("substrate", "kraft paper"))
    run = MemoryRun(compiled(), (("unwind", words), ("rewind", "T. Oduya"), ("lead", "S. Lind")), inputs)
    run.submit(NoteException(words, "", "other", "note", words))
    person = Person(run)
    for key in ("f2", "escape", "f3", "escape", "f6", "enter", "escape", "escape", "f7", "escape", "f4"):
        text = person.press(key).screen()
        assert not RAW.search(text.replace("\n", "")), key
    person = Person(run)
    if "[" in words and "\x1b" not in words:
        assert words in person.press("f2").screen()


@pytest.mark.parametrize("words", HOSTILE)
def test_hostile_typing_is_shown_and_never_acts(words: str) -> None:
    sheet = Sheet("form", words, (Say(words, words), Gap()), "go", subject="x")
    lines = picture(Shown(sheet, None, "", Line().add(words), words), 80, 24).lines
    assert not RAW.search("".join(text_of(line) for line in lines))
    assert {width_of(text_of(line)) for line in lines} == {80}


def test_text_is_broken_at_spaces_and_no_word_is_lost() -> None:
    text = "Lift the roll into the chucks " * 9 + "x" * 150
    for width in (10, 37, 74):
        lines = wrap(text, width)
        assert max(map(len, lines)) <= width
        assert "".join(lines).replace(" ", "") == text.replace(" ", "")


PIECES = "Load the operator end of the bar: 2 x 5 kg + 1 x 2.5 kg, then tell a reserve of 50 kg and 148.3 N/m."


@pytest.mark.parametrize("width", range(12, 80))
def test_no_line_ends_between_a_number_and_its_unit(width: int) -> None:
    lines = wrap(PIECES, width)
    assert max(map(len, lines)) <= width
    assert not [line for line in lines if re.search(r"[0-9]$|[0-9] x$", line)], lines
    assert " ".join(lines) == PIECES


def test_what_is_too_wide_for_a_line_is_broken_all_the_same() -> None:
    assert wrap("2 x 1000 kg", 6) == ["2 x", "1000", "kg"]


@pytest.mark.parametrize("dry", ["", "DRY RUN"])
def test_a_title_that_is_too_long_ends_with_two_points(dry: str) -> None:
    assert ".. " in text_of(rule_line("Interrupted: last kept " * 9, dry, 80))
    assert width_of(text_of(rule_line("Interrupted: last kept " * 9, dry, 80))) == 80


def test_labels_of_enter_leave_a_gap_before_the_next_key() -> None:
    run = MemoryRun(compiled())
    person = to_lift(run)
    for key in (
        "enter",
        "enter",
        "enter",
        "enter",
        "escape",
        "f2",
        "escape",
        "f3",
        "escape",
        "f6",
        "escape",
        "f7",
        "tab",
        "escape",
        "f4",
    ):
        foot = person.press(key).screen().split("\n")[-2]
        assert foot[:20].endswith(" "), foot


def test_five_thousand_steps_make_no_more_lines_than_sixty() -> None:
    steps = "\n".join(f"      - {{id: s{n}, by: unwind, do: Loosen clamp {n}.}}" for n in range(5000))
    many = compiled(change=(("      - {id: count-tools", f"{steps}\n      - {{id: count-tools"),))
    person = Person(MemoryRun(many)).press("f6")
    assert "5009" in person.screen()
    person.press(*["pagedown"] * 5)
    assert len(person.shell.picture().lines) == 24
