"""The extra `editor`: only one file needs it, and where it is missing the command says what to install."""

import ast
import subprocess
import sys

import pytest

from tests.editor.shelf import ROOT

EDITOR = ROOT / "runner" / "editor"
PROTOCOL = {"pygls", "lsprotocol", "cattrs", "attrs"}
CODE = """
import sys
class Blocked:
    def find_spec(self, name, path=None, target=None):
        if name.split(".")[0] in {"pygls", "lsprotocol"}:
            raise ModuleNotFoundError(f"No module named {name!r}", name=name)
sys.meta_path.insert(0, Blocked())
from runner.cli.main import main
sys.exit(main(sys.argv[1:]))
"""


def imported(text: str) -> set[str]:
    found: set[str] = set()
    for node in ast.walk(ast.parse(text)):
        if isinstance(node, ast.Import):
            found |= {alias.name.partition(".")[0] for alias in node.names}
        elif isinstance(node, ast.ImportFrom) and node.module:
            found.add(node.module.partition(".")[0])
    return found


def test_only_one_file_imports_the_protocol() -> None:
    users = [
        path.name
        for path in sorted((ROOT / "runner").rglob("*.py"))
        if imported(path.read_text(encoding="utf-8")) & PROTOCOL
    ]
    assert users == ["server.py"]


@pytest.mark.parametrize("arguments", [("serve-editor",), ("serve-editor", "--stdio")])
def test_without_the_extra_the_command_says_what_to_install(arguments: tuple[str, ...]) -> None:
    done = subprocess.run(
        [sys.executable, "-c", CODE, *arguments],
        capture_output=True,
        text=True,
        cwd=ROOT,
        input="",
        check=False,
        timeout=60,
    )
    assert done.returncode == 2
    assert "changeover-runner[editor]" in done.stderr
    assert "Traceback" not in done.stderr
    assert done.stdout == ""


def test_its_help_needs_no_extra() -> None:
    done = subprocess.run(
        [sys.executable, "-c", CODE, "serve-editor", "--help"],
        capture_output=True,
        text=True,
        cwd=ROOT,
        check=False,
        timeout=60,
    )
    assert done.returncode == 0
    assert "standard input" in done.stdout


def test_the_editor_sees_neither_runs_nor_screens_nor_the_command_line() -> None:
    forbidden = ("runner.record", "runner.report", "runner.training", "runner.screen", "runner.cli", "textual")
    for path in sorted(EDITOR.glob("*.py")):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            named = [node.module or ""] if isinstance(node, ast.ImportFrom) else []
            named += [alias.name for alias in node.names] if isinstance(node, ast.Import) else []
            assert not [one for one in named if one.startswith(forbidden)], path.name


def test_an_editor_that_goes_away_ends_the_server() -> None:
    done = subprocess.run(
        [sys.executable, "-m", "runner", "serve-editor"],
        capture_output=True,
        text=True,
        cwd=ROOT,
        input="",
        check=False,
        timeout=60,
    )
    assert (done.returncode, done.stdout, done.stderr) == (0, "", "")
