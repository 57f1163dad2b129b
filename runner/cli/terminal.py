"""Whether a person sits at a screen here: at a terminal, or at a page that `changeover serve` brings to a browser."""

import os
import sys

SERVED = "CHANGEOVER_SERVED"
"""Set for the process behind a page in a browser: its screen goes through pipes, and so no file here is a terminal."""


def served() -> bool:
    """The screen goes to a browser."""
    return bool(os.environ.get(SERVED))


def at_screen() -> bool:
    """The full screen can be shown."""
    return served() or (sys.stdin.isatty() and sys.stdout.isatty())
