"""The texts that an editor knows: those that are open as they stand in it, all others as they lie on disk.

Reading, listing and the true path of a file come in as functions. What a name of one text means may stand in others: the
fragments that a procedure uses, the procedures that use a fragment, the procedure that a job is for.
"""

from collections.abc import Callable
from dataclasses import dataclass, field

from runner.editor.named import Sheet, names_in, path_of, sheets
from runner.lint.kinds import ANSWERS, FRAGMENT, JOB, PROCEDURE, SCENARIO, kind_of
from runner.procedure.include import Fetch

MOST_FILES = 2000
"""So many files of a folder are looked at."""


@dataclass(slots=True)
class Library:
    """Open texts by their paths, and the way to all others."""

    read: Callable[[str], str | None]
    """The text of a file, None where there is none or it cannot be read."""
    listing: Callable[[str], tuple[str, ...]]
    """The files of a folder and of those in it that lint knows, by whole path."""
    real: Callable[[str], str]
    """The true path of a file, links followed."""
    open: dict[str, str] = field(default_factory=dict)
    folders: list[str] = field(default_factory=list)
    """Those that are open in the editor."""

    def text(self, path: str) -> str | None:
        """The text at a path as the editor has it."""
        found = self.open.get(path)
        return self.read(path) if found is None else found

    def fetch_beside(self, path: str) -> Fetch:
        """A function that gives fragments in the folder of a file, and nothing outside of it."""
        folder = self.real(folder_of(path) or ".").rstrip("/")
        if kind_of(path) == SCENARIO:
            folder = folder_of(folder).rstrip("/")  # its procedure lies beside it or one folder up

        def fetch(wanted: str) -> str | None:
            if not self.real(wanted).startswith(folder + "/"):
                return None
            return self.text(wanted)

        return fetch

    def near(self, path: str) -> tuple[str, ...]:
        """The files of lint's kinds in the editor's folder that a file is in; of its own folder where it is in none."""
        folders = [one for one in self.folders if path.startswith(one.rstrip("/") + "/")]
        folder = max(folders, key=len) if folders else folder_of(path)
        there = self.listing(folder)[:MOST_FILES]
        opened = [one for one in tuple(self.open) if one.startswith(folder.rstrip("/") + "/") and one not in there]
        return (*there, *sorted(opened))

    def users_of(self, fragment: str) -> tuple[str, ...]:
        """The procedures that use a fragment, directly or through others."""
        name = fragment[fragment.rfind("/") + 1 :]
        found = []
        for path in self.near(fragment):
            text = self.text(path) if kind_of(path) == PROCEDURE and fragment.startswith(folder_of(path)) else None
            if text is None or (name not in text and ".fragment.yaml" not in text):
                continue
            if any(sheet.path == fragment for sheet in sheets(path, text, self.fetch_beside(path))[1:]):
                found.append(path)
        return tuple(found)

    def procedures_called(self, name: str, path: str) -> tuple[str, ...]:
        """The procedures with an id, those nearest to a file first."""
        found = [
            one
            for one in self.near(path)
            if kind_of(one) == PROCEDURE and id_of(self.text(one) or "", PROCEDURE) == name
        ]
        return tuple(sorted(found, key=lambda one: (folder_of(one) != folder_of(path), one)))

    def homes_of(self, name: str, path: str) -> tuple[str, ...]:
        """The procedures that a job or answers may be for: one of that id in its own folder, else any of that id."""
        called = self.procedures_called(name, path)
        beside = tuple(one for one in called if folder_of(one) == folder_of(path))
        return beside or called

    def about(self, path: str) -> tuple[Sheet, ...]:
        """The sheets that say what the names of a text mean: of the procedure that it is, is used by, or is for.

        The text's own sheet comes first, also where it is a fragment; for that there is one sheet for each use.
        """
        text = self.text(path)
        if text is None:
            return ()
        own = Sheet(path, text, names_in(text, kind_of(path)), {})
        match kind_of(path):
            case ".procedure.yaml":
                return sheets(path, text, self.fetch_beside(path))
            case ".fragment.yaml":
                homes = self.users_of(path)[:1]
            case _:
                meant = next((one.name for one in own.names if one.sort == "procedure"), "")
                homes = self.homes_of(meant, path)[:1] if meant else ()
        if not homes:
            return sheets(path, text, self.fetch_beside(path))
        home = sheets(homes[0], self.text(homes[0]) or "", self.fetch_beside(homes[0]))
        return (
            *(one for one in home if one.path == path),
            *([own] if kind_of(path) != FRAGMENT else []),
            *(one for one in home if one.path != path),
        )

    def kin(self, path: str) -> tuple[Sheet, ...]:
        """The sheets about a text, and the jobs and answers for the same procedure."""
        found = self.about(path)
        home = next((one for one in found if kind_of(one.path) == PROCEDURE), None)
        called = "" if home is None else id_of(home.text, PROCEDURE)
        if home is None:
            return found
        there = {one.path for one in found}
        for other in self.near(home.path):
            kind, text = kind_of(other), self.text(other) if kind_of(other) in (JOB, ANSWERS) else None
            if text is None or other in there:
                continue
            names = names_in(text, kind)
            meant = any(one.sort == "procedure" and one.name == called for one in names)
            if meant and home.path in self.homes_of(called, other):
                found = (*found, Sheet(other, text, names, {}))
        return found

    def fragments_near(self, path: str) -> tuple[str, ...]:
        """The fragments that a text may use, as it would write them."""
        folder = folder_of(path)
        names = [
            one[len(folder) :]
            for one in self.near(path)
            if kind_of(one) == FRAGMENT and one.startswith(folder) and one != path
        ]
        return tuple(name for name in names if path_of(name, "") is not None)


def folder_of(path: str) -> str:
    """The folder of a file with its last slash."""
    return path[: path.rfind("/") + 1]


def id_of(text: str, kind: str) -> str:
    """The id of a procedure or fragment."""
    wanted = "procedure" if kind == PROCEDURE else "fragment"
    return next((one.name for one in names_in(text, kind) if one.sort == wanted and one.defines), "")
