"""Every catalogue has every message, translated, with its fields, and the compiled file is what is made of it."""

import re

import pytest
from babel.messages.catalog import Message as Translated
from babel.messages.pofile import read_po

from runner.say.fields import fields_of, fit
from tests.say.collected import Message, built, collected
from tests.say.refresh import LANGUAGES, compiled_bytes, path_of, refreshed, standing

MESSAGES = collected()
INFORMAL = re.compile(r"\b(du|dein\w*|dich|dir|ihr|euch)\b")
"""People are spoken to as Sie, or not at all: an infinitive says what to do."""
SIGNAL_WORDS = {"danger": "Gefahr", "warning": "Warnung", "caution": "Vorsicht", "notice": "Hinweis"}
"""Signal words in German: DIN ISO 3864-2 has Gefahr, Warnung and Vorsicht; Hinweis is common practice (both from memory)."""


def translations(language: str) -> list[Translated]:
    """All but the head."""
    return [message for message in standing(language) if message.id]


def forms(message: Translated) -> list[tuple[str, str]]:
    """(message, translation) of each form."""
    if isinstance(message.id, str):
        return [(message.id, str(message.string))]
    return list(zip(message.id, message.string or (), strict=True))


@pytest.mark.parametrize("language", LANGUAGES)
def test_a_catalogue_has_exactly_the_messages_of_the_program(language: str) -> None:
    have = set()
    for message in translations(language):
        one, many = (message.id, "") if isinstance(message.id, str) else message.id
        have.add(Message(one, many, message.context or ""))
    assert sorted(MESSAGES.keys() - have) == [], "new messages: python -m tests.say.refresh, then translate them"
    assert sorted(have - MESSAGES.keys()) == [], "old messages: python -m tests.say.refresh"


@pytest.mark.parametrize("language", LANGUAGES)
def test_every_message_is_translated_and_none_of_it_is_a_guess(language: str) -> None:
    for message in translations(language):
        assert not message.fuzzy, message.id
        assert all(translation.strip() for _, translation in forms(message)), message.id


@pytest.mark.parametrize("language", LANGUAGES)
def test_a_translation_has_the_fields_of_its_message(language: str) -> None:
    for message in translations(language):
        for text, translation in forms(message):
            counted = not isinstance(message.id, str)
            assert fit(translation, text, counted) or (not fields_of(text) and not fields_of(translation)), (
                text,
                translation,
            )


@pytest.mark.parametrize("language", LANGUAGES)
def test_a_translation_begins_and_ends_as_its_message_does(language: str) -> None:
    """What is put together of two messages keeps its blanks, and a sentence stays one."""
    for message in translations(language):
        for text, translation in forms(message):
            assert text[:1].isspace() == translation[:1].isspace(), text
            assert text[-1:].isspace() == translation[-1:].isspace(), text
            if text.endswith("."):
                assert translation.endswith("."), (text, translation)
            assert text.count("\n") == translation.count("\n"), text


@pytest.mark.parametrize("language", LANGUAGES)
def test_the_compiled_catalogue_is_made_of_the_written_one(language: str) -> None:
    with open(path_of(language, "mo"), "rb") as file:
        assert file.read() == compiled_bytes(standing(language)), "python -m tests.say.refresh"


@pytest.mark.parametrize("language", LANGUAGES)
def test_refreshing_keeps_every_translation(language: str) -> None:
    before, after = standing(language), refreshed(language, MESSAGES, standing(language))
    for message in after:
        if message.id:
            one = message.id if isinstance(message.id, str) else message.id[0]
            kept = before.get(one, context=message.context)
            assert kept is not None
            assert kept.string == message.string


def test_messages_are_written_out_where_they_are_looked_up() -> None:
    assert built() == []


def test_german_signal_words_are_those_of_the_standard() -> None:
    with open(path_of("de", "po"), "rb") as file:
        catalogue = read_po(file)
    for word, german in SIGNAL_WORDS.items():
        message = catalogue.get(word)
        assert message is not None
        assert message.string == german


def test_german_says_you_confirm_and_never_that_a_machine_is_safe() -> None:
    """The screen says what a person confirms; nothing of it says that the press is safe."""
    for message in translations("de"):
        for text, translation in forms(message):
            if "ou confirm" in text:
                assert "bestätig" in translation, text
            assert "ist sicher" not in translation, translation
            assert not INFORMAL.search(translation), translation
