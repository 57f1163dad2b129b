"""`changeover scan-test`: what a barcode reader sends, how fast, and how the program takes it."""

import argparse
import sys

from runner.cli.exits import DONE, USAGE
from runner.cli.terminal import at_screen


def arguments(parser: argparse.ArgumentParser) -> None:
    """What the command takes: nothing."""
    parser.description = "Shows what a barcode reader sends and how it is taken. Nothing is kept. Ctrl-C leaves."


def run(options: argparse.Namespace) -> int:  # noqa: ARG001 - it takes nothing
    """Until it is left."""
    if not at_screen():
        print("changeover: no terminal here; scan-test needs one, with the reader at it", file=sys.stderr)
        return USAGE
    from runner.record.clock import SystemClock
    from runner.screen.scan_test import run_scan_test

    run_scan_test(SystemClock().now)
    return DONE
