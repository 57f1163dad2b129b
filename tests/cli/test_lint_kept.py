"""What is kept of an earlier look: used only where a new look could find nothing else, and never in the way."""

import os
from collections.abc import Callable
from pathlib import Path

import pytest

from runner.cli.linting import kept as module
from runner.cli.linting.kept import Kept, Known, Needed, program_now
from runner.procedure.finding import Finding, Place, Severity
from tests.lint.examples import whole

from .command import Done, changeover

NAME = "a.procedure.yaml"
FINDING = Finding("vague-words", Severity.NOTE, "what is ‹slowly›?", Place(NAME, 3, 7), "Say it.", ("one", "two"))
FRAGMENT = "fragment: 1\nid: part\ntitle: Part\nsteps:\n  - {id: one, by: unwind, do: Stop it.}\n"
USING = whole("phases:\n  - phase: Lift\n    park: after\n    steps:\n      - {use: part.fragment.yaml}\n")


def nothing(path: str) -> str | None:
    return None


def gives(text: str | None) -> Callable[[str], str | None]:
    return lambda _: text


@pytest.fixture
def kept(tmp_path: Path) -> Kept:
    return Kept(str(tmp_path / "deep" / "kept"), "program 1")


def test_what_is_kept_comes_back_as_it_was(kept: Kept) -> None:
    assert kept.known(NAME, "text", nothing) is None
    known = Known((FINDING,), (Needed("part", "its text"), Needed("gone", None)))
    kept.keep(NAME, "text", known)
    assert kept.known(NAME, "text", {"part": "its text"}.get) == known
    assert kept.note == ""


@pytest.mark.parametrize(
    ("program", "name", "text", "fragment"),
    [
        ("program 2", NAME, "text", "its text"),
        ("program 1", "b.procedure.yaml", "text", "its text"),
        ("program 1", NAME, "text ", "its text"),
        ("program 1", NAME, "text", "its text "),
        ("program 1", NAME, "text", None),
    ],
)
def test_nothing_is_known_of_another_program_name_text_or_fragment(
    kept: Kept, program: str, name: str, text: str, fragment: str | None
) -> None:
    kept.keep(NAME, "text", Known((FINDING,), (Needed("part", "its text"),)))
    assert Kept(kept.folder, program).known(name, text, gives(fragment)) is None


def test_a_fragment_that_has_come_since_is_noticed(kept: Kept) -> None:
    kept.keep(NAME, "text", Known((), (Needed("part", None),)))
    assert kept.known(NAME, "text", nothing) is not None
    assert kept.known(NAME, "text", gives("")) is None


@pytest.mark.parametrize("at", [0, 40, 64, 65, 70, -1])
def test_a_damaged_entry_is_not_used_and_said(kept: Kept, at: int) -> None:
    kept.keep(NAME, "text", Known((FINDING,), ()))
    (path,) = Path(kept.folder).iterdir()
    content = bytearray(path.read_bytes())
    content[at] ^= 1
    path.write_bytes(content)
    assert kept.known(NAME, "text", nothing) is None
    assert "damaged" in kept.note


@pytest.mark.parametrize("length", [0, 10, 65, 100])
def test_a_torn_entry_is_not_used_and_said(kept: Kept, length: int) -> None:
    kept.keep(NAME, "text", Known((FINDING,), ()))
    (path,) = Path(kept.folder).iterdir()
    path.write_bytes(path.read_bytes()[:length])
    assert kept.known(NAME, "text", nothing) is None
    assert "damaged" in kept.note


def test_a_folder_that_is_none_is_said_and_changes_nothing(tmp_path: Path) -> None:
    path = tmp_path / "a.procedure.yaml"
    path.write_text(whole("").replace("do: ", "do: Slowly ", 1), encoding="utf-8")
    in_the_way = tmp_path / "file"
    in_the_way.write_text("", encoding="utf-8")
    plain = changeover("lint", path, "--no-cache")
    done = changeover("lint", path, "--cache-dir", in_the_way)
    assert (done.code, done.out) == (plain.code, plain.out)
    assert done.err.startswith(plain.err)
    assert f"changeover: {in_the_way}: nothing was kept" in done.err


def test_an_entry_is_written_whole_or_not_at_all(kept: Kept, monkeypatch: pytest.MonkeyPatch) -> None:
    def failing(source: str, target: str) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "replace", failing)
    kept.keep(NAME, "text", Known((FINDING,), ()))
    assert "No space left" in kept.note
    assert list(Path(kept.folder).iterdir()) == []


def test_the_oldest_entries_go_when_there_are_too_many(kept: Kept, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(module, "MOST", 8)
    kept.trim()  # there is no folder yet
    for number in range(9):
        kept.keep(NAME, f"text {number}", Known((), ()))
        os.utime(kept.path_of(NAME, f"text {number}"), (number, number))
    kept.trim()
    left = [number for number in range(9) if kept.known(NAME, f"text {number}", nothing)]
    assert left == [3, 4, 5, 6, 7, 8]
    assert kept.note == ""


def test_another_module_of_the_program_is_another_program(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    place = tmp_path / "runner" / "cli" / "linting"
    place.mkdir(parents=True)
    monkeypatch.setattr(module, "__file__", str(place / "kept.py"))
    seen = {program_now()}
    for change in ("a.py", "cli/b.py", "cli/c.txt"):
        (tmp_path / "runner" / change).write_text("", encoding="utf-8")
        seen.add(program_now())
    (tmp_path / "runner" / "a.py").write_text("1", encoding="utf-8")
    seen.add(program_now())
    assert len(seen) == 4  # the text file is no part of the program


def lint(path: Path, folder: Path, *more: str) -> Done:
    return changeover("lint", path, "--cache-dir", folder, *more)


def test_the_second_look_says_the_same_until_a_fragment_changes(tmp_path: Path) -> None:
    path, part, folder = tmp_path / NAME, tmp_path / "part.fragment.yaml", tmp_path / "kept"
    path.write_text(USING, encoding="utf-8")
    part.write_text(FRAGMENT.replace("Stop it", "Stop it slowly"), encoding="utf-8")
    first, second = lint(path, folder), lint(path, folder)
    assert first == second
    assert "vague-words" in first.out
    assert "Stop it slowly" in first.out  # the line of the fragment
    assert len(list(folder.iterdir())) == 1
    part.write_text(FRAGMENT, encoding="utf-8")
    assert "vague-words" not in lint(path, folder).out
    part.unlink()
    assert "fragment-missing" in lint(path, folder).out


def test_an_entry_is_what_the_second_look_uses(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path, folder = tmp_path / NAME, tmp_path / "kept"
    path.write_text(whole(""), encoding="utf-8")
    lint(path, folder)
    (entry,) = folder.iterdir()
    planted = Known((FINDING._replace(place=Place(str(path), 1, 1)),), ())
    kept = Kept(str(folder), "")
    monkeypatch.setattr(Kept, "path_of", lambda *_: str(entry))  # plants an entry where the command looks
    kept.keep(str(path), "", planted)
    assert "what is ‹slowly›?" in lint(path, folder).out
    assert "what is" not in lint(path, folder, "--no-cache").out
