"""`changeover` alone: procedures of a folder, unfinished runs and records on one screen; picking one goes on with it."""

import argparse
import os
import sys
from typing import TYPE_CHECKING

from runner.cli.exits import DONE, SIGNAL, UNFINISHED, USAGE
from runner.cli.files import Unreadable, fetch_beside, read_text
from runner.cli.records import add_records, store_of
from runner.record.store import Store, Summary

if TYPE_CHECKING:
    from runner.screen.pages.home import Listing

NEWEST = 12
"""Records on the home page."""


def arguments(parser: argparse.ArgumentParser) -> None:
    """What the command takes."""
    parser.add_argument("--procedures", metavar="DIR", default="procedures", help="folder of procedures (procedures)")
    add_records(parser)


def run(options: argparse.Namespace) -> int:
    """The home page, until it is left."""
    if not (sys.stdin.isatty() and sys.stdout.isatty()):
        print("changeover: no terminal here; see changeover --help", file=sys.stderr)
        return USAGE
    from runner.record.clock import SystemClock
    from runner.screen.app import run_home

    store = store_of(options)
    while True:
        left = run_home(listing_of(options.procedures, store), SystemClock().now)
        if left.signal_code > SIGNAL:
            return left.signal_code
        what, path = left.choice
        if not what:
            return DONE
        code = pick(what, path, options)
        if code > SIGNAL:
            return code


def listing_of(folder: str, store: Store) -> "Listing":
    """What there is to pick."""
    from runner.screen.pages.home import HomeLine, Listing

    unfinished = store.unfinished()
    ended = tuple(summary for summary in store.recent(NEWEST) if summary.outcome)
    return Listing(
        tuple(HomeLine(summary.path, words_of(summary)) for summary in unfinished),
        tuple(HomeLine(path, words) for path, words in procedures_in(folder)),
        tuple(HomeLine(summary.path, words_of(summary)) for summary in ended),
    )


def words_of(summary: Summary) -> str:
    """A run in one line."""
    mode = "" if summary.mode == "live" else " DRY RUN"
    played = " PLAYED" if summary.played else ""
    end = summary.words or summary.outcome or "open"
    return f"{summary.run}{mode}{played}  {summary.title}  {summary.last[:16].replace('T', ' ')} UTC  {end}"


def procedures_in(folder: str) -> list[tuple[str, str]]:
    """(path, title with revision and status) of the procedures of a folder."""
    from runner.procedure.compile import compile_procedure

    found = []
    names = sorted(os.listdir(folder)) if os.path.isdir(folder) else []
    for name in names:
        path = os.path.join(folder, name)
        text = read_text(path) if name.endswith(".procedure.yaml") else Unreadable("")
        if isinstance(text, Unreadable):
            continue
        procedure = compile_procedure(text, path, fetch_beside(path)).procedure
        if procedure is None:
            found.append((path, f"{name}  has faults; lint it"))
        else:
            found.append((path, f"{procedure.title}  revision {procedure.revision}  {procedure.status}"))
    return found


def pick(what: str, path: str, options: argparse.Namespace) -> int:
    """Go on with what was picked; a job file beside a procedure is offered on its start page."""
    from importlib import import_module

    given = [path]
    if what == "run":
        job = path.replace(".procedure.yaml", ".job.yaml")
        given += ["--job", job] if os.path.isfile(job) else []
    if options.records:
        given += ["--records", options.records]
    command = import_module(f"runner.cli.commands.{what}")
    parser = argparse.ArgumentParser(prog=f"changeover {what}")
    command.arguments(parser)
    code = int(command.run(parser.parse_args(given)))
    if what == "report" or code not in (DONE, UNFINISHED):
        print("Press Enter to go back.", end="", flush=True)
        sys.stdin.readline()
    return code
