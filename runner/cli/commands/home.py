"""`changeover` alone: procedures of a folder, unfinished runs and records on one screen; picking one goes on with it."""

import argparse
import os
import sys
from typing import TYPE_CHECKING

from runner.cli.exits import DONE, SIGNAL, UNFINISHED, USAGE
from runner.cli.listing import listing_of
from runner.cli.load import Stopped
from runner.cli.looks import add_looks, looks_of
from runner.cli.records import add_records, store_of
from runner.cli.site import add_site, site_of
from runner.cli.terminal import at_screen, served
from runner.say.language import spoken
from runner.say.text import say

if TYPE_CHECKING:
    from runner.screen.app import Left
    from runner.screen.pages.home import Listing


FOLDER = "procedures"


def arguments(parser: argparse.ArgumentParser) -> None:
    """What the command takes."""
    parser.add_argument(
        "--procedures", metavar="DIR", default=FOLDER, help=f"folder of procedures ({FOLDER}, else the one you are in)"
    )
    parser.add_argument("--plain", action="store_true", help="line by line, for screen readers and serial terminals")
    add_records(parser)
    add_site(parser)
    add_looks(parser)


def run(options: argparse.Namespace) -> int:
    """The home page, until it is left."""
    if not options.plain and not at_screen():
        print(say("changeover: no terminal here; see changeover --help"), file=sys.stderr)
        return USAGE
    site = site_of(options)
    if isinstance(site, Stopped):
        return site.code
    blocks = site.blocks if site is not None else ()
    store = store_of(options)
    said = ""
    while True:
        listing = listing_of(folder_of(options.procedures), store, blocks)
        if served():  # a report is printed, and there is nothing here to print on
            shown = tuple(line._replace(path="") for line in listing.still_open)
            listing = listing._replace(recent=(), still_open=shown)
        left = home(options, listing, said)
        if left.signal_code > SIGNAL:
            return left.signal_code
        options.look = left.palette  # as it was on the screen last, here and in what is picked
        what, path = left.choice
        if not what:
            return DONE
        code, said = pick_served(what, path, options) if served() else (pick(what, path, options), "")
        if code > SIGNAL:
            return code


def folder_of(named: str) -> str:
    """Where procedures are looked for: whoever stands in their folder already finds them too."""
    return os.curdir if named == FOLDER and not os.path.isdir(named) else named


def home(options: argparse.Namespace, listing: "Listing", said: str) -> "Left":
    """The page, on the screen or line by line, until something is picked."""
    from runner.record.clock import SystemClock
    from runner.screen.app import Left, run_home

    if not options.plain:
        return run_home(listing, SystemClock().now, looks_of(options), said)
    from runner.cli.leading import lines_of
    from runner.screen.plain import run_plain_home

    ask, write, _ = lines_of(options)
    return Left("", run_plain_home(listing, SystemClock().now, ask, write, said), palette=options.look or "")


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
    if not options.plain and (what in ("report", "dry-run") or code not in (DONE, UNFINISHED)):
        print(say("Press Enter to go back."), end="", flush=True)
        sys.stdin.readline()
    return code


def take(what: str, path: str, options: argparse.Namespace) -> int:
    """Go on with what was picked; a job file beside a procedure is offered on its start page. A run that is open at
    another terminal is joined."""
    from importlib import import_module

    from runner.record.shared.address import is_kept

    given = [path]
    if what == "resume" and is_kept(path):
        what = "join"
    if what == "run":
        job = path.replace(".procedure.yaml", ".job.yaml")
        given += ["--job", job] if os.path.isfile(job) else []
    if what == "dry-run":
        given = [procedure_of(path), "--scenario", path]
    if what in ("run", "resume", "join", "dry-run"):
        given += ["--plain"] if options.plain else []
        given += ["--look", options.look] if options.look else []
        given += ["--ascii"] if options.ascii else []
        given += ["--language", options.language] if options.language else []
    if options.records:
        given += ["--records", options.records]
    if options.site and what != "report":
        given += ["--site", options.site]
    command = import_module(f"runner.cli.commands.{what.replace('-', '_')}")
    parser = argparse.ArgumentParser(prog=f"changeover {what}")
    command.arguments(parser)
    if what != "report":
        return int(command.run(parser.parse_args(given)))
    with spoken("en"):  # a report is a document, the same for everybody
        return int(command.run(parser.parse_args(given)))


def procedure_of(path: str) -> str:
    """Where the procedure of a scenario lies; the scenario's own path where it cannot be read, so that this is told."""
    from runner.cli.files import Unreadable, read_text
    from runner.procedure.scenarios.reading import read_scenario

    text = read_text(path)
    scenario = None if isinstance(text, Unreadable) else read_scenario(text, path).scenario
    return path if scenario is None else os.path.normpath(os.path.join(os.path.dirname(path), scenario.file))
