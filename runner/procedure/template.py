"""Instructions with slots for numbers: `Lift the roll of {roll_mass:.0f} into the chucks.`

A slot names a value, then after a colon how many digits and, if it is not the value's own, the unit to show it in.
A template is parsed once; filling it never fails: a value that is not known yet says so in its place.
"""

from collections.abc import Callable
from typing import NamedTuple

from runner.formula.fault import Fault
from runner.formula.units import Unit, parse_unit
from runner.say.text import say

DIGITS_OR_UNIT = "Digits are written like .0f, a unit like mm; write {{ for a brace in the text."


class Slot(NamedTuple):
    """A place for a value."""

    name: str
    spec: str
    """Digits, like `.0f` or `.3g`; empty: as many as make sense."""
    unit: Unit | None
    """The unit to show it in; None: the value's own."""
    start: int = 0
    """Where its opening brace stands in the template, from 0."""


class Template(NamedTuple):
    """A text with slots."""

    text: str
    parts: tuple[str | Slot, ...]

    @property
    def slots(self) -> tuple[Slot, ...]:
        """The slots, in the order of the text."""
        return tuple(part for part in self.parts if isinstance(part, Slot))


def parse_template(text: str) -> Template | Fault:
    """The template that a text writes, or what is wrong with it, at its column."""
    if "{" not in text and "}" not in text:
        return Template(text, (text,))
    parts: list[str | Slot] = []
    plain, index = "", 0
    while (brace := next_brace(text, index)) >= 0:
        plain, sign = plain + text[index:brace], text[brace]
        if text.startswith(sign * 2, brace):
            plain, index = plain + sign, brace + 2
            continue
        if sign == "}":
            return Fault(brace, brace + 1, "this brace closes nothing", "Write }} for a brace in the text.")
        end = text.find("}", brace)
        if end < 0:
            return Fault(
                brace, brace + 1, "the slot that opens here is not closed", "Write {{ for a brace in the text."
            )
        slot = read_slot(text[brace + 1 : end], brace)
        if isinstance(slot, Fault):
            return slot
        parts += [plain, slot] if plain else [slot]
        plain, index = "", end + 1
    plain += text[index:]
    return Template(text, (*parts, plain) if plain else tuple(parts))


def next_brace(text: str, index: int) -> int:
    """Where the next brace stands from `index` on, or -1."""
    opening, closing = text.find("{", index), text.find("}", index)
    return opening if closing < 0 or 0 <= opening < closing else closing


def read_slot(inside: str, start: int) -> Slot | Fault:
    """What stands between the braces that open at `start`."""
    name, colon, rest = inside.partition(":")
    if not is_name(name.strip()):
        hint = "Write {name}, {name:.1f} or {name:.1f mm}; write {{ for a brace in the text."
        message = f"`{name.strip()}` is no name of a value" if name.strip() else "the slot names no value"
        return Fault(start + 1, start + 1 + max(1, len(name)), message, hint)
    spec, _, unit_text = rest.strip().partition(" ")
    if not is_spec(spec):
        spec, unit_text = "", rest.strip()
    if colon and not rest.strip():
        return Fault(
            start + len(name) + 1,
            start + len(inside) + 1,
            "nothing stands after the colon",
            "Write {name} or {name:.1f}.",
        )
    if not unit_text.strip():
        return Slot(name.strip(), spec, None, start)
    unit = parse_unit(unit_text.strip())
    if isinstance(unit, Fault):
        at = start + 1 + inside.index(unit_text.strip(), len(name))
        hint = DIGITS_OR_UNIT if unit_text.strip()[0] in "0123456789" else unit.hint or DIGITS_OR_UNIT
        return Fault(at + unit.start, at + unit.end, unit.message, hint)
    return Slot(name.strip(), spec, unit, start)


def is_name(text: str) -> bool:
    """A value's name."""
    return text.isascii() and text.isidentifier()


def is_spec(text: str) -> bool:
    """`.0f` to `.9f` and `.1g` to `.9g`."""
    return len(text) == 3 and text[0] == "." and text[1] in "0123456789" and text[2] in "fg" and text != ".0g"


def fill(template: Template, look: Callable[[Slot], str | None]) -> tuple[str, tuple[str, ...]]:
    """The text with its numbers, and the names that are missing; `look` gives what a slot shows, or None."""
    missing: list[str] = []
    shown: list[str] = []
    for part in template.parts:
        if isinstance(part, str):
            shown.append(part)
            continue
        value = look(part)
        if value is None:
            missing.append(part.name)
            value = say("({name}: not known yet)", name=part.name.replace("_", " "))
        shown.append(value)
    return "".join(shown), tuple(missing)
