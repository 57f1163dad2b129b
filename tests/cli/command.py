"""The command as a user has it: a process of its own, its output and its exit code."""

import json
import os
import subprocess
import sys
import tempfile
from pathlib import Path
from typing import Any, NamedTuple

ROOT = Path(__file__).parent.parent.parent
PROCEDURES = ROOT / "procedures"
ANSWERS = ROOT / "tests" / "answers"
CACHE = tempfile.TemporaryDirectory(prefix="changeover-tests-")
"""What commands keep for the next time, as long as the tests run; nothing of the user's is touched."""


class Done(NamedTuple):
    """How it ended."""

    code: int
    out: str
    err: str

    @property
    def data(self) -> Any:
        """Standard output as JSON."""
        return json.loads(self.out)


def changeover(*arguments: str | Path, given: str = "", cwd: Path = ROOT, **environment: str) -> Done:
    """Run the command; no terminal, so nothing may ask."""
    done = subprocess.run(
        [sys.executable, "-m", "runner", *map(str, arguments)],
        input=given,
        capture_output=True,
        text=True,
        encoding="utf-8",
        cwd=cwd,
        env={**os.environ, "PYTHONPATH": str(ROOT), "XDG_CACHE_HOME": CACHE.name, **environment},
        timeout=120,
        check=False,
    )
    return Done(done.returncode, done.stdout, done.stderr)


def play(name: str, records: Path, answers: str = "") -> Done:
    """A shipped procedure played from its answers."""
    return changeover(
        "run", PROCEDURES / f"{name}.procedure.yaml", "--job", PROCEDURES / f"{name}.job.yaml",
        "--answers", ANSWERS / f"{answers or name}.answers.yaml", "--records", records, "--json",
    )  # fmt: skip
