"""A child process for terminal tests: the real screen over a real record that other terminals may join.

Argument: the folder of records.
"""

import sys

from runner.engine.intents import BeginRun, Refusal
from runner.record.clock import SystemClock
from runner.record.run import Run
from runner.record.shared.keeper import Keeper
from runner.record.store import Store
from runner.screen.app import run_app
from tests.screen.bench import CREW, INPUTS, compiled


def main(records: str) -> int:
    """Begin a run, let others in, lead through it, say how it was left."""
    begin = BeginRun(CREW[0][1], "run-1", "live", False, CREW, INPUTS, "test")
    run = Run.begin(Store(records), compiled(), begin, SystemClock())
    if isinstance(run, Refusal):
        print("refused", run.reason, run.missing)
        return 2
    keeper = Keeper(run).open()
    left = run_app(keeper)
    keeper.close()
    print("left", left.outcome)
    return 0


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
