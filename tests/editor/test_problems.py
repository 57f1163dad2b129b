"""The same findings as the command line, in the right file and under the right word."""

import json
from pathlib import Path

import pytest

from runner.cli.linting.look import today
from runner.editor.library import Library
from runner.editor.positions import position_of
from runner.editor.problems import Board, problems
from runner.lint.kinds import kind_of
from runner.procedure.finding import Severity
from tests.cli.command import changeover
from tests.editor.shelf import DOCUMENTS, PROCEDURES, on_disk

NOT_TEXT = {"not-utf8.procedure.yaml"}
"""Files that no editor can open; the command line says so of them."""


def looked_at(library: Library, paths: list[str]) -> Board:
    board = Board()
    for path in paths:
        text = library.text(path)
        assert text is not None, path
        board.put(path, problems(path, text, library.fetch_beside(path), today()))
    return board


@pytest.mark.parametrize("folder", [DOCUMENTS / "good", DOCUMENTS / "bad", PROCEDURES], ids=lambda one: one.name)
def test_editor_and_command_line_find_the_same(folder: Path) -> None:
    library = on_disk(folder)
    paths = [path for path in library.near(str(folder / "any")) if Path(path).name not in NOT_TEXT]
    assert len(paths) > 10
    board = looked_at(library, paths)
    told = changeover("lint", folder, "--json", "--no-cache", "--fail-level", "never").data
    said = set()
    for row in told:
        path = str((Path.cwd() / row["path"]).resolve())
        if Path(path).name in NOT_TEXT:
            continue
        lines = [row["message"], *([row["hint"]] if "hint" in row else [])]
        lines += [f"{number}. {step}" for number, step in enumerate(row.get("trace", ()), start=1)]
        said.add((path, row["line"], row["column"], row["rule"], row["severity"], "\n".join(lines)))
    shown = set()
    for path in paths:
        text = board.text(path)
        lead = text.startswith("\ufeff")
        for one in board.of(path):
            line, column = position_of(text, one.start, "utf-32")
            place = (line + 1, column + 1 - (lead and line == 0))
            shown.add((path, *place, one.rule, one.severity.word, one.message))
    if folder.name == "bad":  # a lone carriage return ends a line for editors and is a finding for the compiler
        said, shown = (
            {row for row in rows if not row[0].endswith("control-raw.procedure.yaml")} for rows in (said, shown)
        )
    assert shown == said


def test_a_finding_is_underlined_from_its_place_to_the_end_of_the_word() -> None:
    path, text = "/desk/a.procedure.yaml", "format: 1\nid: small\ntitel: Lift\n"
    found = problems(path, text, lambda _: None).problems[path]
    assert "titel" in [text[one.start : one.end] for one in found]
    assert all(one.severity is Severity.ERROR for one in found)


def test_a_finding_of_a_fragment_stands_against_the_fragment_and_goes_with_its_last_user() -> None:
    library = on_disk(DOCUMENTS / "bad")
    user = str(DOCUMENTS / "bad" / "fault-in-fragment.procedure.yaml")
    fragment = str(DOCUMENTS / "bad" / "faulty-side.fragment.yaml")
    board = looked_at(library, [user])
    assert board.of(fragment)
    assert user in library.users_of(fragment)
    assert fragment in board.drop([user])
    assert board.of(fragment) == ()


def test_an_open_text_goes_before_the_one_on_disk() -> None:
    library = on_disk(PROCEDURES)
    path = str(PROCEDURES / "core-chuck.fragment.yaml")
    library.open[path] = "fragment: 1\n"
    user = next(one for one in library.near(path) if one.endswith("change-roll.procedure.yaml"))
    found = problems(user, library.text(user) or "", library.fetch_beside(user))
    assert any(one.severity is Severity.ERROR for one in found.problems.get(path, ())), json.dumps(
        sorted(found.problems)
    )


def test_nothing_outside_the_folder_of_a_procedure_is_fetched() -> None:
    library = on_disk(DOCUMENTS / "good")
    fetch = library.fetch_beside(str(DOCUMENTS / "good" / "alone.procedure.yaml"))
    assert fetch(str(DOCUMENTS / "bad" / "side.fragment.yaml")) is None
    assert fetch(str(DOCUMENTS / "good" / ".." / "bad" / "side.fragment.yaml")) is None
    assert fetch(str(DOCUMENTS / "good" / "inner.fragment.yaml")) is not None
    assert kind_of("a.txt") == ""
