"""The words inside a scalar: names, functions, units and quoted texts of formulas, slots and quantities, with their offsets.

A formula that is half typed has words too, so nothing is parsed here: words are cut out one by one, and a word in a call
knows of which function it is an argument.
"""

import re
from dataclasses import dataclass, replace

from runner.editor.seen import Seen
from runner.editor.tree import Scalar
from runner.formula.expr import CONSTANT_NAMES
from runner.formula.functions import FUNCTIONS
from runner.formula.units import Unit, parse_unit
from runner.procedure.language.shape import FORMULA, QUANTITY, TEMPLATE, UNIT, VALUE
from runner.procedure.language.shape import Scalar as ScalarShape
from runner.procedure.origin import Origin
from runner.procedure.spots import walk

TOKEN = re.compile(
    r"(?P<text>'[^']*'?|\"[^\"]*\"?)|(?P<number>(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?)|(?P<name>(?:[A-Za-z]|<[a-z][a-z0-9_]*>)(?:[A-Za-z0-9_]|<[a-z][a-z0-9_]*>)*)"
    r"|\[(?P<unit>[^\]]*)\]?|(?P<sign>[(),])"
)
SLOT = re.compile(r"\{\{|\}\}|\{(?P<name>[^{}:]*)(?::(?P<spec>[^{}]*))?\}?")
SPEC = re.compile(r"\s*(?:\.\d[fg])?\s*(?P<unit>.*?)\s*\Z")
AMOUNT = re.compile(r"\s*(?:nearest |up |down )?\s*-?[0-9][0-9.eE+-]*\s+(?P<unit>\S(?:.*\S)?)\s*\Z")
WORDS = frozenset({"and", "or", "not", "true", "false"})

LONGEST = 4000
"""Characters of a value that is looked into; the compiler refuses a formula far shorter."""

ROUND = ("a calculation", "round", "value")
"""A text that holds a quantity."""


@dataclass(frozen=True, slots=True)
class Word:
    """One word. `sort`: name, function, constant, unit, text, table, web path, column or roller."""

    sort: str
    text: str
    start: int
    end: int
    owner: str = ""
    """Of a column its table, of a roller its web path."""


@dataclass(slots=True)
class Call:
    """A call that is being read: its function and the words that are whole arguments."""

    function: str
    arguments: list[list[int]]
    """For each argument the numbers of its words."""


def offsets(text: str, scalar: Scalar) -> list[int]:
    """For each character of a scalar's value, and for its end, the offset in the text."""
    start, end = scalar.inner
    if scalar.quote in ("", "'", '"') and text[start:end] == scalar.value:
        return list(range(start, end + 1))
    found = walk(Origin("", text), scalar.value, scalar.start, len(scalar.value))
    found += [scalar.end] * (len(scalar.value) + 1 - len(found))
    return [min(one, scalar.end) for one in found]


def words_of(seen: Seen, text: str) -> tuple[Word, ...]:
    """The words of a value; none where the language wants plain text there."""
    if seen.role != "value" or not isinstance(seen.shape, ScalarShape):
        return ()
    value, shape = seen.scalar.value, seen.shape
    if len(value) > LONGEST:
        return ()
    if seen.site == ROUND or shape in (QUANTITY, VALUE):
        found = amount(value)
    elif shape == UNIT:
        lead = len(value) - len(value.lstrip())
        found = [] if value.strip() in ("", "text") else [Word("unit", value.strip(), lead, lead + len(value.strip()))]
    elif shape == TEMPLATE:
        found = slots(value)
    elif shape == FORMULA:
        found = amount(value) or formula(value)
    else:
        return ()
    if not found:
        return ()
    at = offsets(text, seen.scalar)
    return tuple(replace(word, start=at[word.start], end=at[word.end - 1] + 1) for word in found if word.text)


def amount(value: str) -> list[Word]:
    """The unit of a quantity like `0.5 kg`; nothing where it is none."""
    found = AMOUNT.match(value)
    if found is None or not isinstance(parse_unit(found["unit"]), Unit):
        return []
    return [Word("unit", found["unit"], *found.span("unit"))]


def slots(value: str) -> list[Word]:
    """Names and units of the slots of an instruction."""
    found: list[Word] = []
    for slot in SLOT.finditer(value):
        name = slot["name"]
        if name is None or not name.strip():
            continue
        start = slot.start("name") + len(name) - len(name.lstrip())
        found.append(Word("name", name.strip(), start, start + len(name.strip())))
        spec = SPEC.match(slot["spec"] or "")
        if spec is not None and spec["unit"]:
            lead = slot.start("spec")
            found.append(Word("unit", spec["unit"], lead + spec.start("unit"), lead + spec.end("unit")))
    return found


def formula(value: str) -> list[Word]:
    """The words of a formula, whole or not."""
    found: list[Word] = []
    calls: list[Call] = []
    for token in TOKEN.finditer(value):
        sort, written = token.lastgroup, token.group()
        if sort == "sign":
            if written == "(":
                named = (
                    bool(found) and found[-1].sort == "function" and not value[found[-1].end : token.start()].strip()
                )
                calls.append(Call(found[-1].text if named else "", [[]]))
            elif calls and written == ",":
                calls[-1].arguments.append([])
            elif calls:
                place(calls.pop(), found)
            continue
        if sort in (None, "number"):
            continue
        inside = token.group(sort or 0)
        start, end = token.span(sort or 0)
        if sort == "text":
            inside, start = inside[1:].rstrip(inside[:1]), start + 1
            end = start + len(inside)
        if sort == "name":
            if inside in WORDS:
                continue
            if value[token.end() :].lstrip()[:1] == "(" and inside not in CONSTANT_NAMES:
                sort = "function"
            elif inside in CONSTANT_NAMES:
                sort = "constant"
        if calls and calls[-1].arguments:
            calls[-1].arguments[-1].append(len(found))
        found.append(Word(sort or "", inside, start, end))
    for call in reversed(calls):
        place(call, found)
    return found


def place(call: Call, found: list[Word]) -> None:
    """Say of the arguments of a call which are tables, web paths, columns and rollers."""
    known = FUNCTIONS.get(call.function)
    if known is None:
        return
    owner = found[call.arguments[0][0]].text if call.arguments[0] else ""
    for numbers, parameter in zip(call.arguments, known.places(len(call.arguments)), strict=True):
        if len(numbers) != 1:
            continue
        word = found[numbers[0]]
        match parameter.wants, word.sort:
            case "table", "name":
                found[numbers[0]] = replace(word, sort="table")
            case "path", "name":
                found[numbers[0]] = replace(word, sort="web path")
            case "column", "name" | "text":
                found[numbers[0]] = replace(word, sort="column", owner=owner)
            case "roller", "text":
                found[numbers[0]] = replace(word, sort="roller", owner=owner)
            case _:
                pass
