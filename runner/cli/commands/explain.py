"""`changeover explain RULE`: one rule's page: what, why, the source, a wrong and a right example."""

import argparse
import json
import sys

from runner.cli.exits import DONE, USAGE
from runner.lint.pages import entry_of, every_rule, printed


def arguments(parser: argparse.ArgumentParser) -> None:
    """What the command takes."""
    parser.add_argument("rule", metavar="RULE", help="a rule's id, as findings show it")
    parser.add_argument("--json", action="store_true", help="as JSON on stdout")


def run(options: argparse.Namespace) -> int:
    """Print the page."""
    entry = entry_of(options.rule)
    if entry is None:
        from difflib import get_close_matches

        close = get_close_matches(options.rule, [entry.id for entry in every_rule()], 1)
        hint = f"; {close[0]}?" if close else "; `changeover rules` lists them"
        print(f"changeover: no rule {options.rule!r}{hint}", file=sys.stderr)
        return USAGE
    if options.json:
        print(json.dumps({**entry._asdict(), "severity": entry.severity.word}, ensure_ascii=False))
        return DONE
    print(printed(entry).rstrip("\n"))
    return DONE
