"""A child process for the whole job on a terminal: a shipped procedure, begun or resumed, on a clock that goes fast.

Arguments: begin or resume, records folder, procedure, times, and for begin crew and inputs as JSON.
"""

import json
import os
import sys
import time

from runner.engine.intents import BeginRun, Refusal
from runner.engine.moment import Moment
from runner.record.clock import SteppedClock
from runner.record.refused import Refused
from runner.record.run import Run
from runner.record.store import Store
from runner.screen.app import run_app
from tests.procedures.shipped import procedure_of


class FastClock:
    """Goes some times faster than real; every process is a boot of its own."""

    def __init__(self, times: float) -> None:
        self.times = times
        self.began = time.monotonic()
        self.clock = SteppedClock(boot=f"process-{os.getpid()}")

    def now(self) -> Moment:
        """This moment."""
        self.clock.advance(max(0.0, (time.monotonic() - self.began) * self.times - self.clock.tick))
        return self.clock.now()


def main(what: str, records: str, name: str, times: str, given: str = "{}") -> int:
    """Lead through the run."""
    store, clock = Store(records), FastClock(float(times))
    if what == "resume":
        run: Run | Refusal | Refused = Run.resume(store.unfinished()[0].path, clock)
    else:
        ticket = json.loads(given)
        crew, inputs = tuple(map(tuple, ticket["crew"])), tuple(map(tuple, ticket["inputs"]))
        begin = BeginRun(crew[0][1], "whole-job", "live", False, crew, inputs, "test")
        run = Run.begin(store, procedure_of(name), begin, clock)
    if not isinstance(run, Run):
        print("refused", run)
        return 2
    left = run_app(run)
    run.close()
    return 0 if left.outcome == "finished" else 4


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
