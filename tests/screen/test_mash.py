"""Keys without sense: any two thousand of them by seed, a megabyte pasted. Nothing breaks and the record verifies."""

import random
import sys
import time
from pathlib import Path

import pytest

from runner.engine import events as ev
from runner.record.verify import verify_bytes
from runner.screen.desk import Begin
from runner.screen.keys import KEYS
from runner.screen.widgets.lines import text_of, width_of
from tests.screen.bench import MemoryRun, Person, compiled
from tests.screen.terminal import ENTER, F4, F5, Terminal
from tests.screen.using import begun, foreign, quick, run_arguments, verified

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="pseudo-terminals are of Unix")

NAMES = (*[key.key for key in KEYS], "backspace", "left", "home", "ctrl+u", "f11", "insert")
SENT = [
    ENTER, ENTER, ENTER, "\x1bOP", "\x1bOQ", "\x1bOR", "\x1b[15~", "\x1b[17~", "\x1b[18~", "\x1b[19~", "\x1b[20~", "\x1b[21~",
    "\x1b[24~", "\x1b", "\t", "\x1b[A", "\x1b[B", "\x1b[5~", "\x1b[6~", "\x7f", "\x1b[D", "\x1b[C", "\x1b[H", "\x1b[F",
    "\x01", "\x15", "\x1b[Z", "\x1b[200~", "\x1b[201~", "\x1b[M", "\x1b[<0;3;4M", "\xff", "\x00", "\x1b[999~", "ß", "漢", "1", "2", "3", " ", "S. Lind",
    "1000 mm", "6.2",
]  # fmt: skip
"""Keys as a terminal sends them, broken ones among them; all but what ends the program."""


@pytest.mark.parametrize("seed", range(3))
def test_two_thousand_keys_in_any_order_break_no_page(seed: int) -> None:
    chance = random.Random(seed)
    run = MemoryRun(compiled())
    person = Person(run)
    for _ in range(2000):
        if person.shell.left is not None or run.state.outcome:
            run = MemoryRun(compiled())
            person = Person(run)
        key = chance.choice(NAMES) if chance.random() < 0.7 else chance.choice("0123456789aZ.,%- ß漢\u202e")
        person.shell.size = chance.choice([(80, 24), (120, 40), (60, 18)])
        run.tick += chance.choice([0.001, 0.02, 0.4, 1.0, 30.0])
        wanted = person.shell.key(key, key if len(key) == 1 else None)
        assert not isinstance(wanted, Begin)
        if wanted is not None:
            person.shell.took(run.submit(wanted))
        drawn = person.shell.picture()
        assert len(drawn.lines) == person.shell.size[1]
        assert {width_of(text_of(line)) for line in drawn.lines} == {person.shell.size[0]}


def mash(folder: Path, count: int, seed: int) -> None:
    """So many keys on a real terminal, started again wherever the program was left."""
    chance = random.Random(seed)
    terminal = begun(quick(*run_arguments(folder)), 0.05)
    try:
        for _ in range(count):
            terminal.child.delaybeforesend = None
            terminal.child.send(chance.choice(SENT))
            terminal.read(chance.choice([0.001, 0.01, 0.03]))
            if not terminal.child.isalive():
                shut(terminal)
                terminal = begun(quick(*run_arguments(folder)), 0.05)
        terminal.press("\x1b[201~", 0.3)  # where a paste was begun, it ends
        terminal.press(F4, 0.5)
        terminal.read(1.0)
    finally:
        shut(terminal)
    for journal in folder.rglob("*.journal"):  # one for each time that the program was left and begun again
        assert verify_bytes(journal.read_bytes()).whole


def shut(terminal: Terminal) -> None:
    """What it sent is looked at, and it ends."""
    terminal.__exit__(None, None, None)
    assert b"Traceback" not in terminal.raw
    assert not foreign(terminal.raw)


def test_keys_without_sense_on_a_terminal_break_nothing(tmp_path: Path) -> None:
    mash(tmp_path, 300, 11)


@pytest.mark.long
@pytest.mark.parametrize("seed", [1, 2, 3])
def test_two_thousand_keys_without_sense_on_a_terminal_break_nothing(seed: int, tmp_path: Path) -> None:
    mash(tmp_path, 2000, seed)


def pasted(text: str) -> str:
    """As a terminal hands over what is pasted (bracketed paste, as in xterm's list of control sequences)."""
    return f"\x1b[200~{text}\x1b[201~"


def send(terminal: Terminal, text: str) -> None:
    """A large text, piece by piece, while what comes is read."""
    waits, terminal.child.delaybeforesend = terminal.child.delaybeforesend, None
    for at in range(0, len(text), 2048):
        terminal.child.send(text[at : at + 2048])
    terminal.child.delaybeforesend = waits
    terminal.read(0.1)


def test_a_megabyte_pasted_acts_on_nothing_and_is_over_soon(tmp_path: Path) -> None:
    flood = "A1\r\x1b[15~yes\n" * 100_000
    with quick(*run_arguments(tmp_path)) as terminal:
        begun(terminal, 0.05)
        began = time.monotonic()
        send(terminal, pasted(flood))
        terminal.press("\x1bOP", 0.1)
        terminal.until("This program is an aid", 30)
        assert time.monotonic() - began < 30
        terminal.press("\x1b", 0.1)
        terminal.until("Enter begin")
        terminal.press("\x1bOQ", 0.1)
        terminal.until("What is it about?")
        for keys in ("1", "1"):
            terminal.press(keys, 0.1)
            terminal.press(ENTER, 0.1)
        terminal.until("in a few words")
        send(terminal, pasted("x" * 1_000_000))
        terminal.press(ENTER, 0.5)
        terminal.until("1 open", 30)
        terminal.press(F5)
        assert not foreign(terminal.raw)
        assert b"Traceback" not in terminal.raw
    verified(tmp_path)


def test_what_is_pasted_is_kept_as_one_short_line() -> None:
    run = MemoryRun(compiled())
    person = Person(run).press("f2", "1", "enter", "1", "enter")
    person.shell.paste("x" * 1_000_000 + "\nF4")
    person.press("enter")
    noted = run.last(ev.ExceptionNoted)
    assert isinstance(noted, ev.ExceptionNoted)
    assert noted.words == "x" * 256
