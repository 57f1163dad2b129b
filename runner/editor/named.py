"""Every name of a text: where a thing is defined and where it is named, by the table of meanings.

A name that holds for a part only (a trouble of its step, a value of its state, a column of its table) carries its owner.
Names of fragments are also given as they read once the parameters of one use are put in.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache

from runner.editor.meanings import MEANINGS, SHARED
from runner.editor.outline import outline
from runner.editor.seen import RECORDS, Seen, visit
from runner.editor.tree import Pairs, texts
from runner.editor.words import words_of
from runner.lint.kinds import FRAGMENT, PROCEDURE, kind_of
from runner.procedure.include import DEEPEST, Fetch, replaced

MOST_SHEETS = 200
"""So many uses of fragments are looked into."""

VALUE_WORDS = SHARED | {"value"}
OWNED = frozenset({"state value", "column", "roller", "trouble"})
"""Sorts of things that hold within another only."""


@dataclass(frozen=True, slots=True)
class Named:
    """One name in its place, defined or referred to."""

    sort: str
    name: str
    """As the author wrote it."""
    owner: str
    defines: bool
    start: int
    end: int
    seen: Seen


@dataclass(frozen=True, slots=True)
class Thing:
    """What a name stands for: its sort, its name and within what it holds, parameters put in."""

    sort: str
    name: str
    owner: str

    def is_one_with(self, other: "Thing") -> bool:
        """Whether both are one thing, when they are in one procedure."""
        if self.name != other.name:
            return False
        if self.sort != other.sort and not {self.sort, other.sort} <= VALUE_WORDS:
            return False
        return self.sort not in OWNED or self.owner == other.owner


@dataclass(frozen=True, slots=True)
class Sheet:
    """One text with its names, and what its parameters stand for where a procedure uses it as a fragment."""

    path: str
    text: str
    names: tuple[Named, ...]
    given: Mapping[str, str]

    def meant(self, written: str) -> str:
        """A text with the parameters put in."""
        return replaced(written, dict(self.given))

    def thing(self, named: Named) -> Thing:
        """What a name of this sheet stands for."""
        return Thing(named.sort, self.meant(named.name), self.meant(named.owner))


@lru_cache(maxsize=64)
def seen_in(text: str, kind: str) -> tuple[Seen, ...]:
    """Every scalar of a text of a kind."""
    record = RECORDS.get(kind)
    return () if record is None else tuple(visit(outline(text), record))


@lru_cache(maxsize=64)
def names_in(text: str, kind: str) -> tuple[Named, ...]:
    """All names of a text, in the order of the text."""
    return tuple(named for seen in seen_in(text, kind) for named in names_at(seen, text))


def names_at(seen: Seen, text: str) -> Iterator[Named]:
    """The names that one scalar holds."""
    meaning = MEANINGS.get(seen.site)
    start, end = seen.scalar.inner
    name = seen.scalar.value.strip()
    if meaning is not None:
        if name and not is_no_name(seen, name):
            start += len(text[start:end]) - len(text[start:end].lstrip())
            end = start + len(text[start:end].rstrip())
            yield Named(meaning.sort, name, owner_of(seen, meaning.sort), meaning.defines, start, end, seen)
        if meaning.sort == "step" and meaning.defines and name and has_feed(seen):
            yield Named("feed", f"{name.replace('-', '_')}_fed", "", True, start, end, seen)
        return
    for word in words_of(seen, text):
        if word.sort in ("name", "table", "web path", "column", "roller"):
            yield Named(
                "value" if word.sort == "name" else word.sort, word.text, word.owner, False, word.start, word.end, seen
            )


def is_no_name(seen: Seen, name: str) -> bool:
    """Words of the language that stand where a name may: `optional: reason`, `at_start: unknown`, `accept` and so on."""
    return (name == "reason" and seen.key == "optional") or (name == "unknown" and seen.key in ("at_start", "look"))


def has_feed(seen: Seen) -> bool:
    """Whether the step of an id asks for a length fed, which is a value named after it."""
    step = seen.around("a step")
    return step is not None and isinstance(step.node, Pairs) and step.node.get("advance") is not None


def owner_of(seen: Seen, sort: str) -> str:
    """Within what a name holds; empty where it holds in the whole procedure."""
    match sort:
        case "state value":
            return seen.named_by("states") or str(seen.trail[-1].key)
        case "column":
            return seen.named_by("tables")
        case "roller":
            return seen.named_by("web_paths")
        case "trouble":
            step, entry = seen.around("a step"), seen.around("an entry")
            if step is None and entry is not None and isinstance(entry.node, Pairs):
                return entry.node.text("step")
            return step.node.text("id") if step is not None and isinstance(step.node, Pairs) else ""
        case "parameter":
            use = seen.around("a use of a fragment")
            return use.node.text("use") if use is not None and isinstance(use.node, Pairs) else ""
        case _:
            return ""


def sheets(path: str, text: str, fetch: Fetch) -> tuple[Sheet, ...]:
    """A text, and behind it every use of a fragment that it makes, directly or through others."""
    found = [Sheet(path, text, names_in(text, kind_of(path)), {})]
    if kind_of(path) in (PROCEDURE, FRAGMENT):
        folder = path[: max(path.rfind("/"), path.rfind("\\")) + 1]
        bring(found[0], folder, fetch, found, 0)
    return tuple(found)


def bring(sheet: Sheet, folder: str, fetch: Fetch, found: list[Sheet], depth: int) -> None:
    """Take in the fragments that a sheet uses."""
    if depth > DEEPEST:
        return
    for named in sheet.names:
        if named.sort != "file" or len(found) >= MOST_SHEETS:
            continue
        path = path_of(sheet.meant(named.name), folder)
        text = None if path is None else fetch(path)
        if path is None or text is None:
            continue
        given = {name: sheet.meant(value) for name, value in given_at(named).items()}
        one = Sheet(path, text, names_in(text, FRAGMENT), given)
        found.append(one)
        bring(one, path[: path.rfind("/") + 1], fetch, found, depth + 1)


def path_of(written: str, folder: str) -> str | None:
    """The file that a `use` names; None where the language does not allow the path."""
    parts = [part for part in written.split("/") if part != "."]
    if not written.endswith(".fragment.yaml") or written.startswith(("/", "~")) or "\\" in written or ":" in written:
        return None
    return None if ".." in parts or "" in parts else folder + "/".join(parts)


def given_at(named: Named) -> dict[str, str]:
    """What a use gives for the parameters of its fragment."""
    use = named.seen.around("a use of a fragment")
    given = use.node.get("with") if use is not None and isinstance(use.node, Pairs) else None
    if not isinstance(given, Pairs):
        return {}
    return {pair.key.value.strip(): " ".join(" ".join(texts(pair.value)).split()) for pair in given.pairs}
