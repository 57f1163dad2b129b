"""`changeover sheet PROC|RUN`: a paper form: of a procedure, blank or with the values of a job, or half done from a run.

A form of a procedure is printed only where lint finds no error in it, as a run is only begun then. A value out of its
limits ends with 1 and stands on the first page; a damaged record ends with 5 and the form says so.
"""

import argparse
import sys

from runner.cli.exits import DAMAGED, DONE, FINDINGS, USAGE
from runner.cli.files import write_out
from runner.cli.load import Stopped, load_job, load_procedure, typed_of
from runner.cli.records import add_records, journal_path
from runner.cli.site import add_site, site_of
from runner.engine.events import Event, RunBegun, SiteRead
from runner.procedure.site_facts import with_pieces
from runner.record.line import Entry
from runner.record.reading import read_journal
from runner.record.refused import Refused
from runner.record.run import pinned_procedure
from runner.report.sheet.form import Sheet
from runner.report.sheet.forms import FORMS
from runner.report.sheet.sheet import sheet_of_procedure, sheet_of_run
from runner.report.verification import Verification
from runner.report.working.given import JOB_FILE, take


def arguments(parser: argparse.ArgumentParser) -> None:
    """What the command takes."""
    parser.add_argument(
        "run",
        metavar="PROC|RUN",
        help="a *.procedure.yaml file, or a run: its id, the beginning of it, or its journal",
    )
    parser.add_argument("--job", metavar="FILE", help="values of the job ticket, for a form of a procedure")
    add_records(parser)
    add_site(parser)
    words = "; ".join(f"{form.name}: {form.doc}" for form in FORMS.values())
    parser.add_argument("--format", choices=tuple(FORMS), default="text", help=words)
    parser.add_argument("--output", metavar="FILE", help="write here instead of stdout")


def run(options: argparse.Namespace) -> int:
    """Make the form and write it."""
    of_procedure = options.run == "-" or options.run.endswith((".yaml", ".yml"))
    made = from_procedure(options) if of_procedure else from_run(options)
    if isinstance(made, Stopped):
        return made.code
    sheet, code = made
    problem = write_out(FORMS[options.format].render(sheet), options.output)
    return refused(problem).code if problem else code


def from_procedure(options: argparse.Namespace) -> tuple[Sheet, int] | Stopped:
    """A blank form, or one with the values of a job."""
    procedure = load_procedure(options.run, proved=True)
    if isinstance(procedure, Stopped):
        return procedure
    site = site_of(options)
    if isinstance(site, Stopped):
        return site
    if site is not None:
        procedure = with_pieces(procedure, site.facts.pieces)
    typed: dict[str, tuple[str, str]] = {}
    if options.job:
        job = load_job(options.job, procedure)
        if isinstance(job, Stopped):
            return job
        typed = {name: (text, JOB_FILE) for name, text in typed_of(job.inputs).items()}
    given = take(procedure, typed)
    if isinstance(given, str):
        return refused(given)
    sheet = sheet_of_procedure(procedure, given)
    if not sheet.clean:
        print("changeover: a value of this job is out of its limits: see the first page", file=sys.stderr)
    return sheet, DONE if sheet.clean else FINDINGS


def from_run(options: argparse.Namespace) -> tuple[Sheet, int] | Stopped:
    """The half-done form of a run, as far as its record is whole."""
    if options.job:
        return refused("a run has its job on record: leave --job out, or name a *.procedure.yaml file")
    path = journal_path(options)
    if isinstance(path, Refused):
        return refused(path.words)
    entries: list[tuple[int, Event]] = []

    def keep(entry: Entry) -> None:
        entries.append((entry.number, entry.event))

    found = read_journal(path, keep)
    if isinstance(found, Refused):
        return refused(found.words)
    check = Verification(found.whole, found.head, found.events, tuple(map(str, found.flaws)))
    begun = entries[0][1] if entries else None
    if not isinstance(begun, RunBegun):
        return refused(f"{path}: nothing of the run can be read", DAMAGED)
    procedure = pinned_procedure(begun)
    if isinstance(procedure, Refused):
        return refused(procedure.words)
    for _, event in entries:
        if isinstance(event, SiteRead):  # as the run itself works
            procedure = with_pieces(procedure, event.pieces)
    sheet = sheet_of_run(procedure, entries, check)
    if sheet is None:
        return refused(f"{path}: the record has no beginning", DAMAGED)
    if not check.whole:
        print(f"changeover: the record is damaged: {check.flaws[0]}", file=sys.stderr)
    return sheet, DONE if check.whole else DAMAGED


def refused(words: str, code: int = USAGE) -> Stopped:
    """Say what is wrong."""
    print(f"changeover: {words}", file=sys.stderr)
    return Stopped(code)
