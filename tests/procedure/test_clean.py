"""Nothing from outside reaches a terminal as a control: it becomes a picture."""

import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st

from runner.procedure.clean import UNFIT, clean, is_clean


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("plain Ω 点検 ⚠", "plain Ω 点検 ⚠"),
        ("\x1b[2J", "␛[2J"),
        ("a\x00b", "a␀b"),
        ("a\x7fb", "a␡b"),
        ("a\x9bb", "a‹U+009B›b"),
        ("\u202egnp", "‹U+202E›gnp"),
        ("a\u200bb", "a‹U+200B›b"),
        ("\ufeffa", "‹U+FEFF›a"),
        ("one\ntwo\t3", "one␊two␉3"),
        ("\udcff", "‹U+DCFF›"),
    ],
)
def test_a_character_that_acts_is_shown_as_a_picture(text: str, shown: str) -> None:
    assert clean(text) == shown
    assert is_clean(text) == (text == shown)


def test_line_feeds_stay_where_lines_are_asked_for() -> None:
    assert clean("one\ntwo\x1b", lines=True) == "one\ntwo␛"


@given(st.text(st.characters(), max_size=60))
def test_nothing_is_left_that_unicode_calls_a_control_a_format_or_a_surrogate(text: str) -> None:
    # Source: Unicode Standard, General_Category values Cc, Cs, Zl, Zp (all), and Cf but for the visible signs of Arabic,
    # Syriac, Kaithi, hieroglyphs and shorthand, which stand in a text.
    visible_format = {"Cf"}
    for character in clean(text):
        category = unicodedata.category(character)
        assert category not in ("Cc", "Cs", "Zl", "Zp")
        assert category not in visible_format or ord(character) not in range(0x2000, 0x2070)


@given(st.text(max_size=60))
def test_cleaning_twice_changes_nothing_more(text: str) -> None:
    assert clean(clean(text)) == clean(text)
    assert is_clean(clean(text))


def test_every_bidirectional_control_is_unfit() -> None:
    # Source: Unicode Standard Annex 9, table of explicit directional formatting characters, with the marks of section 2.6.
    for code in (0x061C, 0x200E, 0x200F, 0x202A, 0x202B, 0x202C, 0x202D, 0x202E, 0x2066, 0x2067, 0x2068, 0x2069):
        assert UNFIT.search(chr(code))
