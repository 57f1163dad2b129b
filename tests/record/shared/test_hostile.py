"""Whatever is sent to the keeper's socket ends at most the connection it came on; the run and the others go on."""

import random
import socket
import time
from contextlib import suppress
from pathlib import Path

import pytest

from runner.engine.intents import Refusal
from runner.record.refused import Refused
from runner.record.shared import turns
from runner.record.shared.address import call
from runner.record.shared.keeper import Keeper
from runner.record.shared.messages import VERSION, Ask, Bye, Hello, encode
from tests.record.shared.bench import events_of, joined, kept, until
from tests.record.shared.test_messages import bad_lines
from tests.record.shared.test_pair import note

HELLO = encode(Hello(VERSION, "stranger", "X"))


def line_to(here: Keeper) -> socket.socket:
    """A connection without a word said."""
    line = call(here.path)
    assert not isinstance(line, Refused)
    line.socket.settimeout(5)
    return line.socket


def ended(line: socket.socket) -> bool:
    """Whether the keeper closes the connection, whatever it says before."""
    try:
        while line.recv(65536):
            pass
    except ConnectionError:
        pass
    line.close()
    return True


@pytest.mark.parametrize(
    "content", [pytest.param(line, id=name) for name, line in bad_lines() if "\n" in line.decode("latin-1")]
)
@pytest.mark.parametrize("known", [False, True])
def test_a_bad_line_ends_its_connection_and_no_other(tmp_path: Path, content: bytes, known: bool) -> None:
    here = kept(tmp_path)
    there, line = joined(here.path), line_to(here)
    if known:
        line.sendall(HELLO)
    line.sendall(content)
    assert ended(line)
    assert not isinstance(there.submit(note("still here")), Refusal)
    assert not there.lost
    there.close()
    here.close()
    assert len(events_of(here.path)) > 0


def test_bytes_torn_anywhere_are_put_together_and_a_connection_cut_anywhere_leaves_nothing(tmp_path: Path) -> None:
    here = kept(tmp_path)
    whole = HELLO + encode(Ask(1, 0, note("torn"))) + encode(Bye())
    head, chance = here.head, random.Random(7)
    for at in sorted(chance.sample(range(len(HELLO), len(whole) - len(encode(Bye())) - 1), 12)):
        line = line_to(here)
        line.sendall(whole[:at])
        line.shutdown(socket.SHUT_WR)
        assert ended(line)
    assert here.head == head
    line = line_to(here)
    for byte in whole:
        line.sendall(bytes((byte,)))
    assert ended(line)
    assert [event.words for event in here.state.exceptions] == ["torn"]
    here.close()


def test_who_says_nothing_is_let_go_and_many_are_not_let_in(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(turns, "HELLO_S", 0.2)
    monkeypatch.setattr(turns, "TICK_S", 0.1)
    here = kept(tmp_path)
    silent = [line_to(here) for _ in range(turns.MOST_STRANGERS + 4)]
    assert all(ended(line) for line in silent)
    there = joined(here.path)
    time.sleep(0.5)
    assert not isinstance(there.submit(note("let in")), Refusal)
    there.close()
    here.close()


def test_a_reader_that_does_not_read_is_dropped_and_nobody_waits_for_it(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(turns, "UNSENT", 2000)
    here = kept(tmp_path)
    line = line_to(here)
    line.setsockopt(socket.SOL_SOCKET, socket.SO_RCVBUF, 1)
    with suppress(ConnectionError):
        line.sendall(HELLO + encode(Ask(1, 0, note("x" * 10))) * 20_000)
    until(lambda: here.turns is not None and not here.turns.guests.here)
    began = time.monotonic()
    assert not isinstance(here.submit(note("not kept waiting")), Refusal)
    assert time.monotonic() - began < 2
    assert [event.words for event in here.state.exceptions] == ["x" * 10, "not kept waiting"]
    line.close()
    here.close()
