"""Texts taken apart: words, sentences, where an order begins. The lists of words are in `word_lists`.

Every offset counts in the text as it was given, so that a finding can point at the word.
"""

from collections.abc import Sequence
from functools import lru_cache

from runner.lint.word_lists import ACTS, ACTS_BEFORE_A_THING, CLAUSE_STARTS, SECOND_ACTS, THING_FOLLOWS

PUNCTUATION = {ord(char): " " for char in "!\"#$%&'()*+,-./:;<=>?@[\\]^_`{|}~"}

NOT_OF_A_WORD = {code: " " for code in range(128) if not chr(code).isalnum()}

SENTENCE_ENDS = ".!?"

DIGITS = frozenset("0123456789")

KNOWN = 4096
"""Texts that are kept taken apart: many rules ask about the same ones."""


@lru_cache(KNOWN)
def words_of(text: str) -> tuple[str, ...]:
    """The words in lower case, without punctuation."""
    if text.isascii():  # the same, several times as fast
        return tuple(text.lower().translate(NOT_OF_A_WORD).split())
    kept = "".join(char if char.isalnum() else " " for char in text.lower())
    return tuple(kept.split())


def first_word(text: str) -> str:
    """The first word in lower case, empty where there is none."""
    words = words_of(text)
    return words[0] if words else ""


def is_one_sentence(text: str) -> bool:
    """Whether a text is surely no more than one sentence, seen without taking it apart."""
    inside = text.rstrip()[:-1]
    return "." not in inside and "!" not in inside and "?" not in inside


@lru_cache(KNOWN)
def sentences_of(text: str) -> tuple[tuple[int, str], ...]:
    """The sentences, each with the offset at which it begins; a dot inside a number or word ends none."""
    if is_one_sentence(text):
        whole = text.strip()
        return ((len(text) - len(text.lstrip()), whole),) if whole else ()
    found = []
    start = 0
    for at, char in enumerate(text):
        ends = char in SENTENCE_ENDS and (at + 1 == len(text) or text[at + 1].isspace())
        if ends or at + 1 == len(text):
            piece = text[start : at + 1]
            lead = len(piece) - len(piece.lstrip())
            if piece.strip():
                found.append((start + lead, piece.strip()))
            start = at + 1
    return tuple(found)


def find_words(text: str, wanted: str) -> int:
    """The offset of a word or words standing by themselves, -1 where they do not."""
    plain = text.lower()
    at = plain.find(wanted)
    while at >= 0:
        end = at + len(wanted)
        before = plain[at - 1] if at else " "
        after = plain[end] if end < len(plain) else " "
        if not before.isalnum() and not after.isalnum():
            return at
        at = plain.find(wanted, at + 1)
    return -1


def holds(text: str, words: tuple[str, ...]) -> tuple[int, str]:
    """The first of the given words or phrases that stands by itself in a text of small letters, with its offset; -1 for none."""
    if first_words(words).isdisjoint(words_of(text)):
        return -1, ""
    for wanted in words:
        if wanted in text:
            at = find_words(text, wanted)
            if at >= 0:
                return at, wanted
    return -1, ""


@lru_cache(KNOWN)
def first_words(phrases: tuple[str, ...]) -> frozenset[str]:
    """The words with which some phrases begin: a text that has none of these has none of the phrases."""
    return frozenset(first_word(phrase) for phrase in phrases)


def order_in(text: str) -> tuple[int, str]:
    """Where the order of a sentence begins and its first word: after the comma of a clause before it; -1 where none is told apart."""
    word = first_word(text)
    if word not in CLAUSE_STARTS:
        return 0, word
    comma = text.find(",")
    return (comma + 1, first_word(text[comma + 1 :])) if comma >= 0 else (-1, "")


def base_of(word: str) -> str:
    """The act of which a word is the form in -ing or -s; empty where it is none."""
    for ending in ("ing", "es", "s"):
        if word.endswith(ending) and word not in ACTS:
            stem = word[: -len(ending)]
            undoubled = stem[:-1] if len(stem) > 2 and stem[-1] == stem[-2] else stem
            found = next((act for act in (stem, f"{stem}e", undoubled) if act in ACTS), "")
            if found:
                return found
    return ""


@lru_cache(KNOWN)
def singular(word: str) -> str:
    """A word without the -s of the plural, roughly: enough to compare two words."""
    if word.endswith("ves"):
        return f"{word[:-3]}fe"
    if word.endswith(("ches", "shes", "xes", "sses")):
        return word[:-2]
    return word[:-1] if word.endswith("s") and not word.endswith("ss") else word


@lru_cache(KNOWN)
def numbers_in(text: str) -> tuple[tuple[int, str, str, str], ...]:
    """Numbers that stand as words: offset, number, what is glued behind it, and the next word with its punctuation."""
    if DIGITS.isdisjoint(text):
        return ()
    found = []
    at, size = 0, len(text)
    while at < size:
        if text[at] not in DIGITS:
            at += 1
            continue
        start = at
        while at < size and (text[at] in DIGITS or (text[at] in ".," and at + 1 < size and text[at + 1] in DIGITS)):
            at += 1
        end = at
        while at < size and not text[at].isspace():
            at += 1
        before = text[start - 1] if start else " "
        if before.isspace() or before in "(+-<>=±":
            found.append((start, text[start:end], text[end:at], next(iter(text[at:].split()), "")))
    return tuple(found)


def begins_act(words: Sequence[str]) -> bool:
    """Whether the first of the words is surely an act: hardly ever a noun, or followed by the thing that it is done to."""
    return bool(words) and (
        words[0] in SECOND_ACTS or (words[0] in ACTS_BEFORE_A_THING and len(words) > 1 and words[1] in THING_FOLLOWS)
    )


def number_of(text: str) -> float | None:
    """The number that a text writes with a point or a comma; None for what may be read in two ways, as 1,234.5."""
    plain = text.replace(",", ".")
    return float(plain) if plain.count(".") <= 1 else None
