"""From a key to the page on a pseudo-terminal, the record's commit included, as ratios measured in one go.

    python -m tests.bench.key_painted [PAIRS]

Every key begins or ends a step: it is decided, written to the disk, synced, folded in and painted. The goals: no slower
than a DataTable of the same rows whose cursor goes down a row (nothing is kept there), p95 under 50 ms, and 5,000 steps
at most 1.15 times 60. The three programs stand beside each other and are given a key in turn, so that drift of the
machine hits each alike. `Painted` is when nothing more has come for 4 ms after something came.
"""

import fcntl
import os
import pty
import select
import signal
import statistics
import struct
import sys
import tempfile
import termios
import time
from collections.abc import Callable
from time import perf_counter

ROOT = os.path.dirname(os.path.dirname(os.path.dirname(os.path.abspath(__file__))))
KINDS = {"table": b"\x1b[B", "60": b"\r", "5000": b"\r"}
"""What is pressed."""
GAP_S = 0.45
"""Between two keys of one program: with less a key counts as pressed too soon."""
QUIET_S = 0.004
MOST_S = 0.5


def show_table() -> None:
    """A DataTable of as many rows as the procedure has steps."""
    from textual.app import App, ComposeResult
    from textual.widgets import DataTable

    class Table(App[None]):
        def compose(self) -> ComposeResult:
            yield DataTable(cursor_type="row")

        def on_mount(self) -> None:
            table = self.query_one(DataTable)
            table.add_columns("step", "by", "act", "status")
            for number in range(60):
                table.add_row(f"1.{number + 1}", "Operator", f"Loosen clamp {number} and move the bar.", "to do")

    Table().run()


def show_steps(count: int) -> None:
    """The screen over a real record of so many steps."""
    from runner.engine.intents import BeginRun, Refusal
    from runner.procedure.compile import compile_procedure
    from runner.record.clock import SystemClock
    from runner.record.run import Run
    from runner.record.store import Store
    from runner.screen.app import run_app

    text = "\n".join(f"      - {{id: s{n}, by: unwind, do: Loosen clamp {n} and move the bar.}}" for n in range(count))
    head = (
        "format: 1\nid: many\ntitle: Many steps\nrevision: 1\nequipment: Line 3\npurpose: Measure\n"
        "people: {unwind: Operator}\nphases:\n  - phase: All\n    steps:\n"
    )
    procedure = compile_procedure(head + text + "\n", "many.procedure.yaml", lambda _: None).procedure
    assert procedure is not None
    begin = BeginRun("N. Petrov", "keys", "live", False, (("unwind", "N. Petrov"),), (), "x")
    run = Run.begin(Store(tempfile.mkdtemp()), procedure, begin, SystemClock())
    assert not isinstance(run, Refusal)
    run_app(run)


class Program:
    """One of them on a terminal of 120x40."""

    def __init__(self, kind: str) -> None:
        self.kind = kind
        self.pid, self.fd = pty.fork()
        if self.pid == 0:
            os.chdir(ROOT)
            os.environ.pop("PYTHONDONTWRITEBYTECODE", None)
            os.execv(sys.executable, [sys.executable, "-m", "tests.bench.key_painted", "show", kind])
        fcntl.ioctl(self.fd, termios.TIOCSWINSZ, struct.pack("HHHH", 40, 120, 0, 0))
        self.pressed = 0.0
        self.drain(4.0)

    def drain(self, seconds: float) -> None:
        """Take what comes for a time."""
        end = perf_counter() + seconds
        while (left := end - perf_counter()) > 0 and select.select([self.fd], [], [], left)[0]:
            os.read(self.fd, 65536)

    def press(self) -> float | None:
        """Seconds from the key to the last byte of what it painted; None where nothing came."""
        self.drain(0.0)
        time.sleep(max(0.0, self.pressed + GAP_S - perf_counter()))
        self.drain(0.001)
        self.pressed = began = perf_counter()
        os.write(self.fd, KINDS[self.kind])
        last = None
        while select.select([self.fd], [], [], MOST_S if last is None else QUIET_S)[0]:
            os.read(self.fd, 65536)
            last = perf_counter()
        return None if last is None else last - began

    def end(self) -> None:
        """It ends."""
        os.kill(self.pid, signal.SIGKILL)
        os.waitpid(self.pid, 0)
        os.close(self.fd)


def main(pairs: int) -> int:
    """Print the ratios; 1 where a goal is missed."""
    programs = {kind: Program(kind) for kind in KINDS}
    for program in programs.values():
        program.press()
        program.press()
    times: dict[str, list[float]] = {kind: [] for kind in KINDS}
    for _ in range(pairs):
        for kind, program in programs.items():
            took = program.press() or program.press()  # a key that came too soon does nothing
            assert took is not None, f"{kind}: nothing was painted"
            times[kind].append(took)
    for program in programs.values():
        program.end()

    def ratio(one: str, other: str) -> float:
        return statistics.median(a / b for a, b in zip(times[one], times[other], strict=True))

    worst = {kind: sorted(took)[int(len(took) * 0.95)] * 1000 for kind, took in times.items()}
    for kind, all_took in times.items():
        print(
            f"{kind:6} painted after {statistics.median(all_took) * 1000:5.1f} ms, p95 {worst[kind]:5.1f} ms ({pairs} keys)"
        )
    table, many = ratio("60", "table"), ratio("5000", "60")
    print(f"60 steps / table of 60 rows   {table:.2f}   goal at most 1.00")
    print(f"5,000 steps / 60 steps        {many:.2f}   goal at most 1.15")
    print(f"p95 of 60 steps               {worst['60']:.1f} ms   goal under 50 ms")
    return 0 if table <= 1 and many <= 1.15 and worst["60"] < 50 else 1


if __name__ == "__main__":
    shows: dict[str, Callable[[], None]] = {
        "table": show_table,
        "60": lambda: show_steps(60),
        "5000": lambda: show_steps(5000),
    }
    if sys.argv[1:2] == ["show"]:
        shows[sys.argv[2]]()
    else:
        sys.exit(main(int(sys.argv[1]) if len(sys.argv) > 1 else 40))
