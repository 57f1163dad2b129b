"""How long `changeover lint` takes, as ratios measured pair by pair in one run: python -m tests.bench.lint_process [RUNS]

The goals: a valid 60-step file at most 8 times a bare `python -c pass`, and at most half of check-jsonschema on the same file
and schema; loading 400 steps with places at most 1.1 times a bare C `compose()`. Absolute times are only for scale.
"""

import gc
import os
import statistics
import subprocess
import sys
import tempfile
from collections.abc import Callable
from pathlib import Path
from time import perf_counter

from tests.bench.written import procedure

ROOT = Path(__file__).parent.parent.parent


def race(rivals: dict[str, Callable[[], object]], runs: int) -> None:
    """Run all in turn, so that drift of the machine hits every one alike; print medians and ratios to the first."""
    times: dict[str, list[float]] = {name: [] for name in rivals}
    for rival in rivals.values():
        rival()
    for _ in range(runs):
        for name, rival in rivals.items():
            gc.collect()
            began = perf_counter()
            rival()
            times[name].append(perf_counter() - began)
    first = next(iter(times.values()))
    for name, taken in times.items():
        ratio = statistics.median(mine / its for mine, its in zip(taken, first, strict=True))
        print(f"  {name:44} {statistics.median(taken) * 1e3:9.1f} ms  {ratio:6.2f} x")


def process(compiled: str, *arguments: str) -> Callable[[], object]:
    """A whole Python process; it must end with 0. Byte code is kept in the folder `compiled`, as an installation keeps it."""
    command = [sys.executable, *arguments]
    environment = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
    environment["PYTHONPYCACHEPREFIX"] = compiled
    silent = subprocess.DEVNULL
    return lambda: subprocess.run(command, cwd=ROOT, check=True, stdout=silent, stderr=silent, env=environment)


def main(runs: int) -> None:
    """Print all ratios."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "measured.procedure.yaml"
        path.write_text(procedure(60), encoding="utf-8")
        schema = ROOT / "schemas" / "procedure.schema.json"
        rivals = {
            "python -c pass": process(folder, "-c", "pass"),
            "changeover lint --no-cache, 60 steps": process(folder, "-m", "runner", "lint", "--no-cache", str(path)),
        }
        print("process (goal: lint at most 8 x a bare process)")
        race(rivals, runs)
        if schema.exists():
            lint = rivals["changeover lint --no-cache, 60 steps"]
            check = process(folder, "-m", "check_jsonschema", "--schemafile", str(schema), str(path))
            print("the same file and schema (goal: lint at most 0.5 x)")
            race({"check-jsonschema --schemafile": check, "changeover lint --no-cache, 60 steps": lint}, runs)
    loading(procedure(400), runs * 3)


def loading(text: str, runs: int) -> None:
    """Text to nodes with places, against the C parser's node tree."""
    from runner.procedure.source import read

    try:
        import yaml
    except ImportError:
        print("loading: PyYAML is not installed, nothing to compare with")
        return

    def compose() -> object:
        loader = yaml.CSafeLoader(text)
        try:
            return loader.get_single_node()
        finally:
            loader.dispose()

    print("loading 400 steps (goal: at most 1.1 x)")
    race({"PyYAML C compose(), node tree": compose, "our nodes with places": lambda: read(text, "measured")}, runs)


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 9)
