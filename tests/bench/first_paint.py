"""From the start of the process to the page on a pseudo-terminal, as ratios measured in one go.

    python -m tests.bench.first_paint [ROUNDS]

The goals: a run of 60 steps at most 1.6 times a minimal Textual app (compiling the procedure and beginning the record
included), and 5,000 steps at most 1.15 times 60 (the same procedure in memory with its steps repeated, so that it is
the screen that is measured). All take turns, so that drift of the machine hits each alike.
"""

import fcntl
import gc
import os
import pty
import select
import signal
import statistics
import struct
import sys
import tempfile
import termios
from collections.abc import Callable
from time import perf_counter

ROOT = os.path.dirname(os.path.dirname(os.path.dirname(os.path.abspath(__file__))))
MARKS = {"minimal": b"hello", "run": b"Enter", "60": b"Enter", "5000": b"Enter"}
"""What is on the terminal once the page is painted: `Enter` is in the last lines of ours."""


def show_minimal() -> None:
    """The least that Textual can do."""
    from textual.app import App, ComposeResult
    from textual.widgets import Static

    class Minimal(App[None]):
        def compose(self) -> ComposeResult:
            yield Static("hello")

    Minimal().run()


def show_run(records: str) -> None:
    """What the command does: hold off garbage collection, compile 60 steps, begin the record, show the page."""
    gc.disable()
    from runner.engine.intents import BeginRun, Refusal
    from runner.procedure.compile import compile_procedure
    from runner.record.clock import SystemClock
    from runner.record.run import Run
    from runner.record.store import Store
    from runner.screen.app import run_app

    text = "\n".join(f"      - {{id: s{n}, by: unwind, do: Loosen clamp {n} and move the bar.}}" for n in range(60))
    head = (
        "format: 1\nid: sixty\ntitle: Sixty steps\nrevision: 1\nequipment: Line 3\npurpose: Measure\n"
        "people: {unwind: Operator}\nphases:\n  - phase: All\n    steps:\n"
    )
    procedure = compile_procedure(head + text + "\n", "sixty.procedure.yaml", lambda _: None).procedure
    assert procedure is not None
    crew = (("unwind", "N. Petrov"),)
    run = Run.begin(
        Store(records), procedure, BeginRun("N. Petrov", "paint", "live", False, crew, (), "x"), SystemClock()
    )
    assert not isinstance(run, Refusal)
    run_app(run)


def show_steps(count: int) -> None:
    """The screen alone, over so many steps in memory."""
    from runner.screen.app import run_app
    from tests.screen.bench import MemoryRun, compiled

    procedure = compiled()
    phase = procedure.phases[0]
    first = phase.lists[0].steps[0]
    steps = tuple(first._replace(id=f"s{n}", number=f"1.{n + 1}") for n in range(count))
    lists = (phase.lists[0]._replace(steps=steps),)
    run_app(MemoryRun(procedure._replace(phases=(phase._replace(lists=lists), *procedure.phases[1:]))))


def painted(kind: str) -> float:
    """Seconds until the page of one kind is on a terminal of 120x40."""
    began = perf_counter()
    pid, fd = pty.fork()
    if pid == 0:
        os.chdir(ROOT)
        os.environ.pop("PYTHONDONTWRITEBYTECODE", None)  # byte code is kept, as in an installation
        os.execv(sys.executable, [sys.executable, "-m", "tests.bench.first_paint", "show", kind])
    fcntl.ioctl(fd, termios.TIOCSWINSZ, struct.pack("HHHH", 40, 120, 0, 0))
    seen = b""
    while MARKS[kind] not in seen:
        ready, _, _ = select.select([fd], [], [], 60)
        if not ready:
            break
        seen += os.read(fd, 65536)
    took = perf_counter() - began
    os.kill(pid, signal.SIGKILL)
    os.waitpid(pid, 0)
    os.close(fd)
    return took


def measure(rounds: int) -> dict[str, list[float]]:
    """Rounds of all kinds in turn, after one to warm the caches."""
    for kind in MARKS:
        painted(kind)
    times: dict[str, list[float]] = {kind: [] for kind in MARKS}
    for _ in range(rounds):
        for kind in MARKS:
            times[kind].append(painted(kind))
    return times


def main(rounds: int) -> int:
    """Print the ratios; 1 where a goal is missed."""
    times = measure(rounds)

    def ratio(one: str, other: str) -> float:
        return statistics.median(a / b for a, b in zip(times[one], times[other], strict=True))

    for kind, took in times.items():
        print(f"{kind:8} painted after {statistics.median(took) * 1000:6.0f} ms (median of {rounds})")
    run, many = ratio("run", "minimal"), ratio("5000", "60")
    print(f"run of 60 steps / minimal app   {run:.2f}   goal at most 1.60")
    print(f"5,000 steps / 60 steps          {many:.2f}   goal at most 1.15")
    return 0 if run <= 1.6 and many <= 1.15 else 1


if __name__ == "__main__":
    shows: dict[str, Callable[[], None]] = {
        "minimal": show_minimal,
        "run": lambda: show_run(tempfile.mkdtemp()),
        "60": lambda: show_steps(60),
        "5000": lambda: show_steps(5000),
    }
    if sys.argv[1:2] == ["show"]:
        shows[sys.argv[2]]()
    else:
        sys.exit(main(int(sys.argv[1]) if len(sys.argv) > 1 else 7))
