"""How long `changeover lint` takes for a long file and for many, as ratios in one run: python -m tests.bench.lint_files [RUNS] [FILES]

The goals: 400 steps with all rules at most 0.5 times check-jsonschema on the same file and schema; 500 files of 60 steps
at least 5 times faster than it and 20 times faster than a general YAML linter, and 30 times faster than themselves when
nothing has changed since they were looked at. yamllint is slow here, so it is timed on a tenth of the files, less what it
takes to start, and multiplied. Absolute times are only for scale; on a machine with other work the second process gains nothing,
which the ratio of processor time shows.
"""

import os
import subprocess
import sys
import tempfile
from pathlib import Path
from time import perf_counter

from tests.bench.lint_process import ROOT, process, race
from tests.bench.written import procedure

SCHEMA = str(ROOT / "schemas" / "procedure.schema.json")


def times(*command: str) -> tuple[float, float]:
    """Seconds that pass and seconds that processors work for one whole command; how it ends is its own affair."""
    began, worked = perf_counter(), worked_by_now()
    silent = subprocess.DEVNULL
    subprocess.run([sys.executable, *command], cwd=ROOT, check=False, stdout=silent, stderr=silent)
    return perf_counter() - began, worked_by_now() - worked


def worked_by_now() -> float:
    """Seconds that processors have worked for processes that this one began and that have ended."""
    now = os.times()
    return now.children_user + now.children_system


def seconds(*command: str) -> float:
    """Seconds that pass."""
    return times(*command)[0]


def written(folder: Path, count: int) -> list[str]:
    """So many files of 60 steps, no two alike: each has its own words in every act, and its own ranges and limits."""
    text = procedure(60)
    for number in range(count):
        path = folder / f"measured-{number:03}.procedure.yaml"
        path.write_text(varied(text, number), encoding="utf-8")
    return sorted(map(str, folder.iterdir()))


def varied(text: str, number: int) -> str:
    """A procedure with words and numbers of its own, so that nothing that was worked out for another file serves this one."""
    word = "".join("abcdefghklmnoprstuvw"[number // 20**place % 20] for place in range(3))
    return (
        text.replace("id: measured-60", f"id: measured-{number}")
        .replace("to the mark at", f"to the {word} mark at")
        .replace("Above 25 kg", f"With a {word} core above 25 kg")
        .replace("<= 43000 [kg]", f"<= {43000 + number} [kg]")
        .replace("within: [400, 1300]", f"within: [{400 - number / 10}, 1300]")
        .replace("within: [5.5, 7]", f"within: [5.5, {7 + number / 1000}]")
    )


def long_file(folder: str, runs: int) -> None:
    """One file of 400 steps."""
    path = Path(folder) / "long.procedure.yaml"
    path.write_text(procedure(400), encoding="utf-8")
    print("400 steps (goal: lint at most 0.5 x)")
    race(
        {
            "check-jsonschema --schemafile": process(
                folder, "-m", "check_jsonschema", "--schemafile", SCHEMA, str(path)
            ),
            "changeover lint --no-cache": process(folder, "-m", "runner", "lint", "--no-cache", str(path)),
        },
        runs,
    )


def many_files(folder: str, runs: int, count: int) -> None:
    """Many files of 60 steps, each rival in turn."""
    place = Path(folder) / "many"
    place.mkdir()
    files = written(place, count)
    some = files[: max(2, count // 10)]
    lint = ("-m", "runner", "lint", str(place))
    print(f"{count} files of 60 steps")
    for run in range(runs):
        kept = ("--cache-dir", str(Path(folder) / f"kept-{run}"))
        fresh, fresh_work = times(*lint, "--no-cache")
        one = seconds(*lint, "--no-cache", "--jobs", "1")
        first = seconds(*lint, *kept)
        again = seconds(*lint, *kept)
        check, check_work = times("-m", "check_jsonschema", "--schemafile", SCHEMA, *files)
        start = seconds("-m", "yamllint", "--version")
        general = start + (seconds("-m", "yamllint", *some) - start) * count / len(some)
        print(f"  changeover lint --no-cache {fresh:.2f} s, in one process {one:.2f} s, keeping {first:.2f} s")
        print(
            f"  check-jsonschema takes {check / fresh:6.1f} x (goal: at least 5); of processor time {check_work / fresh_work:.1f} x"
        )
        print(f"  yamllint takes         {general / fresh:6.1f} x (goal: at least 20)")
        print(f"  lint again takes 1 / {first / again:4.1f} (goal: at most 1 / 30)")


def main(runs: int, count: int) -> None:
    """Print all ratios."""
    with tempfile.TemporaryDirectory() as folder:
        long_file(folder, runs * 3)
        many_files(folder, runs, count)


if __name__ == "__main__":
    numbers = [int(given) for given in sys.argv[1:]]
    main(numbers[0] if numbers else 3, numbers[1] if len(numbers) > 1 else 500)
