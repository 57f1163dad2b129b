"""What may be written at the cursor: keys, words of the language, names of things, units, functions, files, rules.

The cursor is put into the text as a character of its own, so that the tree says where it stands, whatever is half typed
around it. The tables of the language say what fits there.
"""

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from runner.editor.help import Help
from runner.editor.hovers import about_key, about_rule
from runner.editor.library import Library
from runner.editor.meanings import MEANINGS, VALUES
from runner.editor.named import Sheet
from runner.editor.offers import Offer, choices_of, in_formula, in_quantity, in_slot, in_unit, named_offers
from runner.editor.outline import outline
from runner.editor.seen import RECORDS, Seen, visit
from runner.editor.tree import Entries, Pairs, texts
from runner.editor.words import LONGEST
from runner.lint.kinds import kind_of
from runner.lint.pages import every_rule
from runner.procedure.language.shape import (
    DURATION,
    FLAG,
    FORMULA,
    PATH,
    QUANTITY,
    TEMPLATE,
    UNIT,
    VALUE,
    VERSION_1,
    Either,
    Key,
    ListOf,
    MapOf,
    OneOf,
    Record,
    Scalar,
    Shape,
)

MARK = "\ue000"
"""Stands for the cursor. No meaning is given to this character anywhere."""

WORD = re.compile(r"[A-Za-z0-9_-]*")
REMARK = re.compile(r"(?:^|\s)# lint: allow (?P<typed>[a-z0-9-]*)\Z")
DIGITS = re.compile(r"\s*[0-9.]+ ?(?P<typed>[a-z]*)\Z")
NEEDED, ONE_NEEDED, FREE = 0, 1, 2
"""Ranks of keys."""


@dataclass(frozen=True, slots=True)
class Choice:
    """One offer with the part of the text that it takes the place of."""

    label: str
    sort: str
    detail: str
    help: Help | None
    insert: str
    rank: int
    start: int
    end: int


def completions(library: Library, path: str, offset: int) -> tuple[Choice, ...]:
    """Everything that may be written at an offset, best first; what is typed already is left to the editor to match."""
    text, kind = library.text(path), kind_of(path)
    if text is None or kind not in RECORDS:
        return ()
    after = WORD.match(text, offset)
    end = after.end() if after else offset
    line = text[text.rfind("\n", 0, offset) + 1 : offset]
    remark = REMARK.search(line)
    if remark is not None:
        offers = in_remark(len(remark["typed"]))
    else:
        marked = text[:offset] + MARK + text[offset:]
        tree = outline(marked)
        here = [one for one in visit(tree, RECORDS[kind]) if one.scalar.start <= offset < one.scalar.end]
        if not here:
            return ()
        colon = text[end : end + 1] == ":"
        offers = at_scalar(here[-1], library, path, colon)
    found = [
        Choice(
            one.label,
            one.sort,
            one.detail,
            one.help,
            one.insert or one.label,
            one.rank,
            max(0, offset - one.typed),
            end,
        )
        for one in offers
    ]
    return tuple(sorted(found, key=lambda one: one.rank))


def in_remark(typed: int) -> Iterator[Offer]:
    """The rules that a remark may allow."""
    for entry in every_rule():
        if entry.silenceable:
            yield Offer(entry.id, "rule", typed, entry.what, about_rule(entry.id), f"{entry.id}, ")


def at_scalar(seen: Seen, library: Library, path: str, colon: bool) -> Iterator[Offer]:
    """What may stand for the scalar that holds the cursor."""
    prefix = seen.scalar.value.partition(MARK)[0].lstrip()
    if len(prefix) > LONGEST:
        return
    if seen.role == "key":
        holder = seen.trail[-1]
        assert isinstance(holder.node, Pairs)  # a key stands in a map
        yield from keys_of(holder.shape, holder.node, seen, library, path, prefix, colon)
        return
    shape = seen.shape
    if isinstance(shape, Record | MapOf):
        shape = either_in(seen.trail[-1].shape if seen.trail else None) or shape
        yield from keys_of(shape, None, seen, library, path, prefix, colon)
        return
    sheets = library.about(path)
    yield from of_meaning(seen, sheets, prefix)
    yield from of_shape(seen, shape, sheets, prefix, library, path)


def keys_of(
    shape: Shape | None, node: Pairs | None, seen: Seen, library: Library, path: str, prefix: str, colon: bool
) -> Iterator[Offer]:
    """The keys that a map may have besides those that it has."""
    there = [] if node is None else [pair.key.value for pair in node.pairs if MARK not in pair.key.value]
    braces = node is not None and node.braces
    match shape:
        case Record():
            yield from record_keys(shape, there, prefix, braces, colon)
            either = either_in(seen.trail[-2].shape if len(seen.trail) > 1 and node is not None else None)
            if either is not None and not there and shape == either.without:
                yield from record_keys(either.has, there, prefix, braces, colon, only=either.telltale)
        case Either(telltale=telltale, has=has, without=without):
            yield from record_keys(without, there, prefix, braces, colon)
            yield from record_keys(has, there, prefix, braces, colon, only=telltale)
        case MapOf():
            yield from chosen_keys(seen, node, library, path, prefix, there, colon)
        case _:
            return


def either_in(holder: Shape | None) -> Either | None:
    """The two records between which an entry of a list or a value of a map chooses, where it does."""
    inner = holder.of if isinstance(holder, ListOf) else holder.value if isinstance(holder, MapOf) else None
    return inner if isinstance(inner, Either) else None


def record_keys(
    record: Record, there: list[str], prefix: str, braces: bool, colon: bool, only: str = ""
) -> Iterator[Offer]:
    """The keys of a record: needed ones first, none that another excludes."""
    excluded = {
        key
        for group in record.groups
        if group.rule != "at least one"
        for key in group.keys
        if any(one in there for one in group.keys)
    }
    one_of = {
        key
        for group in record.groups
        if group.rule != "at most one"
        for key in group.keys
        if not any(one in there for one in group.keys)
    }
    for key in record.keys:
        if key.name in there or key.name in excluded or (only and key.name != only):
            continue
        rank = NEEDED if key.required and not only else ONE_NEEDED if key.name in one_of else FREE
        needed = {NEEDED: "needed", ONE_NEEDED: "one of these is needed", FREE: "may be left out"}[rank]
        yield Offer(key.name, "key", len(prefix), needed, about_key(key), inserted(key, braces, colon), rank)


def inserted(key: Key, braces: bool, colon: bool) -> str:
    """A key as it is put in."""
    if colon:
        return key.name
    below = isinstance(key.shape, Record | MapOf | ListOf) and not braces and not getattr(key.shape, "alone", False)
    return f"{key.name}:" if below else f"{key.name}: "


def chosen_keys(
    seen: Seen, node: Pairs | None, library: Library, path: str, prefix: str, there: list[str], colon: bool
) -> Iterator[Offer]:
    """The names that may be keys of a map whose keys an author chooses: states, inputs, roles and so on."""
    record, key, _ = seen.site
    if node is None and seen.role == "value":
        record, key = ("" if seen.record is None else seen.record.name), seen.key
    meaning = MEANINGS.get((record, key, "key"))
    if meaning is None or meaning.defines:
        return
    use = seen.around("a use of a fragment")
    if meaning.sort == "parameter" and use is not None and isinstance(use.node, Pairs):
        written = use.node.text("use")
        found = [one for one in library.about(path) if one.path.endswith("/" + written) or one.path == written][:1]
    else:
        found = list(library.about(path))
    sorts = VALUES if meaning.sort == "value" else {meaning.sort}
    for offer in named_offers(found, sorts, len(prefix)):
        if offer.label not in there:
            name = offer.insert or offer.label
            yield Offer(offer.label, "name", offer.typed, offer.detail, None, name if colon else f"{name}: ")


def of_meaning(seen: Seen, sheets: Sequence[Sheet], prefix: str) -> Iterator[Offer]:
    """The things that may be named here."""
    meaning = MEANINGS.get(seen.site)
    typed = len(prefix)
    if seen.site == ("a choice", "accept", "value"):
        choice = seen.around("a choice")
        for text in texts(choice.node.get("of")) if choice is not None and isinstance(choice.node, Pairs) else ():
            yield Offer(text, "word", typed, "answer")
    if seen.record is not None and seen.record.name in ("a job", "an answers file") and seen.key == "inputs":
        yield from choices_of(str(seen.trail[-1].key), sheets, typed)
    if meaning is None or meaning.defines:
        return
    match meaning.sort:
        case "state value":
            state = seen.named_by("states") or str(seen.trail[-1].key)
            yield from named_offers(sheets, {"state value"}, typed, state)
            if seen.key in ("at_start", "look"):
                yield Offer("unknown", "word", typed, "nobody vouches for it")
        case "trouble":
            step = seen.around("a step") or seen.around("an entry")
            key = "id" if seen.around("a step") else "step"
            owner = step.node.text(key) if step is not None and isinstance(step.node, Pairs) else ""
            own = [sheet.meant(owner) for sheet in sheets[:1]]
            yield from named_offers(sheets, {"trouble"}, typed, own[0] if own else owner)
        case "step":
            within = steps_before(seen, sheets)
            for offer in named_offers(sheets, {"step"}, typed):
                if within is None or offer.label in within:
                    yield offer
        case "value":
            yield from named_offers(sheets, VALUES, typed)
        case "file":
            return
        case sort:
            yield from named_offers(sheets, {sort}, typed)
            if seen.site == ("a step", "optional", "value"):
                yield Offer("reason", "word", typed, "may be left out with a reason")


def steps_before(seen: Seen, sheets: Sequence[Sheet]) -> frozenset[str] | None:
    """The steps that a way back may lead to: of the same list, this one and those before it; None where any may be named."""
    number = next(
        (n for n, one in enumerate(seen.trail) if isinstance(one.shape, Record) and one.shape.name == "a step"), -1
    )
    held = seen.trail[number - 1] if number > 0 else None
    if held is None or not isinstance(held.node, Entries) or not isinstance(held.key, int):
        return None
    found: set[str] = set()
    for entry in held.node.entries[: held.key + 1]:
        if not isinstance(entry, Pairs):
            continue
        use = entry.text("use")
        for sheet in sheets if use else ():
            if sheet.path.endswith("/" + use) or sheet.path == use:
                found |= {sheet.meant(one.name) for one in sheet.names if one.sort == "step" and one.defines}
        found |= {sheet.meant(entry.text("id")) for sheet in sheets[:1]}
    return frozenset(found)


def of_shape(
    seen: Seen, shape: Shape | None, sheets: Sequence[Sheet], prefix: str, library: Library, path: str
) -> Iterator[Offer]:
    """Words that the shape of the place allows."""
    typed = len(prefix)
    match shape:
        case OneOf(words=words):
            for number, word in enumerate(words):
                yield Offer(word, "word", typed, rank=number)
        case Scalar():
            if shape == FLAG:
                yield from (Offer(word, "word", typed) for word in ("true", "false"))
            elif shape == VERSION_1:
                yield Offer("1", "word", typed)
            elif shape == UNIT:
                if seen.key == "columns":
                    yield Offer("text", "word", typed, "a column of texts")
                yield from in_unit(prefix)
            elif shape == FORMULA:
                yield from in_formula(prefix, sheets)
            elif shape == TEMPLATE:
                yield from in_slot(prefix, sheets)
            elif shape in (QUANTITY, VALUE) or seen.key == "round":
                yield from in_quantity(prefix)
            elif shape == DURATION:
                found = DIGITS.match(prefix)
                for unit in ("s", "min", "h") if found else ():
                    yield Offer(unit, "unit", len(found["typed"]) if found else 0)
            elif shape == PATH:
                for name in library.fragments_near(path):
                    yield Offer(name, "file", typed, "fragment")
        case _:
            return
