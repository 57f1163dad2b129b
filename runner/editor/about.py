"""What is to be said of a thing from the text that defines it, whether the whole text compiles or not.

One table says for each sort of thing which keys of its definition are facts about it; the words are the author's own.
"""

from collections.abc import Sequence

from runner.editor.help import Help
from runner.editor.named import Named, Sheet
from runner.editor.tree import Entries, Pairs, Scalar, Tree, texts
from runner.formula.dimension import bases, describe
from runner.formula.functions import FUNCTIONS
from runner.formula.functions.constants import CONSTANTS
from runner.formula.functions.row import Function
from runner.formula.units import COMMON_SLIPS, Unit, parse_unit

MOST_STEPS = 8
"""So many steps are named that need or make a state."""

FACTS: dict[str, tuple[tuple[str, str], ...]] = {
    "role": (("", "who"),),
    "caution": (("signal", "signal"), ("hazard", "hazard"), ("harm", "harm"), ("avoid", "avoid")),
    "input": (
        ("ask", "asked as"), ("unit", "unit"), ("within", "allowed"), ("likely", "likely"), ("choose", "choices"),
        ("why", "why"),
    ),
    "table": (("columns", "columns"),),
    "column": (("", "holds"),),
    "rack": (("unit", "unit"), ("stock", "pieces")),
    "web path": (("rollers", "rollers"),),
    "roller": (
        ("at", "centre"), ("diameter", "diameter"), ("pass", "web passes"), ("moves", "moves"), ("travel", "travel"),
    ),
    "state": (
        ("label", "called"), ("of", "values"), ("at_start", "at the start"), ("at_end", "at the end"),
        ("one_owner", "one owner"), ("keeps", "keeps through a pause"),
    ),
    "state value": (),
    "calculation": (
        ("formula", "formula"), ("unit", "unit"), ("limit", "limit"), ("round", "rounded"), ("split", "pieces for"),
        ("from", "from the rack"), ("ends", "ends"), ("within", "tolerance"), ("uneven", "ends may differ by"),
        ("gives", "gives"), ("release", "accepted by"), ("why", "why"),
    ),
    "reading": (
        ("ask", "asked as"), ("unit", "unit"), ("within", "allowed"), ("at_least", "at least"), ("at_most", "at most"),
        ("likely", "likely"), ("else", "out of limits"),
    ),
    "choice": (("ask", "asked as"), ("of", "answers"), ("accept", "accepted"), ("match", "equals"), ("else", "otherwise")),
    "scan": (("ask", "asked as"), ("match", "equals"), ("else", "otherwise")),
    "feed": (("advance", "fed at least"),),
    "step": (
        ("by", "done by"), ("do", "act"), ("needs", "needs"), ("makes", "makes"), ("when", "when"), ("optional", "may be left out by"),
        ("expect", "takes about"),
    ),
    "trouble": (("sign", "sign"), ("do", "act"), ("back_to", "then back to"), ("then", "then")),
    "parameter": (),
    "procedure": (("title", "title"), ("revision", "revision"), ("status", "status"), ("equipment", "equipment")),
    "fragment": (("title", "title"), ("parameters", "parameters")),
}  # fmt: skip
"""By sort of thing: key of its definition (empty: the definition itself), and what the fact is called."""

WHAT = {"reading": "reading", "feed": "length fed, in m", "web path": "web path", "state value": "value of a state"}
"""What a sort is called, where it is not its own name."""


def about(sheet: Sheet, named: Named, sheets: Sequence[Sheet]) -> Help:
    """A definition as something to read."""
    node = body_of(named)
    facts = [(called, shown) for key, called in FACTS.get(named.sort, ()) if (shown := sheet.meant(fact(node, key)))]
    facts += unit_fact(node)
    facts += used_by(sheet, named, sheets)
    what = WHAT.get(named.sort, named.sort)
    step = named.seen.around("a step")
    if named.sort in ("reading", "choice", "scan", "trouble") and step is not None and isinstance(step.node, Pairs):
        what += " of a step"
        facts.append(("step", sheet.meant(step.node.text("id"))))
    if named.owner and named.sort not in ("trouble", "parameter"):
        facts.append(("of", sheet.meant(named.owner)))
    return Help(sheet.meant(named.name), what, (), tuple(facts))


def body_of(named: Named) -> Tree | None:
    """The node that says more of a thing: what stands behind its key, or the record whose id it is."""
    seen = named.seen
    if seen.role == "key":
        return None if seen.pair is None else seen.pair.value
    return next((level.node for level in reversed(seen.trail) if isinstance(level.node, Pairs)), None)


def fact(node: Tree | None, key: str) -> str:
    """One fact in the author's words; empty where the text does not say it."""
    if not key:
        return shown(node)
    found = node.get(key) if isinstance(node, Pairs) else None
    if key == "rollers" and isinstance(found, Entries):
        return ", ".join(f"{one.text('roller')}: {one.text('pass')}" for one in found.entries if isinstance(one, Pairs))
    band = key in ("within", "likely", "travel") and isinstance(found, Entries)
    unit = node.text("unit") if isinstance(node, Pairs) else ""
    if band and len(ends := texts(found)) == 2:
        return f"{ends[0]} to {ends[1]}" + (f" {unit}" if unit not in ("", "1") else "")
    return shown(found)


def shown(node: Tree | None) -> str:
    """A node on one line."""
    match node:
        case Scalar():
            return " ".join(node.value.split())
        case Entries(entries=entries):
            return ", ".join(shown(one) for one in entries)
        case Pairs(pairs=pairs):
            return ", ".join(f"{pair.key.value}: {shown(pair.value)}" for pair in pairs)
        case _:
            return ""


def unit_fact(node: Tree | None) -> list[tuple[str, str]]:
    """What the unit of a definition measures."""
    unit = parse_unit(node.text("unit")) if isinstance(node, Pairs) and node.text("unit") else None
    return [("measures", describe(unit.dimension, unit.text))] if isinstance(unit, Unit) else []


def used_by(sheet: Sheet, named: Named, sheets: Sequence[Sheet]) -> list[tuple[str, str]]:
    """Of a state or a value of it: the steps that need and make it."""
    if named.sort not in ("state", "state value"):
        return []
    thing, facts = sheet.thing(named), []
    for key, called in (("needs", "needed by"), ("makes", "made by")):
        steps: dict[str, None] = {}
        for one in sheets:
            for other in one.names:
                step = other.seen.around("a step")
                fits = other.seen.key == key and not other.defines and step is not None
                if fits and thing.is_one_with(one.thing(other)) and step is not None and isinstance(step.node, Pairs):
                    steps[one.meant(step.node.text("id"))] = None
        names = [name for name in steps if name]
        more = f" and {len(names) - MOST_STEPS} more" if len(names) > MOST_STEPS else ""
        facts += [(called, ", ".join(names[:MOST_STEPS]) + more)] if names else []
    return facts


def about_function(function: Function) -> Help:
    """A function of formulas, from its row."""
    return Help(function.usage, "function", (function.doc,), (("example", function.example),))


def about_word(name: str) -> Help | None:
    """A function or constant by its name."""
    if name in FUNCTIONS:
        return about_function(FUNCTIONS[name])
    constant = CONSTANTS.get(name)
    return None if constant is None else Help(name, "constant", (constant.doc,), (("is", constant.shown),))


def about_unit(text: str) -> Help:
    """A unit: what it measures and its factor."""
    unit = parse_unit(text)
    if not isinstance(unit, Unit):
        hint = COMMON_SLIPS.get(text) or unit.hint
        return Help(text, "no unit", (), (("why", unit.message), *([("instead", hint)] if hint else [])))
    si = bases(unit.dimension)
    facts = []
    if unit.offset:
        facts = [
            ("zero", f"0 {unit.text} = {unit.offset:.10g} {si}"),
            ("step", f"a difference of 1 {unit.text} = {unit.factor:.10g} {si}"),
        ]
    elif unit.text != "1":
        facts = [("factor", f"1 {unit.text} = {unit.factor:.10g}" + (f" {si}" if si != "1" else ""))]
    return Help(unit.text, f"unit of {describe(unit.dimension)}", (), tuple(facts))
