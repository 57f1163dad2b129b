"""A journal of 100,000 events: to verify it and to resume it, against plain JSON and hashes: python -m tests.bench.long_journal [EVENTS]

The limit is `json.loads` and a SHA-256 of each line. Goals: verified within 1.5 of it, resumed (verified, read, folded into the
state, ready for the next act) within 4. The journal is that of one run through the real engine whose forty steps are gone
through again and again, with halts and looks between; what a line takes must not grow with their number.
"""

import gc
import json
import random
import sys
import tempfile
from collections.abc import Callable
from functools import partial
from hashlib import sha256
from pathlib import Path
from time import process_time

from runner.engine import flow
from runner.engine import intents as want
from runner.engine.decide import AnyIntent
from runner.engine.intents import BeginRun
from runner.procedure.model import Procedure
from runner.record.clock import SteppedClock
from runner.record.disk import Disk
from runner.record.reading import verify_journal
from runner.record.run import Run
from runner.record.store import Store
from tests.engine.bench import HEAD, Bench, compiled
from tests.engine.wanderer import sensible


class Unsynced(Disk):
    """The disk without waiting for it: what is measured here is reading."""

    def sync(self, fd: int) -> None:
        """Nothing."""


def procedure_of(steps: int) -> Procedure:
    """One phase of steps with readings, calculations, holds, waits and second looks, which can be gone through again."""
    lines, sums = [], []
    for at in range(steps):
        extra = (
            f"read: {{r{at}: {{ask: Reading {at}, unit: mm, within: [10, 900]}}}}",
            "hold: {release: lead, confirm: [All is clear]}",
            f"read: {{r{at}: {{ask: Reading {at}, unit: mm, within: [10, 900]}}}}, second: {{by: lead, how: together}}",
            f"choose: {{c{at}: {{ask: Which one, of: [left, right]}}}}",
        )[at % 4]
        lines.append(f"      - {{id: step-{at}, by: unwind, do: Do number {at} as the drawing shows it., {extra}}}")
        if at % 4 == 0:
            sums.append(f'  twice_{at}: {{formula: "2 * r{at}", unit: mm}}\n')
    head = HEAD.replace("phases:\n", "".join(sums) + "phases:\n")
    return compiled("\n".join(["  - phase: Round and round", "    press: stopped", "    steps:", *lines, ""]), head)


def write_journal(folder: str, events: int) -> str:
    """The path of the journal of a run that has not ended: whenever its steps are done, they are done again."""
    clock, chance, procedure = SteppedClock(), random.Random(11), procedure_of(40)
    crew = (("unwind", "Uma Fictive"), ("rewind", "Rolf Fictive"), ("lead", "Lena Fictive"))
    inputs = (("width", "1000"), ("film", "kraft"))
    begin = BeginRun("Lena Fictive", "long", "live", False, crew, inputs, "bench")
    run = Run.begin(Store(folder), procedure, begin, clock, Unsynced())
    assert isinstance(run, Run), run
    bench = Bench(procedure)
    while run.journal.number < events:
        clock.advance(chance.uniform(0.5, 30))
        bench.state = run.state
        up = flow.current(procedure, run.state.position, 0) if run.state.position.cursors else None
        if run.state.halted:
            act: AnyIntent = want.Resume("Uma Fictive")
        elif up is None or up.id == "step-39":
            act = want.GoBack("Uma Fictive", "step-0", "once more")
        elif up.hold is not None and run.state.record(up.id).hold == "reached":
            act = want.ReleaseHold("Lena Fictive", up.id, up.hold.confirm)
        elif chance.random() < 0.02:
            act = (
                want.Pause("Uma Fictive", "go on")
                if chance.random() < 0.7
                else want.LookAt("Uma Fictive", "guard", "open")
            )
        else:
            act = sensible(bench, up, chance)
        run.submit(act)
    run.close()
    return run.path


def limit(path: str) -> None:
    """Parse and hash each line."""
    with open(path, "rb") as file:
        for line in file:
            text = line.split(b" ", 2)[2]
            json.loads(text)
            sha256(text).hexdigest()


def seconds(act: Callable[[], object], rounds: int = 3) -> float:
    """Of the processor, the quickest of some: a machine that has other work tells the same."""
    taken = []
    for _ in range(rounds):
        began = process_time()
        act()
        taken.append(process_time() - began)
    return min(taken)


def resume(path: str) -> None:
    """As `changeover resume` does before it shows anything."""
    gc.disable()  # as the command does
    run = Run.resume(path, SteppedClock())
    gc.enable()
    assert isinstance(run, Run), run
    run.close()


def main(events: int) -> None:
    """Print each as a ratio, for a tenth of the length too, so that growth shows."""
    with tempfile.TemporaryDirectory() as folder:
        for count in (events // 10, events):
            path = write_journal(str(Path(folder, str(count))), count)
            one = seconds(partial(limit, path))
            print(
                f"{count} events, {Path(path).stat().st_size / 1e6:.0f} MB: json.loads + sha256 {one / count * 1e6:.1f} us a line"
            )
            for what, act, goal in (("verify", verify_journal, 1.5), ("resume", resume, 4.0)):
                took = seconds(partial(act, path))
                print(
                    f"  {what}  {took:6.2f} s  {took / count * 1e6:5.1f} us a line  {took / one:5.2f} x (goal {goal})"
                )


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 100_000)
