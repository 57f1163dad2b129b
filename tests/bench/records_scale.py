"""Many records: first index, warm list and `times`, in passes of plain JSON over the same lines: python -m tests.bench.records_scale [COUNT]

One pass reads each journal and gives the content of each line to `json.loads`, and nothing else. Goals: the index made anew
within 2.5 passes, `times` over a warm index within 0.1. Every command is a process of its own, as people start it; the processor's time says the
same on a machine that has other work.
"""

import os
import resource
import subprocess
import sys
import tempfile
from collections.abc import Callable
from functools import partial
from pathlib import Path
from time import perf_counter
from typing import NamedTuple

from runner.record.index.base import NAME
from runner.record.store import Store
from tests.bench.written_records import write_records

PASS = """
import json, sys
from runner.record.store import Store
for path in Store(sys.argv[1]).paths():
    with open(path, "rb") as file:
        for line in file:
            json.loads(line.split(b" ", 2)[2])
"""


def json_pass(folder: str) -> "Taken":
    """All lines of all records."""
    return of_process([sys.executable, "-c", PASS, folder])


class Taken(NamedTuple):
    """Seconds on the clock, and of the processor over all processes."""

    clock: float
    processor: float


def of_process(words: list[str]) -> Taken:
    """A process of its own, from its start to its end."""
    before, began = resource.getrusage(resource.RUSAGE_CHILDREN), perf_counter()
    done = subprocess.run(words, capture_output=True, check=False)
    clock, after = perf_counter() - began, resource.getrusage(resource.RUSAGE_CHILDREN)
    assert done.returncode == 0, done.stderr.decode()
    return Taken(clock, after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime)


def command(*words: str) -> Taken:
    """A command as people start it."""
    return of_process([sys.executable, "-m", "runner", *words])


def told(what: str, taken: Taken, one: Taken, goal: str = "") -> None:
    """One line: seconds, and passes by the clock and by the processor."""
    by_clock, by_processor = taken.clock / one.clock, taken.processor / one.processor
    print(
        f"  {what:30} {taken.clock:7.2f} s  {by_clock:6.3f} of a pass  (processor {taken.processor:6.2f} s, {by_processor:6.3f}) {goal}"
    )


LIST = """
import sys
from runner.record.store import Store
from runner.cli.records import index_of
from runner.record.index.look import summaries
store = Store(sys.argv[1])
print(len(summaries(store, index_of(store))))
"""


OPEN = """
import sys
from argparse import Namespace
from runner.cli.records import store_of
from runner.record.still_open import left_open
print(len(left_open(store_of(Namespace(records=sys.argv[1])), "Line 3")))
"""


def quickest(act: Callable[[], Taken]) -> Taken:
    """Of three."""
    return min(act() for _ in range(3))


def main(count: int) -> None:
    """Print each as a ratio to a pass measured beside it."""
    with tempfile.TemporaryDirectory() as folder:
        lines, size = write_records(folder, count)
        print(f"{count} records, {lines} lines ({lines / count:.0f} each), {size / 1e6:.0f} MB")
        before = json_pass(folder)
        took = command("times", "--records", folder)
        one = min(before, json_pass(folder))
        print(f"  one pass of json.loads          {one.clock:7.2f} s, processor {one.processor:.2f} s")
        told("times, index made anew", took, one, "goal 2.5")
        for words in (("times",), ("times", "--json"), ("times", "--last", "20")):
            told(f"{' '.join(words)}, warm", quickest(partial(command, *words, "--records", folder)), one, "goal 0.1")
        told("list of all runs, warm", quickest(partial(of_process, [sys.executable, "-c", LIST, folder])), one)
        told("what a new run carries, warm", quickest(partial(of_process, [sys.executable, "-c", OPEN, folder])), one)
        told("times --help: the start alone", quickest(partial(command, "times", "--help")), one)
        os.utime(next(iter(Store(folder).paths())))
        told("times, one record new", command("times", "--records", folder), one)
        print(f"  the index has {os.path.getsize(Path(folder, NAME)) / 1e6:.0f} MB")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 10_000)
