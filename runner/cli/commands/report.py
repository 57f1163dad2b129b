"""`changeover report RUN`: the record of a run for people, in one of the report formats.

A damaged record is reported too, up to the damage and with the damage said first, and so is one that the register of heads
or a signature contradicts; the exit code is 5 then.
"""

import argparse
import sys

from runner.cli.documents import write_document
from runner.cli.exits import DAMAGED, DONE, USAGE
from runner.cli.plant import add_plant, twins_of
from runner.cli.records import add_records, journal_path
from runner.cli.vouching import NOBODY, contradictions, known_beside, look
from runner.engine.events import Event, RunBegun
from runner.procedure.clean import clean
from runner.procedure.model import Procedure
from runner.record.line import Entry
from runner.record.refused import Refused
from runner.record.run import pinned_procedure
from runner.report.contents.run_record import run_record
from runner.report.formats import FORMATS
from runner.report.verification import Verification


def arguments(parser: argparse.ArgumentParser) -> None:
    """What the command takes."""
    parser.add_argument("run", metavar="RUN", help="a run's id, the beginning of it, or the path of its journal")
    add_records(parser)
    add_plant(parser)
    words = "; ".join(f"{form.name}: {form.doc}" for form in FORMATS.values())
    parser.add_argument("--format", choices=tuple(FORMATS), default="text", help=words.replace("%", "%%"))
    parser.add_argument("--json", action="store_const", const="json", dest="format", help="the same as --format json")
    parser.add_argument("--output", metavar="FILE", help="write here instead of stdout")


def run(options: argparse.Namespace) -> int:
    """Read, verify and show the record."""
    path = journal_path(options)
    if isinstance(path, Refused):
        print(f"changeover: {path.words}", file=sys.stderr)
        return USAGE
    events: list[tuple[int, Event]] = []

    def take(entry: Entry) -> None:
        events.append((entry.number, entry.event))

    looked = look(path, NOBODY, None, known_beside(path), also=take)
    if isinstance(looked, Refused):
        print(f"changeover: {looked.words}", file=sys.stderr)
        return USAGE
    found, against = looked.found, (*contradictions(looked), *twins_of(path))
    verification = Verification(found.whole, found.head, found.events, tuple(map(str, found.flaws)), against)
    if not events:
        for words in verification.flaws:
            print(f"{path}: {words}", file=sys.stderr)
        return DAMAGED
    document = run_record(events, verification, _pinned(events))
    problem = write_document(FORMATS[options.format], document, options.output)
    if problem:
        print(f"changeover: {problem}", file=sys.stderr)
        return USAGE
    if not verification.whole:
        print(f"changeover: the record is damaged: {verification.flaws[0]}", file=sys.stderr)
        return DAMAGED
    if against:
        print(f"changeover: the record is whole in itself, and contradicted: {clean(against[0])}", file=sys.stderr)
        return DAMAGED
    return DONE


def _pinned(events: list[tuple[int, Event]]) -> Procedure | None:
    first = events[0][1]
    found = pinned_procedure(first) if isinstance(first, RunBegun) else None
    return found if isinstance(found, Procedure) else None
