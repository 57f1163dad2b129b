"""The whole command on a clock that goes some times faster than real; every process is a boot of its own.

Arguments: how many times faster, then what the command is given. Nothing but the clock is another than in use.
"""

import os
import sys
import time

from runner.cli.main import main
from runner.engine.moment import Moment
from runner.record.clock import SteppedClock, SystemClock


def hasten(times: float) -> None:
    """From now on every system clock of this process goes that fast."""
    began = time.monotonic()
    clock = SteppedClock(SystemClock().now().utc, boot=f"process-{os.getpid()}")

    def now(self: SystemClock) -> Moment:
        """This moment."""
        clock.advance(max(0.0, (time.monotonic() - began) * times - clock.tick))
        return clock.now()

    SystemClock.now = now  # type: ignore[method-assign]  # in this process alone


if __name__ == "__main__":
    hasten(float(sys.argv[1]))
    sys.exit(main(sys.argv[2:]))
