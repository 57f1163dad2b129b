"""The installed command over a small procedure on a real terminal, with what tests look at afterwards."""

import re
import sys
import termios
from pathlib import Path
from typing import Any

from runner.record.verify import Verification, verify_bytes
from tests.screen.terminal import ENTER, Terminal

PROCEDURE = Path(__file__).parent / "small.procedure.yaml"
FIRST = "Set the unwind speed to zero."
FRESH = 0.4
"""Seconds; longer than a key counts as too soon on a real clock."""
TIMES = "20"
"""So many times faster than real goes the clock of `quick`."""

JOB = """\
job: 1
procedure: small-change
inputs: {web_width: 1250 mm, roll_od: 1000 mm, substrate: kraft paper}
crew: {unwind: N. Petrov, rewind: T. Oduya, lead: S. Lind}
"""

OURS = re.compile(rb"\x1b\[[0-9;:?>=<$ ]*[A-Za-z]|\x1b[=>]|\x1b\][0-9]+;[^\x07\x1b]*(?:\x07|\x1b\\)|\x1b[()][A-Z0-9]")
"""What a terminal program itself sends: CSI sequences, keypad modes, titles, character sets (ECMA-48; the modes as in
xterm's list of control sequences)."""
STRANGE = re.compile(rb"[\x00-\x07\x0b\x0c\x0e-\x1f\x7f]|\xc2[\x80-\x9f]|\xe2\x80[\xae\x8b]|\xe2\x81[\xa6-\xa9]")
"""C0 and C1 controls, DEL, and signs that turn the reading direction or hide, in UTF-8."""


def foreign(raw: bytes) -> list[bytes]:
    """Control bytes on their way to the terminal that are none of a terminal program's own."""
    return STRANGE.findall(OURS.sub(b"", raw))


def installed() -> list[str]:
    """The command as it was installed beside the interpreter; as a module where it was not."""
    found = Path(sys.executable).with_name("changeover")
    return [str(found)] if found.exists() else [sys.executable, "-m", "runner"]


def command(*arguments: str) -> Terminal:
    """The installed command."""
    program, *before = installed()
    return Terminal.of_size((80, 24), *before, *arguments, program=program)


def quick(*arguments: str) -> Terminal:
    """The same on a quick clock, so that keys need no long pauses."""
    return Terminal("-m", "tests.screen.quick_command", TIMES, *arguments)


def run_arguments(folder: Path) -> list[str]:
    """A run of the small procedure with everything given."""
    job = folder / "job.yaml"
    job.write_text(JOB, encoding="utf-8")
    return ["run", str(PROCEDURE), "--job", str(job), *records(folder)]


def records(folder: Path) -> list[str]:
    """The folder of records."""
    return ["--records", str(folder / "records")]


def begun(terminal: Terminal, pause: float = FRESH) -> Terminal:
    """Through the start page to the first step."""
    terminal.until("Before you begin")
    for _ in range(12):
        if FIRST in terminal.text:
            break
        terminal.press(ENTER, pause)
        terminal.read(0.25)
    terminal.until(FIRST)
    return terminal


def verified(folder: Path) -> Verification:
    """What the one record under a folder comes to; it must be whole."""
    (found,) = folder.rglob("*.journal")
    seen = verify_bytes(found.read_bytes())
    assert seen.whole
    return seen


def modes(terminal: Terminal) -> list[Any]:
    """How the terminal line is set (termios)."""
    return termios.tcgetattr(terminal.child.child_fd)


def is_restored(terminal: Terminal, before: list[Any]) -> None:
    """Everything that the screen switched on is off again, and the line is set as before."""
    assert modes(terminal) == before, "the line is set otherwise than before"
    for on, off, what in (
        (b"\x1b[?1049h", b"\x1b[?1049l", "the alternate screen is left"),
        (b"\x1b[?25l", b"\x1b[?25h", "the cursor is shown"),
        (b"\x1b[?2004h", b"\x1b[?2004l", "pasting is plain again"),
        (b"\x1b[?1000h", b"\x1b[?1000l", "the mouse is let go"),
        (b"\x1b[?1003h", b"\x1b[?1003l", "the mouse is let go"),
    ):
        if on in terminal.raw:
            assert terminal.raw.rfind(off) > terminal.raw.rfind(on), what
