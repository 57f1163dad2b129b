"""What to read at a place of a text: the key's help, a name's thing, a unit, a function, a rule's page.

The nearest meaning goes first: the name or word under the cursor, else the help of the key it stands at or behind.
"""

import re
from dataclasses import dataclass, replace

from runner.editor.about import about, about_unit, about_word
from runner.editor.compiled import compiled
from runner.editor.cursor import Cursor, cursor_at, definitions, folder_joined
from runner.editor.extremes import extreme_facts
from runner.editor.help import Help
from runner.editor.library import Library
from runner.editor.named import Named, Sheet
from runner.editor.seen import Seen
from runner.lint.kinds import FRAGMENT, PROCEDURE, kind_of
from runner.lint.pages import entry_of
from runner.procedure.language.shape import Key, Record, key_of
from runner.procedure.reference.keys import shape_text

LINK = re.compile(r"\[([^\]]*)\]\(#[^)]*\)")
UNSURE = "Worst-case values are shown once the procedure compiles."


@dataclass(frozen=True, slots=True)
class Hover:
    """Something to read and the part of the text that it is about."""

    help: Help
    start: int
    end: int


def hover(library: Library, path: str, offset: int) -> Hover | None:
    """What to read at an offset; None where there is nothing to say."""
    sheets = library.about(path)
    if not sheets:
        return None
    at = cursor_at(sheets[0], offset)
    if at.rule:
        page = about_rule(at.rule)
        return None if page is None else Hover(page, at.rule_start, at.rule_start + len(at.rule))
    if at.word is not None and at.word.sort in ("unit", "function", "constant"):
        found = about_unit(at.word.text) if at.word.sort == "unit" else about_word(at.word.text)
        if found is not None:
            return Hover(found, at.word.start, at.word.end)
    if at.named is not None:
        told = about_named(library, at, at.named, sheets)
        if told is not None:
            return Hover(told, at.named.start, at.named.end)
    return hover_key(at)


def about_named(library: Library, at: Cursor, named: Named, sheets: tuple[Sheet, ...]) -> Help | None:
    """The thing that a name stands for."""
    if named.sort == "file":
        return about_file(library, at, named)
    found = definitions(at.sheet, named, sheets)
    if not found:
        return None
    sheet, first = found[0]
    told = about(sheet, first, sheets)
    if first.sort != "calculation":
        return told
    home = next((one for one in sheets if kind_of(one.path) == PROCEDURE), None)
    procedure = None if home is None else compiled(home.path, home.text, library.fetch_beside(home.path))
    if procedure is None:
        return replace(told, parts=(*told.parts, UNSURE))
    return replace(told, facts=(*told.facts, *extreme_facts(procedure, sheet.meant(first.name))))


def about_file(library: Library, at: Cursor, named: Named) -> Help | None:
    """The fragment that a use names."""
    path = folder_joined(at.sheet.path, at.sheet.meant(named.name))
    text = library.fetch_beside(at.sheet.path)(path)
    if text is None:
        return Help(named.name, "fragment", ("There is no such file in the folder of the procedure.",))
    from runner.editor.named import names_in

    steps = sum(one.sort == "step" and one.defines for one in names_in(text, FRAGMENT))
    sheet = Sheet(path, text, names_in(text, FRAGMENT), {})
    own = next((one for one in sheet.names if one.sort == "fragment"), None)
    facts = about(sheet, own, (sheet,)).facts if own is not None else ()
    return Help(named.name, "fragment", (), (*facts, ("steps", str(steps))))


def hover_key(at: Cursor) -> Hover | None:
    """The help of the key that the cursor is at, or behind which it stands."""
    seen = at.seen
    found = None if seen is None else key_at(seen)
    if seen is None or found is None:
        return None
    return Hover(about_key(found), seen.scalar.start, seen.scalar.end)


def key_at(seen: Seen) -> Key | None:
    """The language's key for a place."""
    record = seen.record
    if record is None:
        return None
    if seen.role == "key" and isinstance(seen.trail[-1].shape, Record):
        return key_of(record, seen.scalar.value.strip())
    return key_of(record, seen.key)


def about_key(key: Key) -> Help:
    """A key of the language from its row."""
    shape = LINK.sub(r"\1", shape_text(key.shape))
    needed = "needed" if key.required else "may be left out"
    return Help(key.name, f"{shape} · {needed}", (key.doc,), (), key.example)


def about_rule(name: str) -> Help | None:
    """A rule's page."""
    entry = entry_of(name)
    if entry is None:
        return None
    silenced = "A comment may silence it." if entry.silenceable else "No comment silences it."
    source = (f"Source: {entry.source}",) if entry.source else ()
    example = f"# wrong\n{entry.wrong.rstrip()}\n\n# right\n{entry.right.rstrip()}\n"
    return Help(entry.id, entry.severity.word, (entry.what, f"Why: {entry.why}", *source, silenced), (), example)
