"""Starting is a measured figure: what the compiler loads, and that a valid procedure needs no library of messages."""

import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
NEVER = {
    "jsonschema",
    "dataclasses",
    "inspect",
    "json",
    "hashlib",
    "difflib",
    "decimal",
    "fractions",
    "textual",
    "rich",
    "asyncio",
}


def loaded(code: str) -> set[str]:
    """Top names of all modules that a fresh process has loaded after the code."""
    code += "; import sys; print(' '.join(sys.modules))"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True, cwd=ROOT)
    return set(done.stdout.split())


@pytest.mark.parametrize("module", ["runner.procedure.compile", "runner.procedure.job", "runner.procedure.answers"])
def test_importing_loads_nothing_heavy(module: str) -> None:
    assert loaded(f"import {module}") & NEVER == set()


def test_compiling_a_valid_procedure_loads_no_library_of_messages() -> None:
    code = (
        "from runner.procedure.compile import compile_procedure; from runner.procedure.reference import whole;"
        "made = compile_procedure(whole.PROCEDURE_TEXT, 'x', {whole.FRAGMENT_PATH: whole.FRAGMENT_TEXT}.get);"
        "assert made.procedure is not None"
    )
    allowed = {"hashlib"}  # only where the interpreter has no SHA-256 of its own
    names = loaded(code)
    assert names & (NEVER - allowed) == set()
    assert "runner.procedure.wording" not in names
    assert "runner.procedure.faults" not in names
