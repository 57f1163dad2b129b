"""How a message becomes the text that a person reads: fields after look-up, English wherever a translation does not fit."""

import subprocess
import sys
from collections.abc import Iterator

import pytest

from runner.say.fields import fields_of, fit
from runner.say.language import spoken
from runner.say.pseudo import pseudo, pseudo_speaker
from runner.say.text import CONTEXT, Speaker, mark, respelled, say, say_as, say_n, speak, speaker


@pytest.fixture
def catalogue() -> Iterator[dict[str, str]]:
    """Translations of a language that speaks for the test alone."""
    texts: dict[str, str] = {}

    def counted(one: str, many: str, n: int) -> str:
        return texts.get(one if n == 1 else many, one if n == 1 else many)

    before = speaker()
    speak(Speaker("test", lambda key: texts.get(key, key), counted))
    yield texts
    speak(before)


def test_english_is_the_message_with_its_fields() -> None:
    assert say("Step {number} of {total}", number=3, total=9) == "Step 3 of 9"
    assert say_n("{n} state", "{n} states", 1) == "1 state"
    assert say_n("{n} state of {press}", "{n} states of {press}", 2, press="Line 3") == "2 states of Line 3"
    assert say_as("of a run", "open") == "open"
    assert mark("go on") == "go on"


def test_a_message_without_fields_may_hold_braces() -> None:
    assert say("write {{ for a brace") == "write {{ for a brace"


def test_what_is_filled_in_is_never_taken_for_a_message_or_a_field(catalogue: dict[str, str]) -> None:
    catalogue["{name} looks"] = "{name} schaut"
    catalogue["go on"] = "weiter"
    assert say("{name} looks", name="{secret} go on") == "{secret} go on schaut"


def test_a_translation_may_put_the_fields_in_another_order(catalogue: dict[str, str]) -> None:
    catalogue["Step {number} of {total}"] = "von {total} der Schritt {number}"
    assert say("Step {number} of {total}", number=3, total=9) == "von 9 der Schritt 3"


@pytest.mark.parametrize(
    "broken", ["Schritt {number}", "{number} {total} {more}", "{number} {total", "{number} {total} }", "{} {total}",
               "{number.real} {total}", "{number[0]} {total}", "{number:{total}}", "{0} {1}"],
)  # fmt: skip
def test_a_translation_whose_fields_are_not_those_of_the_message_gives_way_to_english(
    broken: str, catalogue: dict[str, str]
) -> None:
    catalogue["Step {number} of {total}"] = broken
    assert say("Step {number} of {total}", number=3, total=9) == "Step 3 of 9"


def test_a_counted_form_may_do_without_its_number(catalogue: dict[str, str]) -> None:
    catalogue["{n} state of {press}"] = "ein Zustand von {press}"
    assert say_n("{n} state of {press}", "{n} states of {press}", 1, press="Line 3") == "ein Zustand von Line 3"
    catalogue["{n} states of {press}"] = "{n} Zustände"
    assert say_n("{n} state of {press}", "{n} states of {press}", 2, press="Line 3") == "2 states of Line 3"


def test_one_english_word_with_two_meanings_has_two_translations(catalogue: dict[str, str]) -> None:
    catalogue["next"] = "weiter"
    catalogue[f"intention{CONTEXT}next"] = "als Nächstes"
    assert (say("next"), say_as("intention", "next"), say_as("another", "next")) == ("weiter", "als Nächstes", "next")


def test_fields_are_read_from_a_message() -> None:
    assert fields_of("{least:g} to {most!r} ms") == frozenset({"least", "most"})
    assert fields_of("none {{at all}}") == frozenset()
    assert fields_of("{a.b}") is None
    assert fit("{b} {a}", "{a} {b}")
    assert not fit("{a}", "{a} {b}")


def test_the_pseudo_language_has_no_plain_letter_and_keeps_fields() -> None:
    told = pseudo("Step {number} of {total:g}, {{and}} more")
    assert told[0] + told[-1] == "[]"
    assert fields_of(told) == frozenset({"number", "total"})
    assert "".join(part for part in told.format(number="", total=0) if part.isascii() and part.isalpha()) == ""
    assert len(pseudo("First each act: ticked when it is done")) >= 1.3 * len("First each act: ticked when it is done")
    assert pseudo_speaker().look_up_count("{n} step", "{n} steps", 2) == pseudo("{n} steps")


def test_a_spelling_is_put_on_translations_and_on_nothing_else() -> None:
    with spoken("de"):
        respelled(str.upper)
        assert (say("help"), say("nowhere"), say_as("intention", "next"), say_as("none", "next")) == (
            "HILFE", "nowhere", "ALS NÄCHSTES", "next",
        )  # fmt: skip
    respelled(str.upper)
    assert say("help") == "help"


def test_another_language_is_spoken_for_a_while_and_then_the_one_before() -> None:
    assert say("help") == "help"
    with spoken("de"):
        assert say("help") == "Hilfe"
        with spoken("pseudo"):
            assert say("help") == pseudo("help")
        assert say("help") == "Hilfe"
    assert say("help") == "help"


def test_english_loads_neither_gettext_nor_the_other_languages() -> None:
    code = (
        "import sys, runner.say.language as l; l.choose('', {'LANG': 'en_GB.UTF-8'})\n"
        "from runner.say.text import say; say('{a}', a=1)\n"
        "print([m for m in ('gettext', 'locale', 'string', 'runner.say.pseudo', 'runner.say.fields') if m in sys.modules])"
    )
    done = subprocess.run([sys.executable, "-S", "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"
