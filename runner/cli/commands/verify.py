"""`changeover verify RUN`: is this record whole and unchanged. Names the line where it is not, and exits 5 then."""

import argparse
import json
import sys

from runner.cli.exits import DAMAGED, DONE, USAGE
from runner.cli.records import add_records, journal_path
from runner.record.reading import verify_journal
from runner.record.refused import Refused


def arguments(parser: argparse.ArgumentParser) -> None:
    """What the command takes."""
    parser.add_argument("run", metavar="RUN", help="a run's id, the beginning of it, or the path of its journal")
    add_records(parser)
    parser.add_argument("--json", action="store_true", help="the result as JSON on stdout")


def run(options: argparse.Namespace) -> int:
    """Read every line and say what is wrong with it."""
    path = journal_path(options)
    if isinstance(path, Refused):
        print(f"changeover: {path.words}", file=sys.stderr)
        return USAGE
    found = verify_journal(path)
    if isinstance(found, Refused):
        print(f"changeover: {found.words}", file=sys.stderr)
        return USAGE
    if options.json:
        flaws = [{"line": flaw.line, "kind": str(flaw.kind), "message": flaw.words} for flaw in found.flaws]
        print(
            json.dumps(
                {
                    "journal": path,
                    "run": found.run,
                    "mode": found.mode,
                    "whole": found.whole,
                    "events": found.events,
                    "head": found.head,
                    "outcome": found.outcome or "open",
                    "flaws": flaws,
                },
                ensure_ascii=False,
            )
        )
        return DONE if found.whole else DAMAGED
    for flaw in found.flaws:
        print(f"{path}:{flaw.line}: {flaw.kind}: {flaw.words}")
    if not found.whole:
        print(f"changeover: the record is damaged; {found.events} lines are in order", file=sys.stderr)
        return DAMAGED
    print(f"{path}: whole; {found.events} events; {found.outcome or 'open'}; head {found.head}")
    return DONE
