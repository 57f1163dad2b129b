"""A child process for terminal tests: the real screen over a real record.

Arguments: records folder, mode, and how many times faster than real the clock goes, so that keys need no long pauses.
LOOK and ASCII in the environment say how it looks.
"""

import os
import sys
import time
from argparse import Namespace

from runner.cli.looks import looks_of
from runner.engine.intents import BeginRun, Refusal
from runner.engine.moment import Moment
from runner.record.clock import SteppedClock
from runner.record.run import Run
from runner.record.store import Store
from runner.screen.app import run_app
from tests.screen.bench import CREW, INPUTS, compiled


class QuickClock:
    """A clock that goes some times faster than real."""

    def __init__(self, times: float) -> None:
        self.times = times
        self.began = time.monotonic()
        self.clock = SteppedClock()

    def now(self) -> Moment:
        """This moment."""
        passed = (time.monotonic() - self.began) * self.times
        self.clock.advance(max(0.0, passed - self.clock.tick))
        return self.clock.now()


def main(records: str, mode: str, times: str = "1") -> int:
    """Begin a run, lead through it, say how it was left."""
    begin = BeginRun(CREW[0][1], "run-1", mode, False, CREW, INPUTS, "test")
    run = Run.begin(Store(records), compiled(), begin, QuickClock(float(times)))
    if isinstance(run, Refusal):
        print("refused", run.reason, run.missing)
        return 2
    looks = looks_of(Namespace(look=os.environ.get("LOOK"), ascii=bool(os.environ.get("ASCII"))))
    left = run_app(run, looks)
    path = run.path
    run.close()
    print("left", left.outcome, left.signal_code, path)
    return left.signal_code or (0 if left.outcome == "finished" else 4)


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
