"""Rename a thing everywhere it is named: formulas, slots, needs, ways back, fragments, jobs and answers. Words in prose stay.

A rename is whole or is refused with the reason: where a parameter of a fragment makes the name, where another procedure uses
the same fragment, where the new name is taken, or where the text would no longer compile.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from runner.editor.cursor import cursor_at, same
from runner.editor.library import Library, id_of
from runner.editor.meanings import SHARED
from runner.editor.named import Named, Sheet, Thing
from runner.editor.positions import line_of
from runner.formula.functions import FUNCTIONS
from runner.formula.units import UNITS
from runner.lint.kinds import ANSWERS, FRAGMENT, JOB, PROCEDURE, kind_of
from runner.procedure.compile import compile_procedure
from runner.procedure.finding import Severity
from runner.procedure.language.fits import fits
from runner.procedure.language.shape import ID, NAME
from runner.procedure.names import TAKEN
from runner.procedure.source import read

FORMS = {
    "step": ID, "trouble": ID, "caution": ID, "input": NAME, "calculation": NAME, "reading": NAME, "choice": NAME,
    "scan": NAME, "table": NAME, "web path": NAME, "rack": NAME, "state": NAME, "role": NAME,
}  # fmt: skip
"""Sorts of things that can be renamed, with the form of their names."""

WHY_NOT = {
    "parameter": "a fragment's parameter stands in texts and keys as <name>, and every procedure that uses the fragment gives it",
    "state value": "a state's value is a text that may also stand in formulas and answers",
    "column": "a table's column is not renamed from here",
    "roller": "a roller's name is a text that people read",
    "feed": "a length fed is called after its step; rename the step",
    "procedure": "the id of a procedure also stands in the records of its runs",
    "fragment": "a fragment is known by its file's name",
    "file": "rename the file itself",
}
"""Sorts of things that are not renamed, and the reason."""


@dataclass(frozen=True, slots=True)
class Refused:
    """Why a thing is not renamed, in words."""

    words: str


@dataclass(frozen=True, slots=True)
class Renamable:
    """A name that can be renamed, and where it stands."""

    name: str
    start: int
    end: int


@dataclass(frozen=True, slots=True, order=True)
class Edit:
    """One replacement in a text."""

    start: int
    end: int
    new: str


def renamable(library: Library, path: str, offset: int) -> Renamable | Refused:
    """The name at an offset, if it can be renamed."""
    found = thing_at(library, path, offset)
    if isinstance(found, Refused):
        return found
    named = found.named
    return Renamable(named.name, named.start, named.end)


@dataclass(frozen=True, slots=True)
class Found:
    """A thing that can be renamed, with all that it is named by."""

    named: Named
    thing: Thing
    defined: Named
    places: tuple[tuple[Sheet, Named], ...]
    home: Sheet
    sheets: tuple[Sheet, ...]


def thing_at(library: Library, path: str, offset: int) -> Found | Refused:
    """What stands at an offset, with every place that names it."""
    sheets = library.kin(path)
    named = cursor_at(sheets[0], offset).named if sheets else None
    if named is None:
        return Refused("here stands no name of a step, a value or another thing that could be renamed")
    if named.sort in WHY_NOT:
        return Refused(f"`{named.name}` is not renamed: {WHY_NOT[named.sort]}")
    unread = next((words for one in sheets if (words := unreadable(one))), "")
    if unread:
        return Refused(unread)
    places = tuple(same(sheets[0], named, sheets))
    defined = [(sheet, one) for sheet, one in places if one.defines]
    if not defined:
        return Refused(f"nothing called `{named.name}` is defined")
    if len({(sheet.path, one.start) for sheet, one in defined}) > 1:
        lines = " and ".join(dict.fromkeys(where(sheet, one) for sheet, one in defined))
        return Refused(f"`{named.name}` stands for more than one thing: {lines}")
    first = defined[0][1]
    if first.sort in WHY_NOT:
        return Refused(f"`{named.name}` is not renamed: {WHY_NOT[first.sort]}")
    home = next((one for one in sheets if kind_of(one.path) == PROCEDURE), sheets[0])
    found = Found(named, defined[0][0].thing(first), first, places, home, sheets)
    refused = made_or_shared(library, found)
    return refused or found


def unreadable(sheet: Sheet) -> str:
    """Why a text cannot be read; empty where it can."""
    source = read(sheet.text, sheet.path)
    if source.root is not None or not source.findings:
        return ""
    first = source.findings[0]
    return f"{first.place} cannot be read ({first.message}); mend that first, so that no place is missed"


def made_or_shared(library: Library, found: Found) -> Refused | None:
    """Refused where a parameter makes the name, or where a fragment that would change serves others too."""
    for sheet, named in found.places:
        if named.name != found.thing.name or sheet.text[named.start : named.end] != named.name:
            return Refused(
                f"`{found.thing.name}` is not renamed: {where(sheet, named)} makes it from `{named.name}`, "
                "which serves other uses too"
            )
    if found.defined.sort == "step":
        fed = Thing("feed", f"{found.thing.name.replace('-', '_')}_fed", "")
        for sheet in found.sheets:
            for named in sheet.names:
                if not named.defines and sheet.thing(named).is_one_with(fed):
                    return Refused(f"`{fed.name}` is called after the step and used in {where(sheet, named)}")
    called = id_of(found.home.text, PROCEDURE)
    for path in sorted({sheet.path for sheet, _ in found.places if kind_of(sheet.path) in (JOB, ANSWERS)}):
        others = [one for one in library.homes_of(called, path) if one != found.home.path]
        if others:
            return Refused(f"{path} would change, and may be for {others[0]}, which has the same id `{called}`")
    for path in sorted({sheet.path for sheet, _ in found.places if kind_of(sheet.path) == FRAGMENT}):
        others = [one for one in library.users_of(path) if one != found.home.path]
        if others:
            return Refused(f"{path} would change, and {others[0]} uses it too")
    return None


def where(sheet: Sheet, named: Named) -> str:
    """The file and line of a name."""
    return f"{sheet.path}:{line_of(sheet.text, named.start)}"


def rename(library: Library, path: str, offset: int, new: str) -> Mapping[str, tuple[Edit, ...]] | Refused:
    """The replacements by path that rename a thing, or why not."""
    found = thing_at(library, path, offset)
    if isinstance(found, Refused):
        return found
    refused = unfit(new, found)
    if refused is not None:
        return refused
    edits: dict[str, set[Edit]] = {}
    for sheet, named in found.places:
        edits.setdefault(sheet.path, set()).add(Edit(named.start, named.end, new))
    by_path = {name: tuple(sorted(found_edits)) for name, found_edits in edits.items()}
    broken = breaks(library, found, by_path)
    return broken or by_path


def unfit(new: str, found: Found) -> Refused | None:
    """Why a new name cannot be: its form, or that it is taken."""
    sort, form = found.defined.sort, FORMS[found.defined.sort]
    if new == found.thing.name:
        return Refused(f"`{new}` is its name already")
    if not fits(form)(new) or new != new.strip():
        return Refused(f"`{new}` is not {form.what}")
    if sort in SHARED and (new in TAKEN or new in FUNCTIONS or new in UNITS):
        return Refused(f"`{new}` has a meaning of its own in formulas")
    wanted = Thing(sort, new, found.thing.owner)
    feed = Thing("feed", f"{new.replace('-', '_')}_fed", "") if sort == "step" and has_fed(found) else None
    for sheet in found.sheets:
        for named in sheet.names:
            thing = sheet.thing(named)
            if named.defines and (thing.is_one_with(wanted) or (feed is not None and thing.is_one_with(feed))):
                return Refused(f"`{thing.name}` is the name of another {named.sort}: {where(sheet, named)}")
    return None


def has_fed(found: Found) -> bool:
    """Whether the step gives a length fed."""
    return any(one.sort == "feed" and one.start == found.defined.start for one in found.home.names)


def applied(text: str, edits: Sequence[Edit]) -> str:
    """A text with replacements made."""
    for edit in sorted(edits, reverse=True):
        text = text[: edit.start] + edit.new + text[edit.end :]
    return text


def breaks(library: Library, found: Found, edits: Mapping[str, tuple[Edit, ...]]) -> Refused | None:
    """Refused where the procedure compiles now and would not any more."""
    home, fetch = found.home, library.fetch_beside(found.home.path)
    if kind_of(home.path) != PROCEDURE or compile_procedure(home.text, home.path, fetch).procedure is None:
        return None

    def changed(wanted: str) -> str | None:
        text = fetch(wanted)
        return None if text is None else applied(text, edits.get(wanted, ()))

    after = compile_procedure(applied(home.text, edits.get(home.path, ())), home.path, changed)
    if after.procedure is not None:
        return None
    first = next((one for one in after.findings if one.severity is Severity.ERROR), None)
    return Refused("the procedure would no longer compile" + (f": {first.place}: {first.message}" if first else ""))
