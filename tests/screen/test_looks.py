"""Looks: in every palette the same text, in plain characters nothing outside ASCII, and no state by colour alone."""

import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from runner.engine.state import StepStatus
from runner.screen import words
from runner.screen.app import Terminal
from runner.screen.blocks import Ink
from runner.screen.keys import Action, key_for
from runner.screen.listed import state_row
from runner.screen.looks import Looks
from runner.screen.marks import MARKS, SIGNALS, STATUS_INKS
from runner.screen.palette import PALETTES
from runner.screen.shell import Shell
from runner.screen.spelled import spell
from runner.screen.view import StateView
from runner.screen.widgets.lines import text_of
from tests.screen.bench import INPUTS, MemoryRun, Person, compiled
from tests.screen.test_terminal import started
from tests.screen.test_view import through_to_threading, to_lift

ABOUT = ("f1", "escape", "f2", "1", "escape", "escape", "f3", "escape", "f6", "enter", "escape", "escape",
         "f7", "1", "enter", "escape", "tab", "escape", "escape", "f8", "x", "f4")  # fmt: skip
"""Keys through the pages that any run has."""
FOREIGN = (
    ("unwind", "Jürgen Öß"), ("rewind", "Zoë Ďurišová µ ≤5 · 漢字 ½ ✓"), ("lead", "S. Lind"),
)  # fmt: skip
HARD = (("Lift the roll of", "Hub ≥ 12 m² · 5 °C – Rolle „Ä“ ±3 µm, 漢字:"), ("Crushing.", "Quetschen… № 5 → Tod."))


def pages(person: Person) -> Iterator[str]:
    """The screen after each of the keys."""
    yield person.screen()
    for key in ABOUT:
        yield person.press(key).screen()


def walks(size: tuple[int, int], ascii_only: bool) -> Iterator[Iterator[str]]:
    """Runs that stand at different places, each looked at all round."""
    for mode in ("live", "dry"):
        run = MemoryRun(compiled(change=HARD), FOREIGN, INPUTS, mode=mode)
        for person in (Person(run, size), to_lift(run), through_to_threading(MemoryRun(compiled(), mode=mode))):
            person.shell.size, person.shell.ascii = size, ascii_only
            yield pages(person)


@pytest.mark.parametrize("size", [(60, 18), (80, 24), (120, 40)])
def test_in_plain_characters_no_page_has_one_outside_ascii(size: tuple[int, int]) -> None:
    count = 0
    for walk in walks(size, ascii_only=True):
        for text in walk:
            assert text.isascii(), sorted(set(filter(lambda letter: not letter.isascii(), text)))
            assert {len(line) for line in text.split("\n")} == {size[0]}
            count += 1
    assert count > 100


def test_without_the_wish_the_same_pages_have_other_characters() -> None:
    assert any(not text.isascii() for walk in walks((120, 40), ascii_only=False) for text in walk)


@pytest.mark.parametrize(
    ("text", "plain"),
    [
        ("≤ 5 °C ± 2 µm", "<= 5 degC +/- 2 um"),
        ("m² · s⁻¹", "m^2 * s-^1"),
        ("Größe Ärmel é Ő", "Groesse Aermel e O"),
        ("½ № 漢", " 1/2 No. ?"),
        ("α μ Ω", "alpha u Ohm"),
        ("a\x1bb\u202ec", "a^[b<U+202E>c"),
        ("plain", "plain"),
    ],
)
def test_signs_are_spelled_and_none_becomes_another(text: str, plain: str) -> None:
    assert spell(text) == plain


def test_what_is_typed_keeps_its_cursor_when_it_is_spelled() -> None:
    run = MemoryRun(compiled())
    person = Person(run).press("f2", "2", "enter", "1", "enter")
    person.shell.ascii = True
    person.press(*"Größe", "left", "x")
    assert "> Groessxe" in person.screen()
    assert person.shell.typed.text == "Größxe", "the record gets what was typed"


async def shown_in(name: str, keys: tuple[str, ...]) -> list[str]:
    """The texts of the surface in one palette."""
    run = MemoryRun(compiled())
    app = Terminal(Shell.over(run), looks=Looks(name))
    texts = []
    async with app.run_test(size=(120, 40)) as pilot:
        for key in keys:
            run.tick += 2
            await pilot.press(key)
            await pilot.pause(0.05)
            texts.append("\n".join(text_of(line) for line in app.canvas.lines))
    return texts


async def test_with_colours_removed_no_text_is_lost() -> None:
    keys = ("enter", "enter", "f1", "escape", "f6", "escape", "f7", "tab", "escape", "f8", "x", "f4")
    coloured = await shown_in("dark", keys)
    for name in PALETTES:
        assert await shown_in(name, keys) == coloured, name


def test_every_state_of_a_step_has_a_word_a_symbol_and_an_ink_of_its_own() -> None:
    assert set(MARKS) == set(STATUS_INKS) == set(StepStatus)
    assert len(set(MARKS.values())) == len(StepStatus)
    assert all(mark.strip() and mark.isascii() for mark in MARKS.values())
    assert len({status.value for status in StepStatus}) == len(StepStatus)
    abnormal = {status for status, ink in STATUS_INKS.items() if ink is Ink.ABNORMAL}
    assert abnormal == {StepStatus.LEFT_OUT, StepStatus.AGAIN, StepStatus.TROUBLED}


def test_every_signal_word_has_a_symbol_and_damage_to_things_no_triangle() -> None:
    assert all(symbol.strip() and symbol.isascii() for symbol, _ in SIGNALS.values())
    assert len({ink for _, ink in SIGNALS.values()}) == len(SIGNALS)
    assert SIGNALS["notice"][0] != SIGNALS["danger"][0]


def test_a_state_that_nobody_vouches_for_says_so_in_a_word_and_a_mark() -> None:
    known = state_row(StateView("guard", "guard", "closed", True, "", ""))
    lost = state_row(StateView("guard", "guard", "closed", False, "closed", ""))
    never = state_row(StateView("guard", "guard", "", False, "", ""))
    assert (lost.mark.strip(), never.mark.strip(), known.mark.strip()) == ("?", "?", "")
    assert "look again" in lost.text
    assert "unknown" in never.text
    assert known.ink is not lost.ink is Ink.ABNORMAL


async def test_a_key_changes_the_colours_keeps_them_and_touches_nothing_else() -> None:
    kept: list[str] = []
    run = MemoryRun(compiled())
    before = len(run.events)
    app = Terminal(Shell.over(run), looks=Looks("dark", keep=kept.append))
    key = key_for(Action.LOOK).key
    async with app.run_test(size=(80, 24)) as pilot:
        for name in ("light", "contrast", "mono", "dark"):
            await pilot.press(key)
            await pilot.pause(0.1)
            assert kept[-1:] == [name]
            styles = app.canvas.styles_by_ink[Ink.DANGER]
            wanted = PALETTES[name][Ink.DANGER]
            assert styles.color is not None
            assert styles.color.name == (wanted.front or "default")
            assert f"Colours: {name}." in "\n".join(text_of(line) for line in app.canvas.lines)
    assert len(run.events) == before


async def test_where_no_colour_is_wanted_the_key_gives_none() -> None:
    kept: list[str] = []
    app = Terminal(Shell.over(MemoryRun(compiled())), looks=Looks("mono", colourless=True, keep=kept.append))
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press(key_for(Action.LOOK).key)
        await pilot.pause(0.1)
        assert words.COLOURLESS in "\n".join(text_of(line) for line in app.canvas.lines)
        assert app.looks.palette == "mono"
    assert not kept


def test_a_key_that_changes_colours_keeps_what_was_typed() -> None:
    person = Person(MemoryRun(compiled())).press("f2", "2", "enter", "1", "enter")
    person.press(*"The lamp", "f9")
    assert person.shell.typed.text == "The lamp"


def test_on_a_real_terminal_mono_sends_no_colour_and_ascii_no_other_byte(tmp_path: Path) -> None:
    with started(tmp_path, LOOK="mono", ASCII="1") as terminal:
        terminal.until("Set the unwind speed to zero.")
        terminal.press("\x1b[19~")  # F8
        terminal.until("any key leads back")
        terminal.press("x")
        terminal.until("Enter begin")
        sent = terminal.raw
    assert sent.isascii()
    assert b"\x1b[7m" in sent or b";7m" in sent or b"\x1b[1;7" in sent, "reverse stays"
    for sgr in colours(sent):
        assert sgr in (b"39", b"49"), sgr


def colours(sent: bytes) -> Iterator[bytes]:
    """Every colour that was sent: the numbers of SGR from 30 to 49 and 90 to 107 (ECMA-48, 8.3.117)."""
    for found in re.findall(rb"\x1b\[([0-9;]*)m", sent):
        for part in found.split(b";"):
            if part.isdigit() and (30 <= int(part) <= 49 or 90 <= int(part) <= 107):
                yield part
