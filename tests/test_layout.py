"""The house rules that a program can check: small files, stated rules, the rim alone touches files and time."""

import ast
import statistics
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent
RUNNER = sorted((ROOT / "runner").rglob("*.py"))
TESTS = sorted((ROOT / "tests").rglob("*.py"))
TOP_LEVEL = {"README.md", "DEVELOPERS.md", "pyproject.toml", "runner", "procedures", "schemas", "tests"}
MAY_OPEN = {"runner/record/disk.py"}
FORBIDDEN_NAMES = {"manager", "handler", "service", "helper", "helpers", "util", "utils", "misc", "common"}


def name(path: Path) -> str:
    return path.relative_to(ROOT).as_posix()


def tracked() -> set[str]:
    listed = subprocess.run(["git", "ls-files"], cwd=ROOT, capture_output=True, text=True, check=False)
    return set(listed.stdout.split("\n")) - {""}


@pytest.mark.parametrize("path", RUNNER + TESTS, ids=name)
def test_no_file_is_longer_than_400_lines(path: Path) -> None:
    assert len(path.read_text(encoding="utf-8").splitlines()) <= 400


def test_the_median_file_is_small() -> None:
    lengths = [len(path.read_text(encoding="utf-8").splitlines()) for path in RUNNER if path.name != "__init__.py"]
    assert statistics.median(lengths) <= 150


@pytest.mark.parametrize("path", RUNNER, ids=name)
def test_a_file_states_its_rules_at_its_top(path: Path) -> None:
    assert ast.get_docstring(ast.parse(path.read_text(encoding="utf-8")))


@pytest.mark.parametrize("path", RUNNER, ids=name)
def test_a_file_is_named_in_plain_words(path: Path) -> None:
    assert path.stem not in FORBIDDEN_NAMES
    assert not path.stem.startswith("_") or path.stem in ("__init__", "__main__")


@pytest.mark.parametrize("path", [p for p in RUNNER if "cli" not in name(p)], ids=name)
def test_only_the_rim_opens_files(path: Path) -> None:
    if name(path) in MAY_OPEN:
        return
    calls = [node for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))) if isinstance(node, ast.Call)]
    opened = [
        call.lineno
        for call in calls
        if (isinstance(call.func, ast.Name) and call.func.id == "open")
        or (isinstance(call.func, ast.Attribute) and call.func.attr in ("read_text", "write_text", "read_bytes"))
    ]
    assert opened == []


@pytest.mark.parametrize("path", [p for p in RUNNER if "/cli" not in name(p)], ids=name)
def test_only_the_rim_prints(path: Path) -> None:
    tree = ast.parse(path.read_text(encoding="utf-8"))
    main_blocks = [n for n in tree.body if isinstance(n, ast.If) and "__name__" in ast.unparse(n.test)]
    inside = {id(call) for block in main_blocks for call in ast.walk(block)}
    prints = [
        node.lineno
        for node in ast.walk(tree)
        if isinstance(node, ast.Call)
        and isinstance(node.func, ast.Name)
        and node.func.id == "print"
        and id(node) not in inside
    ]
    assert prints == []


def test_the_top_level_holds_what_was_agreed() -> None:
    found = {path.split("/")[0] for path in tracked()}
    assert found, "this test looks at what git tracks"
    assert {entry for entry in found if not entry.startswith(".")} <= TOP_LEVEL


def test_no_file_tells_where_it_was_written() -> None:
    words = [chr(47) + "work" + chr(47), chr(47) + "tmp" + chr(47) + "brief", "pypi" + ".org"]
    for path in tracked():
        if not path.endswith((".py", ".md", ".toml", ".yaml", ".json", "run")):
            continue
        text = (ROOT / path).read_text(encoding="utf-8", errors="replace")
        for word in words:
            assert word not in text, path


def test_importing_the_engine_loads_no_screen() -> None:
    code = "import sys, runner.engine.decide; print([m for m in sys.modules if m.split('.')[0] in ('textual', 'rich')])"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True, cwd=ROOT)
    assert done.stdout.strip() == "[]"
