"""People who do anything, at three terminals of one run at once: each terminal's state is the replay of one whole record."""

import random
import threading
from pathlib import Path
from typing import cast

import pytest

from runner.engine.evolve import replay
from runner.engine.intents import Abandon, Refusal
from runner.record.clock import SteppedClock
from runner.record.run import Run
from runner.record.shared.joined import Joined
from runner.record.shared.keeper import Keeper
from tests.engine.wanderer import wish
from tests.record.shared.bench import events_of, joined, kept, until
from tests.record.test_run import PROCEDURE, Wandering

ACTS = 200


@pytest.mark.parametrize("seed", range(4))
def test_whatever_is_done_at_three_terminals_all_see_the_same_run(seed: int, tmp_path: Path) -> None:
    here = kept(tmp_path)
    terminals: tuple[Keeper | Joined, ...] = (here, joined(here.path, "B"), joined(here.path, "C"))
    taken: dict[str, int] = {}

    def sit(at: int) -> None:
        run, chance = terminals[at], random.Random(seed * 10 + at)
        person = Wandering(cast("Run", run), SteppedClock())
        lines = 0
        for _ in range(ACTS):
            intent = wish(person, chance)
            if isinstance(intent, Abandon):
                continue  # so that there is more to see
            done = run.submit(intent)
            lines += 0 if isinstance(done, Refusal) else sum(event.terminal != "" for event in done)
            if run.state.outcome:
                break
        taken[str(at)] = lines

    sitting = [threading.Thread(target=sit, args=(at,)) for at in range(len(terminals))]
    for one in sitting:
        one.start()
    for one in sitting:
        one.join(60)
    assert len(taken) == len(terminals)
    until(lambda: all(terminal.head == here.head for terminal in terminals))
    events = events_of(here.path)
    assert len(events) > 15, "they hardly did anything"
    assert all(terminal.state == here.state for terminal in terminals)
    assert here.state == replay(PROCEDURE, events)
    by_terminal = {name: sum(event.terminal == name for event in events) for name in ("B", "C")}
    assert taken["1"] <= by_terminal["B"]  # refused acts that are kept count there too
    assert taken["2"] <= by_terminal["C"]
    for terminal in reversed(terminals):
        terminal.close()
