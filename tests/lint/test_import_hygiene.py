"""Lint of a valid file loads nothing that is slow to load: its start-up is what an engineer waits for at every save."""

import subprocess
import sys
from pathlib import Path

from tests.bench.written import procedure

HEAVY = (
    "textual",
    "rich.console",
    "asyncio",
    "jsonschema",
    "pint",
    "inspect",
    "dataclasses",
    "decimal",
    "pathlib",
    "json",
    "difflib",
)
CODE = """
import sys
from runner.lint.linter import lint_text
from runner.lint.output import FORMATS
path = sys.argv[1]
with open(path, encoding="utf-8") as file:
    findings = lint_text(file.read(), path, lambda _: None)
print(FORMATS["text"].render(findings, {}, False), end="", file=sys.stderr)
before = set(sys.argv[2].split(","))
print(",".join(name for name in before if name in sys.modules))
"""


def heavy_loaded(code: str, *arguments: str) -> set[str]:
    done = subprocess.run([sys.executable, "-c", code, *arguments], capture_output=True, text=True, check=True)
    assert done.stderr == ""
    return set(done.stdout.strip().split(",")) - {""}


def test_lint_of_a_valid_file_loads_nothing_heavy(tmp_path: Path) -> None:
    path = tmp_path / "measured.procedure.yaml"
    path.write_text(procedure(24), encoding="utf-8")
    loaded = heavy_loaded(CODE, str(path), ",".join(HEAVY))
    # what the parser's own library loads is not ours to choose
    parsers = heavy_loaded("import sys, ruamel.yaml.error, ruamel.yaml.events; print(','.join(sys.modules))")
    assert loaded - parsers == set()
    assert loaded.isdisjoint({"textual", "rich.console", "asyncio", "jsonschema", "pint", "inspect", "dataclasses"})


def test_the_command_on_one_file_loads_nothing_for_many(tmp_path: Path) -> None:
    path = tmp_path / "measured.procedure.yaml"
    path.write_text(procedure(24), encoding="utf-8")
    code = "import sys; from runner.cli.main import main; main(sys.argv[2:]); "
    code += "print(','.join(name for name in sys.argv[1].split(',') if name in sys.modules))"
    for_many = "multiprocessing,concurrent.futures,hashlib,platformdirs"
    done = subprocess.run(
        [sys.executable, "-c", code, for_many, "lint", "--no-cache", str(path)],
        capture_output=True,
        text=True,
        check=True,
    )
    assert done.stdout.splitlines()[-1:] == [""]
    kept = subprocess.run(
        [sys.executable, "-c", code, "runner.lint.linter,ruamel.yaml", "lint", "--cache-dir", str(tmp_path / "kept"), str(path)],
        capture_output=True, text=True, check=True,
    )  # fmt: skip
    assert kept.stdout.splitlines()[-1:] == ["runner.lint.linter,ruamel.yaml"]
    again = subprocess.run(kept.args, capture_output=True, text=True, check=True)
    assert again.stdout.splitlines()[-1:] == [""]
    assert again.stderr == kept.stderr
