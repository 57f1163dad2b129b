"""`changeover rules`: every rule that lint knows, a line each."""

import argparse
import json

from runner.cli.exits import DONE
from runner.lint.pages import every_rule


def arguments(parser: argparse.ArgumentParser) -> None:
    """What the command takes."""
    parser.add_argument("--json", action="store_true", help="as JSON on stdout")


def run(options: argparse.Namespace) -> int:
    """List the rules."""
    rows = every_rule()
    if options.json:
        data = [{"rule": row.id, "severity": row.severity.word, "what": row.what} for row in rows]
        print(json.dumps(data, ensure_ascii=False))
        return DONE
    width = max(len(row.id) for row in rows)
    for row in rows:
        print(f"{row.id:<{width}}  {row.severity.word:<7}  {row.what}")
    return DONE
