"""`changeover review RUN`: decide about the exceptions of a run that has ended, and sign its record.

With --json nothing is asked: how the review stands is told, and that is all.
"""

import argparse
import json
import sys

from runner.cli.exits import DAMAGED, DONE, UNFINISHED, USAGE
from runner.cli.load import Stopped
from runner.cli.looks import add_looks, looks_of
from runner.cli.records import add_records, journal_path
from runner.cli.site import add_site, site_of
from runner.cli.terminal import at_screen
from runner.engine.decisions.review import undisposed
from runner.engine.state import REVIEWED_BY, RunState
from runner.record.clock import SystemClock
from runner.record.head_code import head_code
from runner.record.reading import verify_journal
from runner.record.refused import Refused
from runner.record.run import Run
from runner.say.text import say


def arguments(parser: argparse.ArgumentParser) -> None:
    """What the command takes."""
    parser.add_argument("run", metavar="RUN", help="a run's id, the beginning of it, or the path of its journal")
    add_records(parser)
    add_site(parser)
    add_looks(parser)
    parser.add_argument("--plain", action="store_true", help="line by line")
    parser.add_argument("--json", action="store_true", help="only tell how the review stands, as JSON on stdout")


def run(options: argparse.Namespace) -> int:
    """Open the record and lead through its review."""
    path = journal_path(options)
    if isinstance(path, Refused):
        print(f"changeover: {path.words}", file=sys.stderr)
        return USAGE
    if not (options.plain or options.json) and not at_screen():
        print(say("changeover: no terminal here; use --plain"), file=sys.stderr)
        return USAGE
    site = site_of(options)
    if isinstance(site, Stopped):
        return site.code
    opened = Run.resume(path, SystemClock(), site=site, after_end=True)
    if isinstance(opened, Refused):
        print(f"changeover: {opened.words}", file=sys.stderr)
        found = verify_journal(path)
        damaged = opened.damaged or (not isinstance(found, Refused) and found.events and not found.whole)
        return DAMAGED if damaged else USAGE
    try:
        if not options.json:
            lead(options, opened)
    finally:
        opened.close()
    return told(options, opened)


def lead(options: argparse.Namespace, opened: Run) -> None:
    """On the screen or line by line."""
    from runner.cli.leading import lines_of
    from runner.screen.pages.review import ReviewPage

    if options.plain:
        from runner.screen.plain import run_plain

        run_plain(opened, *lines_of(options), first=ReviewPage())
        return
    from runner.screen.app import run_app

    run_app(opened, looks_of(options), first=ReviewPage())


def told(options: argparse.Namespace, opened: Run) -> int:
    """How the review stands."""
    state, left = opened.state, len(undisposed(opened.state))
    if options.json:
        print(json.dumps(standing(opened), ensure_ascii=False))
    else:
        signed = say("reviewed and signed") if is_signed(state) else say("not signed as reviewed")
        print(
            say(
                "run {run}: {count} to decide, {signed}; head code {code}",
                run=state.run,
                count=left,
                signed=signed,
                code=head_code(opened.head),
            ),
            file=sys.stderr,
        )
    return DONE if is_signed(state) else UNFINISHED


def is_signed(state: RunState) -> bool:
    """Whether somebody signed the record as reviewed, and nothing was added since."""
    return any(one.meaning == REVIEWED_BY and not one.added for one in state.signatures)


def standing(opened: Run) -> dict[str, object]:
    """The same as plain data."""
    state = opened.state
    return {
        "run": state.run,
        "journal": opened.path,
        "outcome": state.outcome,
        "head": opened.head,
        "code": head_code(opened.head),
        "signed": is_signed(state),
        "exceptions": [
            {
                "number": noted.number,
                "severity": noted.severity,
                "kind": noted.kind,
                "words": noted.words,
                "open": not noted.closed,
                "disposition": noted.disposition or None,
                "decided_by": noted.disposed_by or None,
                "why": noted.disposed or None,
            }
            for noted in state.exceptions
        ],
        "signatures": [
            {
                "meaning": one.meaning,
                "by": one.by,
                "at": one.at.utc,
                "how": one.how,
                "head": one.head,
                "count": one.count,
                "added_since": one.added,
            }
            for one in state.signatures
        ],
    }
