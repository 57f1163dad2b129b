"""A program on a pseudo-terminal, and the screen that a person would see on it."""

import os
import sys
import time
from types import TracebackType

import pexpect
import pyte

ROOT = os.path.dirname(os.path.dirname(os.path.dirname(os.path.abspath(__file__))))

WIDTH, HEIGHT = 80, 24


class Terminal:
    """80x24 where nothing else is said; `raw` keeps every byte that was sent to it."""

    def __init__(self, *args: str, **environment: str) -> None:
        self._start(sys.executable, list(args), (WIDTH, HEIGHT), environment)

    @classmethod
    def of_size(
        cls, size: tuple[int, int], *args: str, program: str = sys.executable, set_to: dict[str, str] | None = None
    ) -> "Terminal":
        """Of another size, or with another program than the interpreter."""
        made = cls.__new__(cls)
        made._start(program, list(args), size, set_to or {})
        return made

    def _start(self, program: str, args: list[str], size: tuple[int, int], environment: dict[str, str]) -> None:
        width, height = size
        env = {**os.environ, "TERM": "xterm-256color", "PYTHONPATH": ROOT, **environment}
        # workers of pytest have these, and a program goes by them before it asks the terminal
        for name in ("COLUMNS", "LINES"):
            env.pop(name, None)
        self.child = pexpect.spawn(
            program, args, dimensions=(height, width), env=env, timeout=20, encoding=None, cwd=ROOT
        )
        self.screen = pyte.Screen(width, height)
        self.stream = pyte.ByteStream(self.screen)
        self.raw = b""

    def __enter__(self) -> "Terminal":
        return self

    def __exit__(self, kind: type[BaseException] | None, fault: BaseException | None, at: TracebackType | None) -> None:
        self.child.close(force=True)

    def gone(self) -> None:
        """The process was waited for and the terminal closed from outside: nothing is left to be closed."""
        self.child.closed = self.child.terminated = True
        self.child.ptyproc.closed = self.child.ptyproc.terminated = True

    def resize(self, width: int, height: int) -> None:
        """The window is pulled to another size."""
        self.child.setwinsize(height, width)
        self.screen.resize(height, width)

    def read(self, seconds: float) -> None:
        """Take what comes within a time."""
        end = time.monotonic() + seconds
        while (left := end - time.monotonic()) > 0:
            try:
                part = self.child.read_nonblocking(65536, timeout=left)
            except (pexpect.TIMEOUT, pexpect.EOF):
                return
            self.raw += part
            self.stream.feed(part)

    def until(self, text: str, seconds: float = 15.0) -> str:
        """The screen as soon as a text is on it; fails the test where it does not come."""
        end = time.monotonic() + seconds
        while text not in self.text:
            assert time.monotonic() < end, f"{text!r} did not come:\n{self.text}"
            self.read(0.05)
        return self.text

    def press(self, keys: str, pause: float = 0.12) -> None:
        """Keys as bytes, after a pause that makes them fresh on a clock that goes ten times faster."""
        self.read(pause)
        self.child.send(keys)

    def ended(self, seconds: float) -> int:
        """The exit code, within a time."""
        end = time.monotonic() + seconds
        while self.child.isalive():
            assert time.monotonic() < end, f"still running after {seconds} s:\n{self.text}"
            self.read(0.05)
        self.read(0.2)
        code = self.child.exitstatus
        return -1 if code is None else code

    @property
    def text(self) -> str:
        """What is on the screen."""
        return "\n".join(self.screen.display)


ENTER, F2, F3, F4, F5, F6, F7 = "\r", "\x1bOQ", "\x1bOR", "\x1bOS", "\x1b[15~", "\x1b[17~", "\x1b[18~"
