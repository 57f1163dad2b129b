"""`changeover dry-run PROC`: the same run with no press, marked on every line and kept in a folder of its own."""

import argparse

from runner.cli.commands import run as live


def arguments(parser: argparse.ArgumentParser) -> None:
    """The same as of a live run."""
    live.arguments(parser)


def run(options: argparse.Namespace) -> int:
    """A dry run."""
    return live.run_in_mode(options, "dry")
