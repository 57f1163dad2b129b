"""Resident memory once the page is on a pseudo-terminal, as a ratio measured in one go. Linux, which tells it in /proc.

    python -m tests.bench.resident_memory [ROUNDS]

The goal: a run of 60 steps with its record at most 1.5 times a minimal Textual app. 5,000 steps are shown beside it.
"""

import fcntl
import os
import pty
import select
import signal
import statistics
import struct
import sys
import termios
import time

from tests.bench.first_paint import MARKS, ROOT

SETTLED_S = 1.0


def resident(kind: str) -> float:
    """MB that one kind holds, a second after its page is up."""
    pid, fd = pty.fork()
    if pid == 0:
        os.chdir(ROOT)
        os.environ.pop("PYTHONDONTWRITEBYTECODE", None)
        os.execv(sys.executable, [sys.executable, "-m", "tests.bench.first_paint", "show", kind])
    fcntl.ioctl(fd, termios.TIOCSWINSZ, struct.pack("HHHH", 40, 120, 0, 0))
    seen = b""
    while MARKS[kind] not in seen and select.select([fd], [], [], 60)[0]:
        seen += os.read(fd, 65536)
    end = time.perf_counter() + SETTLED_S
    while (left := end - time.perf_counter()) > 0:
        if select.select([fd], [], [], left)[0]:
            os.read(fd, 65536)
    with open(f"/proc/{pid}/statm", encoding="ascii") as file:
        pages = int(file.read().split()[1])
    os.kill(pid, signal.SIGKILL)
    os.waitpid(pid, 0)
    os.close(fd)
    return pages * os.sysconf("SC_PAGE_SIZE") / 1e6


def main(rounds: int) -> int:
    """Print the ratio; 1 where the goal is missed."""
    kinds = ("minimal", "run", "5000")
    for kind in kinds:
        resident(kind)
    held = {kind: [resident(kind) for _ in range(rounds)] for kind in kinds}
    for kind, sizes in held.items():
        print(f"{kind:8} holds {statistics.median(sizes):6.1f} MB (median of {rounds})")
    ratio = statistics.median(held["run"]) / statistics.median(held["minimal"])
    print(f"run of 60 steps / minimal app   {ratio:.2f}   goal at most 1.50")
    return 0 if ratio <= 1.5 else 1


if __name__ == "__main__":
    sys.exit(main(int(sys.argv[1]) if len(sys.argv) > 1 else 3))
