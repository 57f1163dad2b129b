"""`changeover site-pin`: the hash of a PIN, for `pin` in `site.yaml`. The PIN is typed twice, shown nowhere, kept nowhere.

Without a terminal it is one line of standard input.
"""

import argparse
import sys

from runner.cli.exits import DONE, USAGE


def arguments(parser: argparse.ArgumentParser) -> None:
    """What the command takes: nothing, so that no PIN stands in a list of commands."""
    parser.epilog = "The person types the PIN; the hash on stdout goes into site.yaml."


def run(options: argparse.Namespace) -> int:  # noqa: ARG001 - every command is called alike
    """Ask, and print the hash."""
    from runner.record.pins import hash_of, pin_fault

    pin = asked()
    if pin is None:
        print("changeover: the two were not the same; nothing is printed", file=sys.stderr)
        return USAGE
    fault = pin_fault(pin)
    if fault:
        print(f"changeover: {fault}", file=sys.stderr)
        return USAGE
    print(hash_of(pin))
    return DONE


def asked() -> str | None:
    """The PIN; None where it was typed twice otherwise, or not at all."""
    if not sys.stdin.isatty():
        return sys.stdin.readline().rstrip("\r\n")
    from getpass import getpass

    try:
        pin = getpass("PIN (not shown): ", sys.stderr)
        return pin if getpass("once more: ", sys.stderr) == pin else None
    except EOFError:
        return None
