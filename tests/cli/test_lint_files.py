"""Which files lint looks at, how it ends, and that every format leaves the command whole."""

import json
import os
import sys
from pathlib import Path
from xml.etree import ElementTree as ET

import pytest

from runner.cli.files import Unreadable
from runner.cli.linting.found import PASSED_BY, Found, beside, files_of
from runner.lint.kinds import broken_off, unreadable
from runner.lint.output import FORMATS
from runner.lint.pages import entry_of
from tests.lint.examples import whole

from .command import changeover

STDIN = "stdin.procedure.yaml"
GOOD = whole("")
NOTED = whole("").replace("do: ", "do: Slowly ", 1)


def tree(top: Path, *names: str) -> list[str]:
    for name in names:
        (top / name).parent.mkdir(parents=True, exist_ok=True)
        (top / name).write_text(GOOD, encoding="utf-8")
    return [str(top / name) for name in names]


def found_in(*given: object) -> list[str]:
    found = files_of([str(path) for path in given], STDIN)
    assert isinstance(found, Found)
    return list(found.paths)


def test_a_folder_gives_the_files_of_lint_by_their_paths(tmp_path: Path) -> None:
    names = ("a/site.yaml", "a/z.procedure.yaml", "b.job.yaml", "c.fragment.yaml", "d.answers.yaml")
    wanted = tree(tmp_path, *names)
    tree(tmp_path, "README.md", "a/plant.yaml", "a/procedure.yaml.txt")
    assert found_in(tmp_path) == wanted


def test_hidden_folders_and_those_of_others_are_passed_by_unless_named(tmp_path: Path) -> None:
    (kept,) = tree(tmp_path, "own/a.procedure.yaml")
    inside = tree(tmp_path, *(f"{name}/deep/a.procedure.yaml" for name in (".hidden", "env", *sorted(PASSED_BY))))
    (tmp_path / "env" / "pyvenv.cfg").write_text("", encoding="utf-8")
    assert found_in(tmp_path) == [kept]
    for path in inside:
        assert found_in(Path(path).parent.parent) == [path]
        assert found_in(path) == [path]


@pytest.mark.skipif(sys.platform == "win32", reason="links need a privilege there")
def test_links_to_folders_are_followed_once_and_circles_end(tmp_path: Path) -> None:
    tree(tmp_path, "outside/a.procedure.yaml", "top/b.procedure.yaml")
    (tmp_path / "top" / "linked").symlink_to(tmp_path / "outside")
    (tmp_path / "top" / "again").symlink_to(tmp_path / "outside")
    (tmp_path / "outside" / "back").symlink_to(tmp_path / "top")
    (tmp_path / "top" / "self").symlink_to(".")
    found = found_in(tmp_path / "top")
    assert sorted(os.path.realpath(path) for path in found) == sorted(
        os.path.realpath(tmp_path / name) for name in ("outside/a.procedure.yaml", "top/b.procedure.yaml")
    )


def test_a_file_named_twice_is_looked_at_once(tmp_path: Path) -> None:
    (path,) = tree(tmp_path, "a.procedure.yaml")
    assert found_in(path, tmp_path, f"{tmp_path}/./a.procedure.yaml", "-", "-") == [path, "-"]


def test_a_folder_that_cannot_be_read_is_a_finding(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    tree(tmp_path, "open/a.procedure.yaml", "closed/b.procedure.yaml")
    scandir = os.scandir

    def refusing(path: str) -> object:
        if str(path).endswith("closed"):
            raise PermissionError(13, "Permission denied", path)
        return scandir(path)

    monkeypatch.setattr(os, "scandir", refusing)
    found = files_of([str(tmp_path)], STDIN)
    assert isinstance(found, Found)
    assert found.paths == (str(tmp_path / "open" / "a.procedure.yaml"),)
    (finding,) = found.findings
    assert (finding.rule, finding.place.path) == ("unreadable-file", str(tmp_path / "closed"))


def test_a_name_that_lint_does_not_know_is_refused_with_those_it_knows(tmp_path: Path) -> None:
    (path,) = tree(tmp_path, "plant.yaml")
    for given, stdin_name in ((path, STDIN), ("-", "plant.yaml")):
        refused = files_of([given], stdin_name)
        assert isinstance(refused, Unreadable)
        assert "*.procedure.yaml" in refused.words


def test_standard_input_goes_by_its_name_and_finds_the_fragments_beside_it(tmp_path: Path) -> None:
    using = whole("phases:\n  - phase: Lift\n    steps:\n      - {use: part.fragment.yaml}\n")
    (tmp_path / "part.fragment.yaml").write_text(
        "fragment: 1\nid: part\ntitle: Part\nsteps:\n  - {id: one, by: unwind, doo: Stop.}\n", encoding="utf-8"
    )
    name = tmp_path / "typed.procedure.yaml"
    done = changeover("lint", "-", "--stdin-filename", name, "--json", given=using)
    assert (done.code, {row["path"] for row in done.data}) == (1, {str(tmp_path / "part.fragment.yaml")})
    job = changeover("lint", "-", "--stdin-filename", "x.job.yaml", "--json", given="job: 1\ncrow: {}\n")
    assert {row["path"] for row in job.data} == {"x.job.yaml"}


def test_the_fail_level_alone_decides_the_exit_code(tmp_path: Path) -> None:
    note = tmp_path / "note.procedure.yaml"
    note.write_text(NOTED, encoding="utf-8")
    broken = tmp_path / "broken.procedure.yaml"
    broken.write_text("format: 1\n", encoding="utf-8")
    codes = {
        level: [changeover("lint", path, "--fail-level", level).code for path in (note, broken)]
        for level in ("error", "warning", "note", "never")
    }
    assert codes == {"error": [0, 1], "warning": [0, 1], "note": [1, 1], "never": [0, 0]}
    junit = changeover("lint", note, "--fail-level", "note", "--format", "junit").out
    assert len(ET.fromstring(junit).findall(".//failure")) >= 1


@pytest.mark.parametrize("form", FORMATS)
def test_every_format_is_printed_with_findings_and_without(form: str, tmp_path: Path) -> None:
    (good,) = tree(tmp_path, "good.procedure.yaml")
    (tmp_path / "µ 1,2.procedure.yaml").write_text(NOTED, encoding="utf-8")
    for path, code in ((good, 0), (str(tmp_path), 0)):
        done = changeover("lint", path, "--format", form, PYTHONIOENCODING="ascii")
        assert (done.code, done.out.isascii()) == (code, True), done.err
        if form in ("json", "sarif"):
            json.loads(done.out)
        if form == "junit":
            ET.fromstring(done.out)


def test_build_servers_get_paths_from_the_folder_they_run_in(tmp_path: Path) -> None:
    (tmp_path / "line 3").mkdir()
    path = tmp_path / "line 3" / "a.procedure.yaml"
    path.write_text(NOTED, encoding="utf-8")
    outside = changeover("lint", path, "--format", "sarif", cwd=tmp_path / "line 3").data
    inside = changeover("lint", path, "--format", "sarif", cwd=tmp_path).data
    uris = [log["runs"][0]["artifacts"][0]["location"]["uri"] for log in (inside, outside)]
    assert uris == ["line%203/a.procedure.yaml", "a.procedure.yaml"]
    github = changeover("lint", path, "--format", "github", cwd=tmp_path)
    assert github.out.startswith("::notice file=line 3/a.procedure.yaml,line=")
    assert changeover("lint", path, "--json", cwd=tmp_path).data[0]["path"] == str(path)


def test_a_path_outside_the_folder_stays_whole(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "here").mkdir()
    monkeypatch.chdir(tmp_path / "here")
    assert beside("a.yaml") == "a.yaml"
    assert beside("./b/../a.yaml") == "a.yaml"
    assert beside("../a.yaml") == (tmp_path / "a.yaml").as_posix()
    assert beside(f"{tmp_path}/hereafter/a.yaml") == (tmp_path / "hereafter" / "a.yaml").as_posix()


def test_what_the_command_finds_by_itself_has_a_page() -> None:
    for finding in (unreadable("a.job.yaml", "no permission"), broken_off("a.job.yaml", "KeyError: x")):
        entry = entry_of(finding.rule)
        assert entry is not None
        assert entry.severity is finding.severity
    assert "look-broken-off (error)" in changeover("explain", "look-broken-off").out
