"""How instructions are taken apart into words and sentences."""

from hypothesis import given
from hypothesis import strategies as st

from runner.lint.words import ACTS, SECOND_ACTS, find_words, first_word, sentences_of, words_of


def test_a_dot_inside_a_number_ends_no_sentence() -> None:
    assert sentences_of("Set 5.5 bar. Wait!") == [(0, "Set 5.5 bar."), (13, "Wait!")]


def test_a_sentence_without_an_end_is_one() -> None:
    assert sentences_of("Open the guard") == [(0, "Open the guard")]
    assert sentences_of("  ") == []


def test_words_are_found_only_by_themselves() -> None:
    assert find_words("Put it beside the exit if free", "if") == 23
    assert find_words("Lift it", "if") == -1
    assert find_words("As required, go", "as required") == 0


def test_punctuation_is_no_part_of_a_word() -> None:
    assert words_of("Open, then: close!") == ["open", "then", "close"]
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
