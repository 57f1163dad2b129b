"""What it costs to keep one action, as ratios measured pair by pair: python -m tests.bench.journal_commit [COUNT] [FOLDER]

The goal: an action kept in at most 1.5 times (median) and twice (99th percentile) the cheapest durable write that there is,
4 KiB written in place with fdatasync. A file that grows costs the file system more than that, whoever writes it, and
one that was given room before does not: two lines show how much on this disk. All take turns, so that a busy disk hits
each alike. The folder decides what is measured: give one on the disk where records will lie.
"""

import os
import sqlite3
import statistics
import sys
import tempfile
from collections.abc import Callable
from pathlib import Path
from time import perf_counter

from runner.engine import events as ev
from runner.engine import intents as want
from runner.procedure.compile import compile_procedure
from runner.record.clock import SystemClock
from runner.record.disk import DISK
from runner.record.journal import Journal, create_journal
from runner.record.line import ROOM, Mark
from runner.record.run import Run
from runner.record.store import Store

PROCEDURE = Path(__file__).parent.parent / "record" / "lift.procedure.yaml"
RAW = "raw 4 KiB in place + fdatasync (limit)"
BARE = "a ready-made line, into room + fdatasync"
APPEND = "Journal.append, one event"
DATABASE = "SQLite WAL synchronous=FULL, one row"


def raw_write(folder: str) -> Callable[[], object]:
    """The limit: a block that is there already, written again."""
    fd = os.open(os.path.join(folder, "raw"), os.O_RDWR | os.O_CREAT, 0o600)
    os.pwrite(fd, bytes(4096 * 64), 0)
    os.fsync(fd)
    block = b"\1" * 4096

    def write() -> None:
        os.pwrite(fd, block, 4096 * 7)
        os.fdatasync(fd)

    return write


def bare_append(folder: str) -> Callable[[], object]:
    """A ready-made line appended and synced: what the file system takes for a file that grows, whoever writes it."""
    fd = os.open(os.path.join(folder, "bare"), os.O_WRONLY | os.O_CREAT | os.O_APPEND, 0o600)
    line = b"x" * 420 + b"\n"

    def append() -> None:
        os.write(fd, line)
        os.fdatasync(fd)

    return append


def bare_write(folder: str) -> Callable[[], object]:
    """The same line written into room that was given in the steps of a journal, and synced."""
    fd = DISK.create(os.path.join(folder, "room"))
    line = b"x" * 420 + b"\n"
    end = room = 0

    def write() -> None:
        nonlocal end, room
        if end + len(line) > room:
            DISK.make_room(fd, room, ROOM)
            room += ROOM
        os.pwrite(fd, line, end)
        os.fdatasync(fd)
        end += len(line)

    return write


def journal_append(folder: str) -> Callable[[], object]:
    """One event through the journal: encoded, hashed, written, synced."""
    journal = create_journal(os.path.join(folder, "one.journal"), DISK, Mark("one", "live"))
    assert isinstance(journal, Journal)
    event = ev.StepBegun("Uma", SystemClock().now(), "open-unwind-guard", "1.2", 1, "Open the unwind guard, all of it.")
    return lambda: journal.append((event,))


def run_submit(folder: str) -> Callable[[], object]:
    """One intent through the run: decided, kept, evolved, told. Looking at a state has no end, so it can be repeated."""
    text = PROCEDURE.read_text(encoding="utf-8")
    compiled = compile_procedure(text, str(PROCEDURE), lambda path: Path(path).read_text(encoding="utf-8"))
    assert compiled.procedure is not None, compiled.findings
    crew, inputs = (("unwind", "Uma"), ("lead", "Lena")), (("web_width", "1250"), ("grammage", "80"))
    intent = want.BeginRun("Uma", "bench", "live", False, crew, inputs, "bench")
    run = Run.begin(Store(folder), compiled.procedure, intent, SystemClock())
    assert isinstance(run, Run), run
    look = want.LookAt("Uma", "guard", "closed")
    return lambda: run.submit(look)


def database_insert(folder: str) -> Callable[[], object]:
    """The same promise from SQLite: write-ahead log, synchronous=FULL, one row."""
    base = sqlite3.connect(os.path.join(folder, "base"), isolation_level=None)
    base.execute("pragma journal_mode=wal")
    base.execute("pragma synchronous=full")
    base.execute("create table event(number integer primary key, body blob)")
    body = b"x" * 400
    return lambda: base.execute("insert into event(body) values(?)", (body,))


def main(count: int, folder: str) -> None:
    """Take turns, print each one's times and its ratio to the limit."""
    rivals = {
        RAW: raw_write(folder),
        "a ready-made line, appended + fdatasync": bare_append(folder),
        BARE: bare_write(folder),
        APPEND: journal_append(folder),
        "Run.submit, one intent": run_submit(folder),
        DATABASE: database_insert(folder),
    }
    times: dict[str, list[float]] = {name: [] for name in rivals}
    for turn in range(count + 20):
        for name, act in rivals.items():
            began = perf_counter()
            act()
            if turn >= 20:  # after the first few, which warm up
                times[name].append(perf_counter() - began)
    limit = statistics.quantiles(times[RAW], n=100)
    print(f"{count} rounds; goals for one action: p50 at most 1.5 x, p99 at most 2 x, and 0.8 x of SQLite's p50")
    for name, taken in times.items():
        cuts = statistics.quantiles(taken, n=100)
        ratios = f"p50 {cuts[49] / limit[49]:5.2f} x  p99 {cuts[98] / limit[98]:5.2f} x"
        print(f"  {name:42} p50 {cuts[49] * 1e6:8.0f} us  p99 {cuts[98] * 1e6:8.0f} us   {ratios}")
    print("  the append against others, round by round, since a busy disk hits both of a round alike:")
    for name in (RAW, BARE, DATABASE):
        pairs = sorted(ours / theirs for ours, theirs in zip(times[APPEND], times[name], strict=True))
        cuts = statistics.quantiles(pairs, n=4)
        whole = statistics.median(times[APPEND]) / statistics.median(times[name])
        print(
            f"    {name:42} p50 {whole:5.2f} x   of a round: median {cuts[1]:5.2f} x, quartiles {cuts[0]:.2f} to {cuts[2]:.2f}"
        )


if __name__ == "__main__":
    rounds = int(sys.argv[1]) if len(sys.argv) > 1 else 500
    with tempfile.TemporaryDirectory(dir=sys.argv[2] if len(sys.argv) > 2 else None) as where:
        main(rounds, where)
