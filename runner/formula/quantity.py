"""What people type and what they are shown: numbers with units.

Typing is read strictly and never guessed at: a comma is asked about, a unit of another dimension is refused in words. What
is shown has no exponent for ordinary sizes, no grouping of thousands, and never a minus before zero.
"""

from math import floor, isfinite, log10
from typing import NamedTuple

from runner.formula.dimension import describe
from runner.formula.fault import Fault
from runner.formula.units import LONGEST as LONGEST_UNIT
from runner.formula.units import Unit, parse_unit, shown
from runner.say.text import say

LONGEST = 40
"""Characters that a typed number may have; its unit has room of its own."""
DIGITS = frozenset("0123456789")
SIGNIFICANT = 6
"""Digits shown where no form is asked for."""


class Typed(NamedTuple):
    """A quantity as typed: its SI value, the unit it was typed in, and how it is read back to the person."""

    si: float
    unit: Unit
    echo: str


class Misread(NamedTuple):
    """Why what was typed is not taken, in words for the person who typed it."""

    message: str


def read_quantity(text: str, unit: Unit) -> Typed | Misread:
    """A typed number, in `unit` when it has none of its own: "1250", "1250 mm", "1.25 m", "49.2 in"."""
    if len(text) > LONGEST + LONGEST_UNIT:
        return Misread(say("That is longer than {most} characters; type a number.", most=LONGEST))
    typed = text.strip()
    if not typed:
        return Misread(say("Type a number{in_unit}.", in_unit=of_unit(unit)))
    if not typed.isprintable():
        return Misread(say("That has characters that do not print; type a number."))
    place = 1 if typed[0] in "+-−" else 0
    end = number_end(typed, place)
    if isinstance(end, Misread):
        return end
    if end > LONGEST:
        return Misread(say("That is longer than {most} characters; type a number.", most=LONGEST))
    own = typed[end:].strip()
    own_unit = parse_unit(own) if own else unit
    if isinstance(own_unit, Fault):
        hint = f" ({own_unit.hint})" if own_unit.hint else ""
        return Misread(
            say(
                "{typed} is no unit known here{hint}; type the number{in_unit}.",
                typed=shown(own),
                hint=hint,
                in_unit=of_unit(unit),
            )
        )
    if own_unit.dimension != unit.dimension:
        return Misread(
            say(
                "{typed} measures {what}, but this is {other}; type it in {unit}.",
                typed=own_unit.text,
                what=describe(own_unit.dimension, own_unit.text),
                other=describe(unit.dimension, unit.text),
                unit=unit.text,
            )
        )
    magnitude = float(typed[:end].replace("−", "-"))
    si = own_unit.si(magnitude) if isfinite(magnitude) else magnitude
    if not isfinite(si):
        return Misread(say("That number is too large."))
    echo = show(si, own_unit)
    return Typed(si, own_unit, echo if own_unit.text == unit.text else f"{echo} = {show(si, unit)}")


def of_unit(unit: Unit) -> str:
    """ " in mm", or nothing for a plain number."""
    return "" if unit.text in ("", "1") else say(" in {unit}", unit=unit.text)


def number_end(typed: str, start: int) -> int | Misread:
    """The place after a number: digits [. digits] [e [sign] digits], or what is wrong with it."""
    while start < len(typed) and typed[start] == " ":
        return Misread(say("Take the space after the sign out."))
    place = start
    while place < len(typed) and typed[place] in DIGITS:
        place += 1
    whole = typed[start:place]
    if typed[place : place + 1] == ",":
        return comma(typed, start)
    if typed[place : place + 1] == ".":
        point = place
        place += 1
        while place < len(typed) and typed[place] in DIGITS:
            place += 1
        if place == point + 1:
            return Misread(say("Digits are missing after the point.")) if whole else not_a_number(typed)
        if typed[place : place + 1] in (",", "."):
            return comma(typed, start)
    elif not whole:
        return not_a_number(typed)
    if typed[place : place + 1] in ("e", "E"):
        after = place + 1 + (typed[place + 1 : place + 2] in tuple("+-−"))
        digits = after
        while digits < len(typed) and typed[digits] in DIGITS:
            digits += 1
        if digits > after:
            place = digits
    rest = typed[place:].lstrip()
    if rest[:1] in DIGITS and rest and not is_reciprocal(typed[place:]):
        return Misread(
            say(
                "Is that {typed}{rest} or two numbers? Type one number without spaces.",
                typed=typed[start:place],
                rest=rest,
            )
        )
    if rest[:1] in ("_", "'"):
        return Misread(say("Type the number without marks between its digits."))
    return place


def is_reciprocal(rest: str) -> bool:
    """Whether a unit such as 1/s follows a number, and not a second number: there is a blank before it, and a name in it."""
    over, line, under = rest.partition("/")
    return (
        rest[:1] == " "
        and over.strip() == "1"
        and bool(line)
        and bool(under.strip())
        and under.strip()[0] not in DIGITS
    )


def comma(typed: str, start: int) -> Misread:
    """A comma may stand for a point or for thousands; the person is asked, never guessed at."""
    end = start
    while end < len(typed) and (typed[end] in DIGITS or typed[end] in ",."):
        end += 1
    digits = typed[start:end]
    if digits.count(",") == 1 and "." not in digits:
        whole, part = digits.split(",")
        if whole and part:
            point, joint = f"{whole}.{part}", f"{whole}{part}"
            if len(part) == 3:
                words = say(
                    "Is {digits} {point} or {joint}? Write it with a point, or without the comma.",
                    digits=digits, point=point, joint=joint,
                )  # fmt: skip
                return Misread(words)
            return Misread(say("Is {digits} {point}? Write it with a point.", digits=digits, point=point))
    return Misread(
        say("{digits} can be read in more than one way; write the number with one point and no commas.", digits=digits)
    )


def not_a_number(typed: str) -> Misread:
    """What is typed does not begin with a number."""
    if any(letter.isdigit() and letter not in DIGITS for letter in typed):
        return Misread(say("Use the plain digits 0 to 9."))
    return Misread(say("{typed} is not a number; type digits, as in 12.5.", typed=shown(typed)))


def show(si: float, unit: Unit, spec: str = "") -> str:
    """An SI value in `unit` with the unit's name: "437 kg". `spec` is a form such as ".0f"; see `is_spec`."""
    number = shown_number(unit.magnitude(si), spec)
    return number if unit.text in ("", "1") else f"{number} {unit.text}"


def is_spec(spec: str) -> bool:
    """Whether a form can be used: `.Nf` for N digits after the point, `.Ng` for N digits in all, N from 0 (g: 1) to 9."""
    return len(spec) == 3 and spec[0] == "." and spec[1] in DIGITS and spec[2] in "fg" and spec != ".0g"


def shown_number(magnitude: float, spec: str = "") -> str:
    """A number without its unit. A form that is none (`is_spec`) counts as no form."""
    if is_spec(spec) and spec[2] == "f":
        text = f"{magnitude:.{spec[1]}f}"
    else:
        text = significant(magnitude, int(spec[1]) if is_spec(spec) else SIGNIFICANT)
    return text[1:] if text.startswith("-") and not text.strip("-0.") else text


def significant(magnitude: float, digits: int) -> str:
    """A number with so many digits at most and no zeros at its end; whole digits before the point are never dropped."""
    if not magnitude:
        return "0"
    size = floor(log10(abs(magnitude)))
    if size < -6 or size > 14:
        return f"{magnitude:.{digits}g}"
    text = f"{magnitude:.{max(0, digits - 1 - size)}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text
