"""Text in plain characters, for terminals that show no others: nothing outside ASCII, and no sign becomes another one.

A sign that has words or a longer spelling gets it (`≤` is `<=`, never `<`), so this comes before lines are laid out.
What has no spelling is a question mark.
"""

import unicodedata
from typing import Any, TypeVar

from runner.procedure.clean import clean
from runner.screen.blocks import Dial, Drawing, Hanging
from runner.screen.typed import Line
from runner.screen.view import View

Whole = TypeVar("Whole")
Parts = TypeVar("Parts", bound=tuple[object, ...])

SPELLINGS: dict[str, str] = {
    "°": "deg", "µ": "u", "μ": "u", "Ω": "Ohm", "\u2126": "Ohm", "²": "^2", "³": "^3", "¹": "^1", "⁻": "-",
    "·": "*", "⋅": "*", "×": "x", "÷": "/", "−": "-", "\u2010": "-", "\u2011": "-", "–": "-", "—": "-", "…": "...",
    "≤": "<=", "≥": ">=", "≠": "!=", "≈": "~", "±": "+/-", "∓": "-/+", "√": "sqrt", "∞": "infinite", "∅": "dia",
    "½": " 1/2", "¼": " 1/4", "¾": " 3/4", "‰": " per mille", "€": "EUR", "£": "GBP", "§": "section ", "№": "No.",
    "‹": "<", "›": ">", "«": '"', "»": '"', "“": '"', "”": '"', "„": '"', "‘": "'", "’": "'", "‚": "'", "′": "'", "″": '"',
    "→": "->", "←": "<-", "↑": "^", "↓": "v", "↔": "<->", "⇒": "=>", "•": "*", "✓": "x", "✗": "-", "▶": ">", "␡": "^?",
    "Ä": "Ae", "Ö": "Oe", "Ü": "Ue", "ä": "ae", "ö": "oe", "ü": "ue", "ß": "ss", "Æ": "Ae", "æ": "ae", "Ø": "O", "ø": "o",
    "Ł": "L", "ł": "l", "Đ": "D", "đ": "d", "ı": "i", "\u00a0": " ", "\u202f": " ", "\u2009": " ",
}  # fmt: skip
"""Spellings that the decomposition of Unicode does not give."""

FRAME = str.maketrans("─│", "-|")
"""Of the frame: one cell for one cell."""


def spell(text: str) -> str:
    """The text in ASCII. What acts on a terminal has been made visible first."""
    text = clean(text)
    return text if text.isascii() else "".join(map(_spelling, text))


def framed(text: str) -> str:
    """A line that is laid out: the frame in plain signs; whatever else is left over gives a question mark."""
    if text.isascii():
        return text
    return "".join(character if character.isascii() else "?" for character in text.translate(FRAME))


def _spelling(character: str) -> str:
    if character.isascii():
        return character
    if character in SPELLINGS:
        return SPELLINGS[character]
    if "\u2400" <= character <= "\u241f":  # pictures of control characters
        return f"^{chr(ord(character) - 0x2400 + 0x40)}"
    if unicodedata.combining(character):
        return ""
    whole = unicodedata.normalize("NFKD", character)
    kept = "".join(part for part in whole if part.isascii())
    if kept and all(part.isascii() or unicodedata.combining(part) for part in whole):
        return kept
    name = unicodedata.name(character, "")
    if name.startswith("GREEK ") and " LETTER " in name:
        return name.rpartition(" LETTER ")[2].split()[0].lower()
    return "?"


def spelled(whole: Whole) -> Whole:
    """A value with every text in it spelled: tuples of any depth, what is typed, drawings; other things stay."""
    made: Any = _spelled(whole)
    same: Whole = made
    return same


def _spelled(whole: object) -> object:
    match whole:
        case str():
            return spell(whole)
        case Line():
            before, behind = spell(whole.text[: whole.at]), spell(whole.text[whole.at :])
            return Line(before + behind, len(before))
        case Drawing() | Hanging() | Dial():
            return whole._replace(plain=True)
        case View():
            # the step is shown through the page's own blocks; only its number stands in a line of its own
            return _each(whole._replace(step=None))._replace(step=whole.step)
        case tuple():
            return _each(whole)
        case _:
            return whole


def _each(whole: Parts) -> Parts:
    parts = [_spelled(part) for part in whole]
    make: Any = type(whole)
    made: Parts = make(*parts) if hasattr(whole, "_fields") else make(parts)
    return made
