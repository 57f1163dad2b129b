"""What the cursor stands at: the scalar, the name in it, the word of a formula, the remark that allows a finding.

Also the way from a name to the things that it may stand for, over all sheets of a procedure.
"""

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from runner.editor.named import Named, Sheet, seen_in
from runner.editor.seen import Seen
from runner.editor.words import Word, words_of
from runner.lint.kinds import kind_of

ALLOWING = re.compile(r"# lint: allow (?P<rule>[^,\n#]*)")


@dataclass(frozen=True, slots=True)
class Cursor:
    """Everything known of one offset; None for what does not stand there."""

    sheet: Sheet
    offset: int
    seen: Seen | None
    named: Named | None
    word: Word | None
    rule: str
    """The rule of an allowing remark; empty elsewhere."""
    rule_start: int


def cursor_at(sheet: Sheet, offset: int) -> Cursor:
    """What stands at an offset; the end of a word still counts as the word."""
    seen = seen_at(sheet, offset)
    named = next((one for one in sheet.names if one.start <= offset <= one.end and one.sort != "feed"), None)
    words = () if seen is None else words_of(seen, sheet.text)
    word = next((one for one in words if one.start <= offset <= one.end), None)
    rule, start = allowed_at(sheet.text, offset)
    return Cursor(sheet, offset, seen, named, word, rule, start)


def seen_at(sheet: Sheet, offset: int) -> Seen | None:
    """The scalar at an offset; where two touch, the one that begins there."""
    at = [one for one in seen_in(sheet.text, kind_of(sheet.path)) if one.scalar.start <= offset <= one.scalar.end]
    return at[-1] if at else None


def allowed_at(text: str, offset: int) -> tuple[str, int]:
    """The rule that a remark in this line allows, and where it stands; empty where the offset is not at it."""
    start = text.rfind("\n", 0, offset) + 1
    end = text.find("\n", offset)
    found = ALLOWING.search(text, start, len(text) if end < 0 else end)
    if found is None or not found.start("rule") <= offset <= found.end("rule"):
        return "", 0
    return found["rule"].strip(), found.start("rule")


def same(sheet: Sheet, named: Named, sheets: Sequence[Sheet]) -> Iterator[tuple[Sheet, Named]]:
    """All names that stand for the same thing, the name itself among them, each place once.

    A name of a fragment stands for a thing of each use of the fragment.
    """
    own = [one for one in sheets if one.path == sheet.path] or [sheet]
    things = [one.thing(named) for one in own]
    told: set[tuple[str, int, str]] = set()
    for one in sheets:
        for other in one.names:
            key = (one.path, other.start, other.sort)
            if key in told or other.sort == "file":
                continue
            if named.sort == "parameter":
                if not parameter_is(sheet, named, one, other):
                    continue
            elif not any(thing.is_one_with(one.thing(other)) for thing in things):
                continue
            told.add(key)
            yield one, other


def parameter_is(sheet: Sheet, named: Named, one: Sheet, other: Named) -> bool:
    """Whether two names are the same parameter of one fragment."""
    if other.sort != "parameter" or other.name != named.name:
        return False
    home = sheet.path if named.defines else folder_joined(sheet.path, named.owner)
    return (one.path if other.defines else folder_joined(one.path, other.owner)) == home


def folder_joined(path: str, written: str) -> str:
    """The file that a text names by a path from its own folder."""
    return path[: path.rfind("/") + 1] + "/".join(part for part in written.split("/") if part != ".")


def definitions(sheet: Sheet, named: Named, sheets: Sequence[Sheet]) -> tuple[tuple[Sheet, Named], ...]:
    """Where the thing that a name stands for is defined."""
    return tuple((one, other) for one, other in same(sheet, named, sheets) if other.defines)
