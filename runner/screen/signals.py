"""Signals and closed terminals: leave the alternate screen and exit with 128 + n within two seconds.

The record needs nothing more: what was shown as kept is on the disk. The only part of the screen that knows the
platform. A terminal that is gone may block writing, so a watchdog ends the process when leaving takes too long.
"""

import asyncio
import os
import signal
import threading
from collections.abc import Callable

NAMES = ("SIGTERM", "SIGHUP", "SIGINT", "SIGQUIT")
"""Those that this platform has are taken."""
WATCHDOG_S = 1.5


def take_signals(loop: asyncio.AbstractEventLoop, leave: Callable[[int], None]) -> None:
    """Call `leave` with the exit code when a signal comes."""
    for name in NAMES:
        number = getattr(signal, name, None)
        if number is None:
            continue
        try:
            loop.add_signal_handler(number, _came, int(number), leave)
        except (NotImplementedError, RuntimeError, ValueError):
            signal.signal(number, lambda got, _frame: loop.call_soon_threadsafe(_came, got, leave))


def _came(number: int, leave: Callable[[int], None]) -> None:
    code = 128 + number
    watchdog = threading.Timer(WATCHDOG_S, os._exit, (code,))
    watchdog.daemon = True
    watchdog.start()
    leave(code)
