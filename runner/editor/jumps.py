"""Go to definition: from a name to where the thing is defined, from a use of a fragment to its file."""

from dataclasses import dataclass

from runner.editor.cursor import cursor_at, definitions, folder_joined
from runner.editor.library import Library


@dataclass(frozen=True, slots=True)
class Target:
    """A part of a text."""

    path: str
    start: int
    end: int


def definition(library: Library, path: str, offset: int) -> tuple[Target, ...]:
    """Where what stands at an offset is defined; nothing where it is no name or is defined nowhere."""
    sheets = library.about(path)
    if not sheets:
        return ()
    sheet = sheets[0]
    named = cursor_at(sheet, offset).named
    if named is None:
        return ()
    if named.sort == "file":
        fetch = library.fetch_beside(path)
        files = {folder_joined(one.path, one.meant(named.name)) for one in sheets if one.path == path}
        return tuple(Target(file, 0, 0) for file in sorted(files) if fetch(file) is not None)
    if named.sort == "procedure" and not named.defines:
        return tuple(Target(one, 0, 0) for one in library.procedures_called(named.name, path))
    return tuple(Target(one.path, found.start, found.end) for one, found in definitions(sheet, named, sheets))
