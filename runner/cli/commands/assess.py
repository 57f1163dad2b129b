"""`changeover assess RUN`: what a dry run with a scenario came to, and the coach's sign-off.

`--for trainee` says what to practise, `--for file` all of it. `--sign` enters the level that was reached into the register of
qualifications, bound to the record as it is; by PIN where the site file knows the assessor.
"""

import argparse
import sys
from datetime import timedelta

from runner.cli.exits import DAMAGED, DONE, FINDINGS, USAGE
from runner.cli.files import write_out
from runner.cli.load import Stopped
from runner.cli.records import add_records, journal_path
from runner.cli.site import add_site
from runner.engine.events import Event, RunBegun
from runner.procedure.model import Procedure
from runner.record.clock import SystemClock, wall_of
from runner.record.line import Entry
from runner.record.reading import read_journal
from runner.record.refused import Refused
from runner.record.run import pinned_procedure
from runner.report.formats import FORMATS
from runner.training.assess import Result, assess
from runner.training.assessed import document
from runner.training.pinned import pinned_scenario


def arguments(parser: argparse.ArgumentParser) -> None:
    """What the command takes."""
    parser.add_argument("run", metavar="RUN", help="a dry run's id, the beginning of it, or the path of its journal")
    add_records(parser)
    add_site(parser)
    parser.add_argument("--for", choices=("trainee", "file"), default="file", dest="whom", help="for whom it is told")
    parser.add_argument("--format", choices=tuple(FORMATS), default="text", help="as of `changeover report`")
    parser.add_argument("--json", action="store_const", const="json", dest="format", help="the same as --format json")
    parser.add_argument("--output", metavar="FILE", help="write here instead of stdout")
    parser.add_argument("--sign", action="store_true", help="sign it off: enter the level into the register")
    parser.add_argument("--assessor", metavar="NAME", default="", help="who signs; the coach if left out")
    parser.add_argument("--months", type=_months, default=24, help="for how many months it counts; 24 if left out")
    parser.add_argument("--words", default="", help="what the assessor says of it")


def run(options: argparse.Namespace) -> int:
    """Judge, sign where that is wanted, and tell."""
    path = journal_path(options)
    if isinstance(path, Refused):
        return _said(path.words)
    events: list[tuple[int, Event]] = []

    def take(entry: Entry) -> None:
        events.append((entry.number, entry.event))

    found = read_journal(path, take)
    if isinstance(found, Refused):
        return _said(found.words)
    if not found.whole or not events or not isinstance(events[0][1], RunBegun):
        _said("the record is damaged, and nothing is judged by it; `changeover verify` says where")
        return DAMAGED
    procedure = pinned_procedure(events[0][1])
    scenario = pinned_scenario(event for _, event in events)
    if scenario is None:
        return _said("this run has no scenario; `changeover report` tells what it was")
    if isinstance(procedure, Refused) or isinstance(scenario, Refused):
        return _said(procedure.words if isinstance(procedure, Refused) else str(scenario))
    result = assess(events, scenario, procedure)
    signed: tuple[tuple[str, str], ...] = ()
    if options.sign:
        made = sign(options, result, procedure, found.head, found.events)
        if isinstance(made, Stopped):
            return made.code
        signed = made
    problem = write_out(FORMATS[options.format].render(document(result, options.whom, signed)), options.output)
    if problem:
        return _said(problem)
    return FINDINGS if result.assessed and not result.passed else DONE


def sign(
    options: argparse.Namespace, result: Result, procedure: Procedure, head: str, count: int
) -> tuple[tuple[str, str], ...] | Stopped:
    """Enter it into the register; the facts of the sign-off."""
    from runner.cli.qualifying import register_path
    from runner.cli.signing import identified
    from runner.record.qualifications import Entered, enter_qualification

    assessor = options.assessor or result.coach
    against = why_not(result, assessor)
    if against:
        return Stopped(_said(against))
    identity = identified(options, assessor)
    if isinstance(identity, Stopped):
        return identity
    now = wall_of(SystemClock().now())
    until = (now + timedelta(days=round(options.months * 365.25 / 12))).date().isoformat()
    asked = next((change.retrain for change in procedure.changes if change.revision == result.revision), "none")
    entry = Entered(
        result.trainee, result.procedure, result.revision, asked, result.level, now.date().isoformat(), until, assessor,
        identity, result.scenario, result.run, head, count, options.words, now.isoformat(timespec="seconds"),
    )  # fmt: skip
    refused = enter_qualification(register_path(options), entry)
    if refused is not None:
        return Stopped(_said(refused.words))
    return (
        ("Signed by", f"{assessor} ({identity})"),
        ("Level", result.level),
        ("Counts until", until),
        ("Record as signed", f"{count} lines, head {head}"),
        ("Words", options.words or "-"),
    )


def why_not(result: Result, assessor: str) -> str:
    """Why it is not signed off; empty where it may be."""
    if not result.assessed:
        return "this was practice, and practice is not signed off; assess with `changeover dry-run PROC --scenario FILE --assess`"
    if result.played:
        return "the answers came from a file: nobody was assessed"
    if not result.passed or not result.level:
        return f"it was not passed, and no level is entered: {result.lowered}"
    if not assessor.strip():
        return "say who signs: --assessor NAME"
    if " ".join(assessor.split()).casefold() == " ".join(result.trainee.split()).casefold():
        return "nobody signs off themselves"
    return ""


def _said(words: str) -> int:
    print(f"changeover: {words}", file=sys.stderr)
    return USAGE


def _months(text: str) -> int:
    """A number of months."""
    if not text.isascii() or not text.isdigit() or not 1 <= int(text[:4]) <= 120:
        raise argparse.ArgumentTypeError(f"a whole number from 1 to 120, not {text!r}")
    return int(text)
