"""Prints how long `changeover --version` takes against a bare `python -c pass`, as whole processes in one run.

Goal: at most 3 times.
"""

import os
import statistics
import subprocess
import sys
import time

RUNS = 15
ENVIRONMENT = {key: value for key, value in os.environ.items() if key != "PYTHONDONTWRITEBYTECODE"}


def seconds(command: list[str]) -> float:
    began = time.perf_counter()
    subprocess.run(command, stdout=subprocess.DEVNULL, check=True, env=ENVIRONMENT)
    return time.perf_counter() - began


def main() -> None:
    bare = [sys.executable, "-c", "pass"]
    version = [sys.executable, "-m", "runner", "--version"]
    seconds(version)
    ratios = [seconds(version) / seconds(bare) for _ in range(RUNS)]
    print(f"changeover --version: {statistics.median(ratios):.2f} x a bare python -c pass (goal: at most 3)")


if __name__ == "__main__":
    main()
