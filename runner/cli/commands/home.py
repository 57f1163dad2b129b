"""`changeover` alone: procedures of a folder, unfinished runs and records on one screen; picking one goes on with it."""

import argparse
import os
import sys
from typing import TYPE_CHECKING

from runner.cli.exits import DONE, SIGNAL, UNFINISHED, USAGE
from runner.cli.files import Unreadable, fetch_beside, read_text
from runner.cli.looks import add_looks, looks_of
from runner.cli.records import add_records, store_of
from runner.cli.site import add_site
from runner.cli.terminal import at_screen, served
from runner.record.store import Store, Summary

if TYPE_CHECKING:
    from runner.screen.pages.home import Listing

NEWEST = 12
"""Records on the home page."""


def arguments(parser: argparse.ArgumentParser) -> None:
    """What the command takes."""
    parser.add_argument("--procedures", metavar="DIR", default="procedures", help="folder of procedures (procedures)")
    add_records(parser)
    add_site(parser)
    add_looks(parser)


def run(options: argparse.Namespace) -> int:
    """The home page, until it is left."""
    if not at_screen():
        print("changeover: no terminal here; see changeover --help", file=sys.stderr)
        return USAGE
    from runner.record.clock import SystemClock
    from runner.screen.app import run_home

    store = store_of(options)
    said = ""
    while True:
        listing = listing_of(options.procedures, store)
        if served():  # a report is printed, and there is nothing here to print on
            listing = listing._replace(recent=())
        left = run_home(listing, SystemClock().now, looks_of(options), said)
        if left.signal_code > SIGNAL:
            return left.signal_code
        options.look = left.palette  # as it was on the screen last, here and in what is picked
        what, path = left.choice
        if not what:
            return DONE
        code, said = pick_served(what, path, options) if served() else (pick(what, path, options), "")
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
    """(path, title with revision and status) of the procedures of a folder, or of the one that is named."""
    from runner.procedure.compile import compile_procedure

    found = []
    names = sorted(os.listdir(folder)) if os.path.isdir(folder) else []
    paths = [os.path.join(folder, name) for name in names if name.endswith(".procedure.yaml")]
    for path in [folder] if os.path.isfile(folder) else paths:
        name, text = os.path.basename(path), read_text(path)
        if isinstance(text, Unreadable):
            continue
        procedure = compile_procedure(text, path, fetch_beside(path)).procedure
        if procedure is None:
            found.append((path, f"{name}  has faults; lint it"))
        else:
            found.append((path, f"{procedure.title}  revision {procedure.revision}  {procedure.status}"))
    return found


def pick_served(what: str, path: str, options: argparse.Namespace) -> tuple[int, str]:
    """The same where nothing can be printed: what would have been is said on the home page, where it is a refusal."""
    from contextlib import redirect_stderr, redirect_stdout
    from io import StringIO

    printed = StringIO()
    with redirect_stdout(printed), redirect_stderr(printed):
        code = take(what, path, options)
    return code, "" if code in (DONE, UNFINISHED) else " ".join(printed.getvalue().split())


def pick(what: str, path: str, options: argparse.Namespace) -> int:
    """Go on with what was picked, and leave what was printed to be read."""
    code = take(what, path, options)
    if what == "report" or code not in (DONE, UNFINISHED):
        print("Press Enter to go back.", end="", flush=True)
        sys.stdin.readline()
    return code


def take(what: str, path: str, options: argparse.Namespace) -> int:
    """Go on with what was picked; a job file beside a procedure is offered on its start page."""
    from importlib import import_module

    given = [path]
    if what == "run":
        job = path.replace(".procedure.yaml", ".job.yaml")
        given += ["--job", job] if os.path.isfile(job) else []
    if what in ("run", "resume"):
        given += ["--look", options.look] if options.look else []
        given += ["--ascii"] if options.ascii else []
    if options.records:
        given += ["--records", options.records]
    if options.site and what != "report":
        given += ["--site", options.site]
    command = import_module(f"runner.cli.commands.{what}")
    parser = argparse.ArgumentParser(prog=f"changeover {what}")
    command.arguments(parser)
    return int(command.run(parser.parse_args(given)))
