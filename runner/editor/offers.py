"""What may be written next inside a formula, a slot, a unit or a quantity, from the text before the cursor.

An offer is a word to put in the place of the part that is typed already. Nothing is judged here: a formula that is half typed
still has a place for a name, a unit or a roller.
"""

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from runner.editor.about import about, about_function, about_unit, about_word
from runner.editor.help import Help
from runner.editor.meanings import VALUES
from runner.editor.named import Named, Sheet
from runner.editor.tree import Pairs, texts
from runner.formula.dimension import describe
from runner.formula.functions import FUNCTIONS
from runner.formula.functions.constants import CONSTANTS
from runner.formula.units import UNITS

NAME_END = re.compile(r"[A-Za-z][A-Za-z0-9_]*\Z|\Z")
UNIT_END = re.compile(r"[^\s*/·⋅^\[\]]*\Z")
NUMBER_BEFORE = re.compile(r"\A\s*(?:nearest |up |down )?\s*-?[0-9][0-9.eE+-]*\s+")
OPEN_CALL = re.compile(r"(?P<name>[A-Za-z][A-Za-z0-9_]*)?\s*\Z")
OPEN_SLOT = re.compile(r"(?<!\{)(?:\{\{)*\{(?P<inside>[^{}]*)\Z")
EQUALS = re.compile(r"(?P<name>[A-Za-z][A-Za-z0-9_]*)\s*[!=]=\s*\Z")
SPECS = (".0f", ".1f", ".2f", ".3f")


@dataclass(frozen=True, slots=True)
class Offer:
    """One word that may be written."""

    label: str
    sort: str
    """key, word, name, unit, function, constant, file or rule."""
    typed: int
    """Characters before the cursor that it takes the place of."""
    detail: str = ""
    help: Help | None = None
    insert: str = ""
    """What is put in; the label where empty."""
    rank: int = 0
    """Lower ones are offered first."""


@dataclass(frozen=True, slots=True)
class Place:
    """Where in a formula its end stands."""

    mode: str
    """value, unit or text."""
    part: str
    """What is typed of the word."""
    function: str = ""
    argument: int = 0
    first: str = ""
    """The first argument of that call."""
    before: str = ""
    """What stands before a text's quote."""


def place_in(prefix: str) -> Place:
    """What may follow a part of a formula."""
    calls: list[tuple[str, list[str]]] = []
    start, index, quote = 0, 0, -1
    while index < len(prefix):
        sign = prefix[index]
        if sign in "'\"":
            quote = index
            close = prefix.find(sign, index + 1)
            if close < 0:
                break
            index, quote = close, -1
        elif sign == "[":
            close = prefix.find("]", index)
            if close < 0:
                return Place("unit", prefix[index + 1 :])
            index = close
        elif sign == "(":
            name = OPEN_CALL.search(prefix[:index])
            calls.append(((name["name"] or "") if name else "", []))
            start = index + 1
        elif sign in ",)" and calls:
            calls[-1][1].append(prefix[start:index].strip())
            start = index + 1
            if sign == ")":
                calls.pop()
        index += 1
    function, arguments = calls[-1] if calls else ("", [])
    first = arguments[0] if arguments else ""
    if quote >= 0:
        return Place("text", prefix[quote + 1 :], function, len(arguments), first, prefix[:quote])
    found = NAME_END.search(prefix)
    return Place("value", found.group() if found else "", function, len(arguments), first)


def in_formula(prefix: str, sheets: Sequence[Sheet]) -> Iterator[Offer]:
    """What a formula may go on with."""
    number = NUMBER_BEFORE.match(prefix)
    if number is not None and not any(sign in prefix[number.end() :] for sign in "+*/^(,["):
        yield from in_unit(prefix[number.end() :])
        return
    at = place_in(prefix)
    if at.mode == "unit":
        yield from in_unit(at.part)
        return
    wants = wanted(at)
    if at.mode == "text":
        yield from in_text(at, wants, sheets)
        return
    typed = len(at.part)
    if wants in ("table", "path"):
        yield from named_offers(sheets, {"table" if wants == "table" else "web path"}, typed)
        return
    if wants == "column" or (at.function in FUNCTIONS and wants == "" and at.argument > 0):
        yield from named_offers(sheets, {"column"}, typed, at.first)
    yield from named_offers(sheets, VALUES, typed, rank=1)
    for name, constant in CONSTANTS.items():
        yield Offer(name, "constant", typed, constant.shown, about_word(name), rank=2)
    for function in FUNCTIONS.values():
        yield Offer(function.name, "function", typed, function.usage, about_function(function), f"{function.name}(", 3)


def wanted(at: Place) -> str:
    """What the function at hand wants at its argument; the last of a table's arguments may always be its column."""
    known = FUNCTIONS.get(at.function)
    if known is None:
        return ""
    wants = known.places(max(at.argument + 1, known.fewest))[at.argument].wants
    if at.argument and any(one.wants == "column" for one in known.parameters):
        return "column"
    return wants


def in_text(at: Place, wants: str, sheets: Sequence[Sheet]) -> Iterator[Offer]:
    """Between quotes: a roller of the path, a column, or a choice that a value is compared with."""
    typed = len(at.part)
    if wants == "roller" or (at.function and wants == ""):
        yield from named_offers(sheets, {"roller"}, typed, at.first)
    elif wants == "column":
        yield from named_offers(sheets, {"column"}, typed, at.first)
    compared = EQUALS.search(at.before)
    if compared is not None:
        yield from choices_of(compared["name"], sheets, typed)


def choices_of(name: str, sheets: Sequence[Sheet], typed: int) -> Iterator[Offer]:
    """The texts that an input or a choice may be."""
    for sheet in sheets:
        for named in sheet.names:
            if named.defines and named.sort in ("input", "choice") and sheet.meant(named.name) == name:
                pair = named.seen.pair
                body = pair.value if pair is not None else None
                if isinstance(body, Pairs):
                    for text in texts(body.get("choose") or body.get("of")):
                        yield Offer(text, "word", typed, f"choice of {name}")


def in_slot(prefix: str, sheets: Sequence[Sheet]) -> Iterator[Offer]:
    """Inside the braces of an instruction: a value, then digits, then a unit."""
    slot = OPEN_SLOT.search(prefix)
    if slot is None:
        return
    name, colon, rest = slot["inside"].partition(":")
    if not colon:
        yield from named_offers(sheets, VALUES, len(name.lstrip()))
    elif " " not in rest.strip(" ") and not rest.endswith(" "):
        for spec in SPECS:
            yield Offer(spec, "word", len(rest), f"{spec[1]} digits after the point")
        yield from in_unit(rest, rank=1)
    else:
        yield from in_unit(rest[rest.rfind(" ") + 1 :])


def in_unit(prefix: str, rank: int = 0) -> Iterator[Offer]:
    """A unit, or the next part of one."""
    found = UNIT_END.search(prefix)
    part = found.group() if found else ""
    for name, unit in UNITS.items():
        yield Offer(name, "unit", len(part), describe(unit.dimension), about_unit(name), rank=rank)


def in_quantity(prefix: str) -> Iterator[Offer]:
    """The unit behind a number."""
    number = NUMBER_BEFORE.match(prefix)
    if number is not None:
        yield from in_unit(prefix[number.end() :])


def named_offers(
    sheets: Sequence[Sheet], sorts: Iterable[str], typed: int, owner: str | None = None, rank: int = 0
) -> Iterator[Offer]:
    """The things of some sorts, each once, in the order of the texts; with an owner only those within it."""
    wanted_sorts, told = frozenset(sorts), set[tuple[str, str]]()
    for sheet in sheets:
        for named in sheet.names:
            if not named.defines or named.sort not in wanted_sorts:
                continue
            name = sheet.meant(named.name)
            if (owner is not None and sheet.meant(named.owner) != owner) or (named.sort, name) in told:
                continue
            told.add((named.sort, name))
            yield Offer(name, "name", typed, detail_of(sheet, named), None, as_written(sheet, named, name), rank)


def as_written(sheet: Sheet, named: Named, name: str) -> str:
    """The name with the quotes that its definition has."""
    scalar = named.seen.scalar
    return sheet.text[scalar.start : scalar.end] if scalar.quote in ("'", '"') and name == named.name else name


def detail_of(sheet: Sheet, named: Named) -> str:
    """A thing in a few words for a list."""
    facts = dict(about(sheet, named, ()).facts)
    words = next(
        (
            facts[one]
            for one in ("asked as", "hazard", "who", "sign", "act", "formula", "title", "values")
            if one in facts
        ),
        "",
    )
    unit = facts.get("unit", "")
    return f"{named.sort}" + (f", {unit}" if unit else "") + (f": {words[:80]}" if words else "")
