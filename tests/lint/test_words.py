"""How instructions are taken apart into words and sentences."""

from hypothesis import given
from hypothesis import strategies as st

from runner.lint.word_lists import ACTS, SECOND_ACTS
from runner.lint.words import (
    base_of,
    find_words,
    first_word,
    number_of,
    numbers_in,
    order_in,
    sentences_of,
    singular,
    words_of,
)


def test_a_dot_inside_a_number_ends_no_sentence() -> None:
    assert sentences_of("Set 5.5 bar. Wait!") == ((0, "Set 5.5 bar."), (13, "Wait!"))


def test_a_sentence_without_an_end_is_one() -> None:
    assert sentences_of("Open the guard") == ((0, "Open the guard"),)
    assert sentences_of("  ") == ()


def test_words_are_found_only_by_themselves() -> None:
    assert find_words("Put it beside the exit if free", "if") == 23
    assert find_words("Lift it", "if") == -1
    assert find_words("As required, go", "as required") == 0


def test_punctuation_is_no_part_of_a_word() -> None:
    assert words_of("Open, then: close!") == ("open", "then", "close")
    assert first_word("'Open' it") == "open"
    assert first_word("...") == ""


def test_a_second_act_is_an_act() -> None:
    assert SECOND_ACTS <= ACTS


@given(st.text(max_size=80))
def test_sentences_stand_where_they_say(text: str) -> None:
    found = sentences_of(text)
    assert all(text[offset:].startswith(sentence) for offset, sentence in found)
    kept = "".join(sentence for _, sentence in found)
    assert "".join(kept.split()) == "".join(text.split())


def test_numbers_are_found_with_what_follows_them() -> None:
    assert numbers_in("Set 5.5 bar, then 100mm.") == ((4, "5.5", "", "bar,"), (18, "100", "mm.", ""))
    assert numbers_in("Line3 at 1,250 mm") == ((9, "1,250", "", "mm"),)
    assert numbers_in("m² of ² and x2") == ()


def test_a_number_is_read_with_point_or_comma_and_never_guessed() -> None:
    assert (number_of("5.5"), number_of("5,5"), number_of("20")) == (5.5, 5.5, 20.0)
    assert number_of("1,234.5") is None


def test_an_order_begins_after_the_comma_of_its_clause() -> None:
    assert order_in("When it stops, open the guard.") == (14, "open")
    assert order_in("Open the guard, please.") == (0, "open")
    assert order_in("When it stops open the guard.") == (-1, "")


def test_forms_of_an_act_are_known_by_their_endings() -> None:
    assert [base_of(word) for word in ("opens", "opening", "cutting", "placing", "presses")] == [
        "open",
        "open",
        "cut",
        "place",
        "press",
    ]
    assert [base_of(word) for word in ("open", "press", "string", "bus", "")] == [""] * 5


def test_plurals_are_compared_by_their_singular() -> None:
    assert [singular(word) for word in ("bars", "latches", "knives", "boxes", "press")] == [
        "bar",
        "latch",
        "knife",
        "box",
        "press",
    ]


@given(st.text(max_size=60))
def test_numbers_stand_where_they_say_and_can_be_read(text: str) -> None:
    for at, number, glued, _ in numbers_in(text):
        assert text.startswith(number + glued, at)
        value = number_of(number)
        assert value is None or value >= 0
