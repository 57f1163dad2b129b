"""The one command: format check, lint, strict types, import contracts, then pytest (which checks the layout too).

python -m tests                   all checks
python -m tests --long            the long batteries as well
python -m tests --update-golden   write golden files anew; read the difference before it is committed
python -m tests -- ARGS           further arguments for pytest
"""

import os
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).parent.parent
CHECKS = (
    ("format", ["ruff", "format", "--check", "--quiet", "."]),
    ("lint", ["ruff", "check", "--quiet", "."]),
    ("types", ["mypy"]),
    ("import contracts", ["tests.import_contracts"]),
)


def main(arguments: list[str]) -> int:
    """Run every check, say which failed, and return how the process ends."""
    flags = set(arguments)
    environment = dict(os.environ)
    if "--update-golden" in flags:
        environment["UPDATE_GOLDEN"] = "1"
    failed = []
    for name, command in CHECKS:
        print(f"== {name}", flush=True)
        if subprocess.run([sys.executable, "-m", *command], cwd=ROOT, check=False).returncode:
            failed.append(name)
    print("== tests", flush=True)
    marks = [] if "--long" in flags else ["-m", "not long"]
    after = arguments[arguments.index("--") + 1 :] if "--" in arguments else []
    pytest = [sys.executable, "-m", "pytest", *marks, "-n", "auto", *after]
    if subprocess.run(pytest, cwd=ROOT, check=False, env=environment).returncode:
        failed.append("tests")
    if failed:
        print(f"failed: {', '.join(failed)}", file=sys.stderr)
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
