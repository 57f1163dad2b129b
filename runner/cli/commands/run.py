"""`changeover run PROC`: a live run, on the screen, line by line (`--plain`) or played from a file (`--answers`).

A procedure in which lint finds an error is not run; one that is not approved says so at the start and in the record.
"""

import argparse
import json
import sys

from runner.cli.beginning import ANSWERS_FILE, COMMAND_LINE, JOB_FILE, Ticket, begin_intent, told
from runner.cli.exits import UNFINISHED, USAGE
from runner.cli.load import Stopped, load_answers, load_job, load_procedure, settings, typed_of
from runner.cli.looks import add_looks
from runner.cli.records import add_records, store_of
from runner.cli.site import add_site, site_of
from runner.cli.terminal import at_screen
from runner.engine.intents import BeginRun, Refusal
from runner.procedure.model import Procedure
from runner.procedure.site import Site
from runner.procedure.site_facts import with_pieces
from runner.record.clock import Clock, SteppedClock, SystemClock
from runner.record.run import Run
from runner.record.store import Store
from runner.say.text import say


def arguments(parser: argparse.ArgumentParser) -> None:
    """What the command takes."""
    parser.add_argument("procedure", metavar="PROC", help="a *.procedure.yaml file")
    parser.add_argument("--job", metavar="FILE", help="values of the job ticket and the crew")
    parser.add_argument("--set", action="append", default=[], metavar="NAME=VALUE", help="one value of the ticket")
    parser.add_argument("--plain", action="store_true", help="line by line, for screen readers and serial terminals")
    parser.add_argument("--answers", metavar="FILE", help="play the run from a file of answers, with no terminal")
    parser.add_argument("--json", action="store_true", help="run, journal and outcome as JSON on stdout at the end")
    add_records(parser)
    add_site(parser)
    add_looks(parser)


def run(options: argparse.Namespace) -> int:
    """A live run."""
    return run_in_mode(options, "live")


def run_in_mode(options: argparse.Namespace, mode: str) -> int:
    """A run of either mode."""
    procedure = load_procedure(options.procedure, proved=True)
    if isinstance(procedure, Stopped):
        return procedure.code
    if procedure.status == "withdrawn" and mode == "live":
        print(
            say(
                "changeover: {procedure} revision {revision} is withdrawn; no live run",
                procedure=procedure.id,
                revision=procedure.revision,
            ),
            file=sys.stderr,
        )
        return USAGE
    ticket = ticket_of(options, procedure)
    if isinstance(ticket, Stopped):
        return ticket.code
    inputs, crew, origins = ticket
    store = store_of(options)
    site = site_of(options)
    if isinstance(site, Stopped):
        return site.code
    if site is not None:
        procedure = with_pieces(procedure, site.facts.pieces)
    if options.answers:
        return play(options, Ticket(procedure, store, mode, inputs, crew, origins, site))
    if not options.plain and not at_screen():
        print(say("changeover: no terminal here; use --plain, or --answers FILE"), file=sys.stderr)
        return USAGE
    from runner.cli.leading import begin_on_lines, begin_on_screen

    begin_with = begin_on_lines if options.plain else begin_on_screen
    return begin_with(options, Ticket(procedure, store, mode, inputs, crew, origins, site))


def ticket_of(
    options: argparse.Namespace, procedure: Procedure
) -> tuple[dict[str, str], dict[str, str], dict[str, str]] | Stopped:
    """(inputs as typed, crew, how each input came) from the job file and `--set`."""
    inputs: dict[str, str] = {}
    crew: dict[str, str] = {}
    if options.job:
        job = load_job(options.job, procedure)
        if isinstance(job, Stopped):
            return job
        inputs.update(typed_of(job.inputs))
        crew.update(typed_of(job.crew))
    given = settings(options.set)
    if isinstance(given, Stopped):
        return given
    origins = dict.fromkeys(inputs, JOB_FILE) | dict.fromkeys(given, COMMAND_LINE)
    return inputs | given, crew, origins


def play(options: argparse.Namespace, ticket: Ticket) -> int:
    """Play the run from the answers file."""
    answers = load_answers(options.answers, ticket.procedure)
    if isinstance(answers, Stopped):
        return answers.code
    from runner.training.played import Player

    clock = SteppedClock(SystemClock().now().utc)
    given = typed_of(answers.inputs)
    origins = ticket.origins | dict.fromkeys(given, ANSWERS_FILE)
    crew = ticket.crew | typed_of(answers.crew)
    intent = begin_intent(ticket.mode, True, ticket.inputs | given, crew, clock, origins)
    run = begin(ticket.store, ticket.procedure, intent, clock, ticket.site)
    if run is None:
        if options.json:
            print(json.dumps({"run": None, "journal": None, "outcome": "refused"}))
        return UNFINISHED
    player = Player(run, clock, answers)
    outcome = player.play()
    run.close()
    if player.stopped:
        print(say("changeover: the run stopped: {why}", why=player.stopped), file=sys.stderr)
    return told(options, run, outcome)


def begin(store: Store, procedure: Procedure, intent: BeginRun, clock: Clock, site: Site | None = None) -> Run | None:
    """The run, or None where it was refused, with the reason said."""
    run = Run.begin(store, procedure, intent, clock, site=site)
    if isinstance(run, Refusal):
        print("changeover: " + "\n  ".join((run.reason, *run.missing)), file=sys.stderr)
        return None
    return run
