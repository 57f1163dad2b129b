"""`changeover diff OLD NEW`: what changed in meaning between two procedures, and what became weaker.

Both are compiled first; one that cannot be is told as lint tells it. The answer goes to stdout and all talk to stderr.
"""

import argparse
import os
import sys

from runner.cli.exits import DONE, FINDINGS, USAGE
from runner.cli.files import write_out
from runner.cli.load import Stopped, load_procedure
from runner.lint.diff.change import LEVELS
from runner.lint.diff.differ import diff
from runner.lint.diff.formats import FORMATS
from runner.lint.diff.formats.format import counts
from runner.lint.output import wants_colour


def arguments(parser: argparse.ArgumentParser) -> None:
    """What the command takes."""
    stdin = "a *.procedure.yaml file; - for standard input, with fragments from the folder that one is in"
    parser.add_argument("old", metavar="OLD", help=stdin)
    parser.add_argument("new", metavar="NEW", help="the same, as it is now")
    words = "; ".join(f"{form.name}: {form.doc}" for form in FORMATS.values())
    parser.add_argument("--format", choices=tuple(FORMATS), default="text", help=words)
    parser.add_argument("--json", action="store_const", const="json", dest="format", help="the same as --format json")
    levels = "; ".join(f"{name}: {doc}" for name, (_, doc) in LEVELS.items())
    parser.add_argument(
        "--fail-level",
        choices=tuple(LEVELS),
        default="maybe",
        help=f"what makes the exit code 1, `maybe` if left out. {levels}",
    )
    parser.add_argument("--output", metavar="FILE", help="write here instead of stdout")


def run(options: argparse.Namespace) -> int:
    """Compare two procedures."""
    if options.old == options.new == "-":
        print("changeover: only one of the two can come from standard input", file=sys.stderr)
        return USAGE
    old, new = load_procedure(options.old), load_procedure(options.new)
    for loaded in (old, new):
        if isinstance(loaded, Stopped):
            return loaded.code
    assert not isinstance(old, Stopped)
    assert not isinstance(new, Stopped)
    found = diff(old, new)
    colour = options.output is None and wants_colour(sys.stdout.isatty(), os.environ)
    problem = write_out(FORMATS[options.format].render(found, colour).encode(), options.output)
    if problem:
        print(f"changeover: {problem}", file=sys.stderr)
        return USAGE
    if options.output is not None:
        print(f"changeover: {counts(found)}", file=sys.stderr)
    failing, _ = LEVELS[options.fail_level]
    return FINDINGS if any(change.weight in failing for change in found.changes) else DONE
