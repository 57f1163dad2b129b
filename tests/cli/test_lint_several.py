"""Many files over several processes: the same findings in the same order, and a crash costs one file only."""

import os
import signal
import sys
from pathlib import Path
from typing import Any

import pytest

from runner.cli.linting import several
from runner.cli.linting.look import Looked, Unknown, look, words_of
from runner.cli.linting.several import ENOUGH, look_at_all
from runner.lint import linter
from tests.lint.examples import whole

from .command import changeover

NOTED = whole("").replace("do: ", "do: Slowly ", 1)
MANY = [Unknown(f"{number:03}.procedure.yaml", NOTED) for number in range(ENOUGH + 5)]
linux_only = pytest.mark.skipif(sys.platform != "linux", reason="processes made of this one see what a test plants")


def test_several_processes_find_the_same_in_the_same_order() -> None:
    alone = look_at_all(MANY, None, 1)
    assert [set(looked.texts) for looked in alone] == [{one.name} for one in MANY]
    assert all(looked.findings for looked in alone)
    assert look_at_all(MANY, None, 2) == alone


def test_a_system_without_processes_looks_one_after_the_other(monkeypatch: pytest.MonkeyPatch) -> None:
    def refused(size: int) -> None:
        raise OSError(38, "Function not implemented")

    monkeypatch.setattr(several, "pool", refused)
    assert len(look_at_all(MANY, None, 2)) == len(MANY)


def crashing(monkeypatch: pytest.MonkeyPatch, how: Any) -> None:
    plain = linter.lint

    def lint(text: str, path: str, fetch: Any, options: Any = linter.DEFAULT) -> linter.Linted:
        if path.startswith("010"):
            how()
        return plain(text, path, fetch)

    monkeypatch.setattr(linter, "lint", lint)


def broken(looked: list[Looked]) -> list[int]:
    """The numbers of the files that lint failed on."""
    return [n for n, one in enumerate(looked) if any(f.rule == "look-broken-off" for f in one.findings)]


@pytest.mark.parametrize("jobs", [1, pytest.param(2, marks=linux_only)])
def test_a_fault_of_the_program_is_a_finding_of_the_file(monkeypatch: pytest.MonkeyPatch, jobs: int) -> None:
    def fault() -> None:
        raise KeyError("no such state")

    crashing(monkeypatch, fault)
    looked = look_at_all(MANY, None, jobs)
    assert broken(looked) == [10]
    assert all(one.findings for one in looked)
    (finding,) = looked[10].findings
    assert finding.place == ("010.procedure.yaml", 1, 1)
    assert "KeyError at test_lint_several.py:" in finding.message
    assert finding.hint


@linux_only
def test_a_process_that_dies_costs_its_own_file_only(monkeypatch: pytest.MonkeyPatch) -> None:
    crashing(monkeypatch, lambda: os.kill(os.getpid(), signal.SIGKILL))
    looked = look_at_all(MANY, None, 2)
    assert [next(iter(one.texts)) for one in looked] == [one.name for one in MANY]
    assert broken(looked) == [10]
    assert all(one.findings for one in looked)


def test_a_deep_recursion_is_a_finding_too(monkeypatch: pytest.MonkeyPatch) -> None:
    def deep() -> None:
        deep()

    crashing(monkeypatch, deep)
    (finding,) = look(MANY[10], None).findings
    assert "RecursionError" in finding.message


def test_a_fault_is_told_in_one_short_line() -> None:
    assert words_of(ValueError("x" * 1000)).startswith("ValueError: xxx")
    assert len(words_of(ValueError("x" * 1000))) == 300


def test_the_command_looks_at_many_files_and_counts_them(tmp_path: Path) -> None:
    for one in MANY:
        (tmp_path / one.name).write_text(one.text, encoding="utf-8")
    folder = tmp_path / "kept"
    outs = [
        changeover("lint", tmp_path, "--format", "concise", "--jobs", jobs, "--cache-dir", folder) for jobs in "212"
    ]
    assert outs[0] == outs[1] == outs[2]
    assert outs[0].err.startswith(f"{len(MANY)} files: ")
    files = [Path(line.split(":")[0]).name for line in outs[0].out.splitlines()]
    assert list(dict.fromkeys(files)) == sorted(files)[:: len(files) // len(MANY)] == [one.name for one in MANY]
    for wrong in ("0", "-1", "x", "1000"):
        assert changeover("lint", tmp_path, "--jobs", wrong).code == 2
