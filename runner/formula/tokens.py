"""A formula's text cut into tokens, each with its columns; what cannot stand in a formula is a fault with its repair.

One pass, no look-behind, no regular expressions; the work is bounded by the length of the text.
"""

from typing import Literal, NamedTuple, TypeAlias

from runner.formula.expr import Span
from runner.formula.fault import Fault
from runner.formula.units import parse_unit, shown

TokenKind: TypeAlias = Literal["number", "name", "text", "sign", "end"]

WORDS = frozenset({"and", "or", "not"})
SIGNS = ("==", "!=", "<=", ">=", "<", ">", "+", "-", "*", "/", "^", "(", ")", ",")
DIGITS = frozenset("0123456789")
NAME_START = frozenset("abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ")
NAME_PART = NAME_START | DIGITS | {"_"}

REPAIRS: tuple[tuple[str, str, str], ...] = (
    ("**", "** is no sign of a formula", "write ^ for a power"),
    ("<>", "<> is no sign of a formula", "write != for not equal"),
    ("&&", "&& is no sign of a formula", "write and"),
    ("||", "|| is no sign of a formula", "write or"),
    ("=", "a single = compares nothing", "write =="),
    ("!", "! is no sign of a formula", "write not"),
    ("&", "& is no sign of a formula", "write and"),
    ("|", "| is no sign of a formula", "write or"),
    ("≤", "≤ is no sign of a formula", "write <="),
    ("≥", "≥ is no sign of a formula", "write >="),
    ("≠", "≠ is no sign of a formula", "write !="),
    ("×", "× is no sign of a formula", "write *"),
    ("⋅", "⋅ is no sign of a formula", "write *"),
    ("·", "· is no sign of a formula", "write *"),
    ("÷", "÷ is no sign of a formula", "write /"),
    ("−", "this minus is not the one of the keyboard", "write -"),
    ("–", "this dash is no minus", "write -"),
    ("²", "² is no sign of a formula", "write ^2"),
    ("³", "³ is no sign of a formula", "write ^3"),
    ("√", "√ is no sign of a formula", "write sqrt( )"),
    ("π", "π is no name of a formula", "write pi"),
    ("%", "% is a unit, not a sign", "write it after a number, as in 5 [%]"),
    ("[", "a unit goes after a number, as in 3.2 [kg]", "a name has its unit already"),
    ("]", "this ] closes nothing", ""),
    (".", "a value has no parts and no dot in its name", "write a number as 0.5, a name with _"),
    ("{", "a formula has no braces", "write the name alone"),
    ("}", "a formula has no braces", "write the name alone"),
    (":", "a formula has no colon", "write if(condition, this, that) to choose between two"),
    ("?", "? is no sign of a formula", "write if(condition, this, that) to choose between two"),
    (";", "a formula has one expression", "take the ; out"),
    ("_", "a name begins with a letter", ""),
)
"""(what is written, what is wrong, what to write), the longer ones first."""


class Token(NamedTuple):
    """A piece of a formula: `words` is the sign, name or text itself; a number has its value, and its unit as `words`."""

    kind: TokenKind
    words: str
    span: Span
    value: float = 0.0


def tokens(text: str) -> list[Token] | Fault:
    """All tokens of a formula, with an end token last; or the first fault."""
    found: list[Token] = []
    place = 0
    while place < len(text):
        letter = text[place]
        token: Token | Fault
        if letter in " \t\r\n":
            place += 1
            continue
        if letter in DIGITS or (letter == "." and text[place + 1 : place + 2] in DIGITS and place + 1 < len(text)):
            token = number(text, place)
        elif letter in NAME_START:
            token = name(text, place)
        elif letter in "'\"":
            token = quoted(text, place)
        else:
            token = sign(text, place)
        if isinstance(token, Fault):
            return token
        found.append(token)
        place = token.span.end
    found.append(Token("end", "", Span(len(text), len(text))))
    return found


def after_digits(text: str, place: int) -> int:
    """The place after a run of digits."""
    while place < len(text) and text[place] in DIGITS:
        place += 1
    return place


def number(text: str, start: int) -> Token | Fault:
    """number: digits [`.` digits] [`e` [sign] digits] [`[` unit `]`]; digits before the point may be left out."""
    place = after_digits(text, start)
    if text[place : place + 1] == ".":
        after = after_digits(text, place + 1)
        if after == place + 1:
            return Fault(start, after, "digits are missing after the point", "write 5 or 5.0")
        place = after
    if text[place : place + 1] in ("e", "E"):
        signed = place + 1 + (text[place + 1 : place + 2] in ("+", "-") and place + 1 < len(text))
        after = after_digits(text, signed)
        if after > signed:
            place = after
    value = float(text[start:place])
    if value == float("inf"):
        return Fault(start, place, "this number is too large")
    if place < len(text) and (text[place] in NAME_PART or text[place] in "µ°%."):
        after = place
        while after < len(text) and (text[after] in NAME_PART or text[after] in "µ°%./"):
            after += 1
        letters = shown(text[place:after])
        hint = f"write {text[start:place]} [{letters}]" if isinstance(parse_unit(letters), tuple) else ""
        if text[place] in "._" or text[place] in DIGITS:
            return Fault(start, after, "this is no number", "write it with one point and no spaces, as 1250.5")
        unit_like = not isinstance(parse_unit(letters), Fault)
        if unit_like:
            return Fault(place, after, "a unit goes in brackets", hint)
        return Fault(place, after, f"an operator is missing before {letters}", f"write {text[start:place]} * {letters}")
    unit_at = place
    while unit_at < len(text) and text[unit_at] in " \t":
        unit_at += 1
    if text[unit_at : unit_at + 1] != "[":
        return Token("number", "", Span(start, place), value)
    close = text.find("]", unit_at)
    if close < 0:
        return Fault(unit_at, len(text), "this bracket is not closed", "write ] after the unit")
    unit = parse_unit(text[unit_at + 1 : close])
    if isinstance(unit, Fault):
        return Fault(unit_at + 1 + unit.start, unit_at + 1 + unit.end, unit.message, unit.hint)
    return Token("number", unit.text, Span(start, close + 1), value)


def name(text: str, start: int) -> Token:
    """name: a letter, then letters, digits and `_`; the words and, or, not are signs."""
    place = start
    while place < len(text) and text[place] in NAME_PART:
        place += 1
    words = text[start:place]
    return Token("sign" if words in WORDS else "name", words, Span(start, place))


def quoted(text: str, start: int) -> Token | Fault:
    """text: anything printable between two quotes of one kind, on one line."""
    close = text.find(text[start], start + 1)
    if close < 0:
        return Fault(start, len(text), "this quote is not closed", f"write {text[start]} at the end of the text")
    words = text[start + 1 : close]
    if not words.isprintable():
        return Fault(start, close + 1, "a text in quotes holds only printable characters")
    return Token("text", words, Span(start, close + 1))


def sign(text: str, start: int) -> Token | Fault:
    """sign: one of `SIGNS`; for what people often write instead, the fault says what to write here."""
    for repair in REPAIRS[:4]:
        if text.startswith(repair[0], start):
            return Fault(start, start + 2, repair[1], repair[2])
    for words in SIGNS:
        if text.startswith(words, start):
            return Token("sign", words, Span(start, start + len(words)))
    for words, message, hint in REPAIRS:
        if text.startswith(words, start):
            return Fault(start, start + len(words), message, hint)
    letter = text[start]
    what = letter if letter.isprintable() else "a character that does not print"
    if letter.isalpha():
        return Fault(
            start, start + 1, f"{what} (U+{ord(letter):04X}) in a name", "names have the letters a to z, digits and _"
        )
    return Fault(start, start + 1, f"{what} (U+{ord(letter):04X}) does not belong in a formula")
