"""A run that is kept in this process, and terminals that join it over real sockets."""

import time
from collections.abc import Callable
from pathlib import Path

from runner.engine import events as ev
from runner.engine.evolve import replay
from runner.record.clock import SystemClock
from runner.record.disk import DISK, Io
from runner.record.refused import Refused
from runner.record.run import Run
from runner.record.shared.joined import Joined, join
from runner.record.shared.keeper import Keeper
from runner.record.store import Store
from runner.record.verify import verify_bytes
from tests.record.test_run import PROCEDURE, begin_intent


def kept(folder: Path, io: Io = DISK) -> Keeper:
    """A run that others may join."""
    run = Run.begin(Store(str(folder), io), PROCEDURE, begin_intent(), SystemClock(), io)
    assert isinstance(run, Run), run
    return Keeper(run).open()


def opened_again(path: str) -> Keeper | Refused:
    """As a joined terminal takes a run over."""
    run = Run.resume(path, SystemClock())
    return run if isinstance(run, Refused) else Keeper(run).open()


def joined(path: str, name: str = "B") -> Joined:
    """A terminal that has joined."""
    other = join(path, SystemClock(), f"session-{name}", name, lambda: opened_again(path))
    assert isinstance(other, Joined), other
    return other


def until(true: Callable[[], object], seconds: float = 8.0) -> None:
    """Wait for something; fails the test where it does not come."""
    end = time.monotonic() + seconds
    while not true():
        assert time.monotonic() < end, "it did not come"
        time.sleep(0.005)


def events_of(path: str) -> list[ev.Event]:
    """All that is on the disk, verified, in order; replaying them gives a state."""
    from runner.record.reading import read_journal

    found: list[ev.Event] = []
    verified = read_journal(path, lambda entry: found.append(entry.event))
    assert not isinstance(verified, Refused), verified
    assert verified.whole, verified.flaws
    assert verify_bytes(Path(path).read_bytes()).whole
    replay(PROCEDURE, found)
    return found
