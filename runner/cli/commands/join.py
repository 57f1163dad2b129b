"""`changeover join [RUN]`: a second terminal on a run that is open at another; without RUN the only one that is.

Both see both lists. The other terminal keeps the record; what is done here goes through it, and its name stands with it.
"""

import argparse
import sys

from runner.cli.commands.resume import the_only
from runner.cli.exits import DAMAGED, USAGE
from runner.cli.joining import joined_run, lane_of
from runner.cli.load import Stopped
from runner.cli.looks import add_looks
from runner.cli.records import add_records, index_of, store_of
from runner.cli.site import add_site, site_of
from runner.cli.terminal import at_screen
from runner.record.clock import SystemClock
from runner.record.reading import verify_journal
from runner.record.refused import Refused
from runner.record.shared.address import is_kept
from runner.record.store import Store
from runner.say.text import say


def arguments(parser: argparse.ArgumentParser) -> None:
    """What the command takes."""
    parser.add_argument("run", metavar="RUN", nargs="?", help="a run's id, the beginning of it, or its journal's path")
    parser.add_argument("--side", metavar="ROLE", default="", help="whose list is shown first here (the second list)")
    parser.add_argument("--name", metavar="NAME", default="", help="what this terminal is called in the record")
    add_records(parser)
    add_site(parser)
    add_looks(parser)
    parser.add_argument("--plain", action="store_true", help="line by line")
    parser.add_argument("--json", action="store_true", help="run, journal and outcome as JSON on stdout at the end")


def run(options: argparse.Namespace) -> int:
    """Join the run and lead a person through it."""
    if not options.plain and not at_screen():
        print(say("changeover: no terminal here; use --plain"), file=sys.stderr)
        return USAGE
    store = store_of(options)
    path = store.find(options.run) if options.run else the_only_open(store)
    if isinstance(path, Refused):
        print(f"changeover: {path.words}", file=sys.stderr)
        return USAGE
    site = site_of(options)
    if isinstance(site, Stopped):
        return site.code
    joined = joined_run(path, SystemClock(), options.name, site)
    if isinstance(joined, Refused):
        print(f"changeover: {joined.words}", file=sys.stderr)
        found = verify_journal(path)
        damaged = not isinstance(found, Refused) and found.events and not found.whole
        return DAMAGED if damaged else USAGE
    lane = lane_of(joined.procedure, options.side)
    if isinstance(lane, Refused):
        joined.close()
        print(f"changeover: {lane.words}", file=sys.stderr)
        return USAGE
    from runner.cli.leading import go_on

    return go_on(options, joined, lane)


def the_only_open(store: Store) -> str | Refused:
    """The journal of the only run that can be joined, else of the only unfinished one."""
    from runner.record.index.look import summaries

    found = [one for one in summaries(store, index_of(store)) if not one.outcome and is_kept(one.path)]
    if len(found) > 1:
        runs = "; ".join(one.run for one in found)
        return Refused(say("{count} runs are open at other terminals; name one: {runs}", count=len(found), runs=runs))
    return found[0].path if found else the_only(store)
