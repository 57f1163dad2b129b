"""Records for benchmarks: the events of one real played run, kept again under other names, at other days and paces.

Each is a whole journal that verifies. The first line carries a real procedure text, so that what reads it must take it.
"""

import os
import random
from collections.abc import Iterator
from dataclasses import replace
from datetime import datetime, timedelta
from pathlib import Path
from tempfile import TemporaryDirectory

from runner.engine.events import Event, RunBegun, Sealed
from runner.engine.moment import Moment
from runner.record.clock import SteppedClock, utc_text
from runner.record.line import GENESIS, Entry, Mark, decode, encode
from runner.record.run import Run
from runner.record.store import SUFFIX, Store
from runner.training.played import Player
from tests.procedures.plays import answers_of, intent_for
from tests.procedures.shipped import procedure_of

START = datetime.fromisoformat("2024-01-02T06:00:00.000Z")


def played_entries(name: str) -> tuple[Entry, ...]:
    """The lines of a run of a shipped procedure, as of people."""
    clock = SteppedClock("2024-01-02T06:00:00.000Z")
    intent = replace(intent_for(name, {}), run="base", mode="live", played=False)
    with TemporaryDirectory() as folder:
        run = Run.begin(Store(folder), procedure_of(name), intent, clock)
        assert isinstance(run, Run), run
        player = Player(run, clock, answers_of(name))
        assert player.play() == "finished", player.stopped
        run.close()
        entries = [decode(line) for line in Path(run.path).read_bytes().splitlines(keepends=True)]
    return tuple(entry for entry in entries if isinstance(entry, Entry))


def lines_of(entries: tuple[Entry, ...], run: str, began: datetime, chance: random.Random) -> Iterator[bytes]:
    """The lines of another run: each event some time after the one before, as long as then, give or take."""
    mark, head, tick, before = Mark(run, "live"), GENESIS, 0.0, entries[0].event.at.tick
    for entry in entries:
        event = entry.event
        tick += (event.at.tick - before) * chance.uniform(0.7, 1.6)
        before = event.at.tick
        at = Moment(utc_text(began + timedelta(seconds=tick)), round(1000.0 + tick, 3), f"boot-{run}")
        moved: Event = replace(event, at=at)
        if isinstance(moved, RunBegun):
            moved = replace(moved, run=run)
        if isinstance(moved, Sealed):  # it names the line before it
            moved = replace(moved, head=head, count=entry.number - 1)
        line, head = encode(moved, entry.number, head, mark, entry.left, entry.of)
        yield line


def write_records(folder: str, count: int, name: str = "web-break") -> tuple[int, int]:
    """So many records of a procedure; (lines, bytes) in all."""
    entries, chance = played_entries(name), random.Random(7)
    lines = size = 0
    for at in range(count):
        began = START + timedelta(hours=2 * at)
        run = f"{began:%Y%m%d-%H%M}-{at:04x}"
        place = os.path.join(folder, "live", f"{began:%Y}", f"{began:%m}")
        os.makedirs(place, exist_ok=True)
        content = list(lines_of(entries, run, began, chance))
        with open(os.path.join(place, run + SUFFIX), "wb") as file:
            file.write(b"".join(content))
        lines, size = lines + len(content), size + sum(map(len, content))
    return lines, size
