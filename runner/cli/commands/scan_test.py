"""`changeover scan-test`: what a barcode reader sends, how fast, and how the program takes it."""

import argparse
import sys

from runner.cli.exits import DONE, USAGE
from runner.cli.looks import add_language
from runner.cli.terminal import at_screen
from runner.say.text import say


def arguments(parser: argparse.ArgumentParser) -> None:
    """What the command takes: the language of the screen."""
    parser.description = "Shows what a barcode reader sends and how it is taken. Nothing is kept. Ctrl-C leaves."
    add_language(parser)


def run(options: argparse.Namespace) -> int:  # noqa: ARG001 - the language is chosen before
    """Until it is left."""
    if not at_screen():
        print(say("changeover: no terminal here; scan-test needs one, with the reader at it"), file=sys.stderr)
        return USAGE
    from runner.record.clock import SystemClock
    from runner.screen.scan_test import run_scan_test

    run_scan_test(SystemClock().now)
    return DONE
