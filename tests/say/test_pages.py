"""Every page in a language that nobody speaks and in German: nothing was forgotten, nothing is cut, the work is done.

In the pseudo language every text of ours is in letters that no English text has. What is then still in plain letters and
was not written by an author or typed by a person was never looked up.
"""

from functools import lru_cache

import pytest

from runner.cli.serving.page import page
from runner.say.language import spoken
from runner.say.text import respelled
from runner.screen.spelled import spell
from runner.screen.widgets.bars import columns_of
from tests.say.walk import SIZES, Seen, Walk, Worker, before_a_run, led, places, plain_words

SMALL, WIDE = SIZES
LONG = pytest.mark.long
EVERYWHERE = [("pseudo", SMALL), ("pseudo", WIDE), ("de", SMALL), pytest.param("de", WIDE, marks=LONG)]
PAGES = {
    "run", "form", "halted", "hold", "help", "places", "working", "looks", "broken", "finish", "over", "start", "home",
    "carried", "review", "lost",
}  # fmt: skip


@lru_cache(maxsize=4)
def walked(language: str, size: tuple[int, int]) -> tuple[Walk, Worker]:
    """Everywhere, once for all tests."""
    walk = Walk()
    with spoken(language):
        for person, deep in places(size):
            walk.from_here(person, deep)
        before_a_run(walk, size)
        return walk, led(size, walk)


def screens(language: str, size: tuple[int, int]) -> list[Seen]:
    """What was seen of a terminal that has room for a page."""
    return [screen for (seen_at, _), screen in walked(language, size)[0].screens.items() if seen_at == size]


@pytest.mark.parametrize(("language", "size"), EVERYWHERE)
def test_the_work_is_led_to_its_end_in_every_language(language: str, size: tuple[int, int]) -> None:
    walk, worker = walked(language, size)
    assert worker.run.state.outcome == "finished"
    assert {screen.sheet.page for screen in walk.screens.values()} >= PAGES
    assert len(walk.screens) > 120


@pytest.mark.parametrize("size", SIZES)
def test_no_text_of_ours_stands_there_that_was_not_looked_up(size: tuple[int, int]) -> None:
    walk, _ = walked("pseudo", size)
    assert plain_words(line for screen in walk.screens.values() for line in screen.lines) == []


@pytest.mark.parametrize(("language", "size"), EVERYWHERE)
def test_no_key_in_the_lowest_lines_is_cut(language: str, size: tuple[int, int]) -> None:
    for screen in screens(language, size):
        if not screen.far:
            assert ".." not in screen.lines[-2] + screen.lines[-1], screen.text


@pytest.mark.parametrize(("language", "size"), EVERYWHERE)
def test_what_is_asked_is_whole(language: str, size: tuple[int, int]) -> None:
    for screen in screens(language, size):
        entry = screen.sheet.entry
        if entry is not None and not screen.far:
            shown = "".join(screen.text.split())
            assert "".join(entry.question.split()) in shown, screen.text


def test_a_key_stands_at_the_same_place_on_every_page_of_a_language() -> None:
    for language in ("en", "de", "pseudo"):
        with spoken(language):
            columns, _ = columns_of(80)
        caps: dict[str, set[int]] = {}
        for screen in screens(language, SMALL) if language != "en" else []:
            if screen.far:
                continue
            for key in ("F1", "F2", "F3", "F4", "F6", "F7"):
                for line in screen.lines[-2:]:
                    if f"{key} " in line:
                        caps.setdefault(key, set()).add(line.index(f"{key} "))
        assert all(len(at) == 1 for at in caps.values()), caps
        assert sum(columns) == 80


def test_english_has_the_columns_it_always_had() -> None:
    assert columns_of(80) == ((20, 20, 20, 20), False)
    assert columns_of(60) == ((21, 15, 12, 12), True)


def test_the_shipped_language_says_what_matters_in_its_own_words() -> None:
    text = "\n".join(screen.text for screen in screens("de", SMALL))
    for words in (
        "Sie bestätigen",
        "F4 STOPP, absichern",
        "Enter beginnen",
        "Gegenprüfung",
        "GEFAHR",
        "VORSICHT",
        "HALT",
        "Freigabe geben",
        "Abweichung",
        "TROCKENLAUF",
        "ECHTER LAUF",
        "PAUSE seit",
    ):
        assert words in text, words


@pytest.mark.parametrize("size", SIZES)
def test_a_terminal_of_few_characters_shows_the_other_language_in_those(size: tuple[int, int]) -> None:
    walk = Walk()
    with spoken("de"):
        respelled(spell)
        for person, deep in places(size):
            person.shell.ascii = True
            walk.from_here(person, min(deep, 1))
    text = "\n".join(screen.text for screen in walk.screens.values())
    assert text.isascii()
    assert "ausfuehren" in text
    assert "bestaetigen" in text
    assert not [screen.text for screen in walk.screens.values() if "?nde" in screen.text or "?ck" in screen.text]


def test_a_page_in_a_browser_speaks_the_language_too() -> None:
    with spoken("de"):
        text = page("Changeover", "ws://127.0.0.1:8400/ws")
    assert '<html lang="de">' in text
    assert "Diese Sitzung ist beendet." in text
    assert 'aria-label="Dorthin zurück, wo man war. Nichts wird verändert."' in text
    assert '<html lang="en">' in page("Changeover", "ws://127.0.0.1:8400/ws")
