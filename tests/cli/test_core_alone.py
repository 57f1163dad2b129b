"""Every command works with the core dependencies alone: what only contributors install is kept from being imported."""

import subprocess
import sys
from pathlib import Path

import pytest

from .command import ANSWERS, PROCEDURES, ROOT

BLOCKED = (
    "pytest",
    "babel",
    "hypothesis",
    "mypy",
    "importlinter",
    "pint",
    "scipy",
    "numpy",
    "mpmath",
    "pexpect",
    "pyte",
    "yaml",
)
"""Import names of the extra `dev`, and of what comes with it."""

CODE = f"""
import sys
class Blocked:
    def find_spec(self, name, path=None, target=None):
        if name.split(".")[0] in {BLOCKED!r}:
            raise ModuleNotFoundError(name + " belongs to contributors")
sys.meta_path.insert(0, Blocked())
from runner.cli.main import main
sys.exit(main(sys.argv[1:]))
"""


def core(*arguments: object) -> subprocess.CompletedProcess[str]:
    command = [sys.executable, "-c", CODE, *map(str, arguments)]
    return subprocess.run(command, capture_output=True, text=True, cwd=ROOT, check=False, timeout=120)


@pytest.mark.parametrize("module", BLOCKED)
def test_the_block_blocks(module: str) -> None:
    code = CODE.replace("from runner.cli.main import main", f"import {module}")
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, cwd=ROOT, check=False)
    assert "belongs to contributors" in done.stderr


def test_every_command_runs_with_the_core_alone(tmp_path: Path) -> None:
    procedure, job = PROCEDURES / "web-break.procedure.yaml", PROCEDURES / "web-break.job.yaml"
    answers, records = ANSWERS / "web-break.answers.yaml", ("--records", tmp_path)
    broken = tmp_path / "broken.procedure.yaml"
    broken.write_text("format: 1\nid: x\n", encoding="utf-8")
    walked: dict[int, list[tuple[object, ...]]] = {
        0: [
            ("--version",),
            ("lint", procedure),
            ("rules",),
            ("explain", "needs-unmet"),
            ("work", procedure, "--job", job, "--json"),
            ("diff", procedure, procedure),
            ("sheet", procedure, "--job", job, "--format", "html"),
            ("run", procedure, "--job", job, "--answers", answers, *records),
            ("dry-run", procedure, "--job", job, "--answers", answers, *records),
        ],
        1: [("lint", broken)],
        2: [("home",), ("run", procedure), ("resume", *records)],
    }
    for code, commands in walked.items():
        for command in commands:
            done = core(*command)
            assert done.returncode == code, (command, done.stderr)
            assert "Traceback" not in done.stderr
    (live,) = (tmp_path / "live").rglob("*.journal")
    (dry,) = (tmp_path / "dry").rglob("*.journal")
    for journal in (live, dry):
        assert core("verify", journal).returncode == 0
        for form in ("html", "text", "json", "markdown", "csv"):
            assert core("report", journal, "--format", form).returncode == 0
    assert "DRY RUN" in core("report", dry).stdout
