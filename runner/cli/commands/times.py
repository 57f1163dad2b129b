"""`changeover times [PROC]`: where changeovers spend their time, over a folder of records.

Live runs only, unless dry ones are asked for; runs played from a file count when they are asked for too. What is left out
is said. Records are read and verified one by one; damaged ones are named, left out, and make the exit code 5.
"""

import argparse
import re
import sys
from collections.abc import Iterator

from runner.cli.exits import DAMAGED, DONE, USAGE
from runner.cli.files import write_out
from runner.cli.load import Stopped, load_procedure
from runner.cli.records import add_records, store_of
from runner.engine.events import Event, RunBegun
from runner.procedure.clean import clean
from runner.procedure.model import Procedure
from runner.record.line import Entry
from runner.record.reading import read_journal
from runner.record.refused import Refused
from runner.record.run import pinned_procedure
from runner.record.store import Store, Summary
from runner.report.times.content import Asked, times_document
from runner.report.times.forms import FORMS
from runner.report.times.gathered import Gathered, gather
from runner.report.times.plan import Plan, plan_of
from runner.report.times.run_times import RunTimes, run_times

DAY = re.compile(r"\d{4}-(0[1-9]|1[0-2])-(0[1-9]|[12]\d|3[01])")

PLAYED = "played from a file, so its times measure nothing (--played counts them)"
UNREADABLE = "its record is damaged or cannot be read"
NO_PROCEDURE = "the procedure in its record cannot be read by this version of the program"


def arguments(parser: argparse.ArgumentParser) -> None:
    """What the command takes."""
    parser.add_argument(
        "procedure", metavar="PROC", nargs="?", help="a procedure's id, or a *.procedure.yaml file; else all"
    )
    add_records(parser)
    parser.add_argument("--dry", action="store_true", help="dry runs instead of live ones")
    parser.add_argument("--played", action="store_true", help="also runs that were played from a file of answers")
    parser.add_argument("--since", metavar="DAY", type=day, help="runs begun on this day (UTC) or later: 2026-11-25")
    parser.add_argument("--until", metavar="DAY", type=day, help="runs begun on this day (UTC) or earlier")
    parser.add_argument("--last", metavar="N", type=count, help="the newest N of them, of each procedure")
    words = "; ".join(f"{form.name}: {form.doc}" for form in FORMS.values())
    parser.add_argument("--format", choices=tuple(FORMS), default="text", help=words.replace("%", "%%"))
    parser.add_argument("--json", action="store_const", const="json", dest="format", help="the same as --format json")
    parser.add_argument("--csv", action="store_const", const="csv", dest="format", help="the same as --format csv")
    parser.add_argument("--output", metavar="FILE", help="write here instead of stdout")


def day(text: str) -> str:
    """A day as it stands in records."""
    if DAY.fullmatch(text) is None:
        raise argparse.ArgumentTypeError("a day is written as 2026-11-25")
    return text


def count(text: str) -> int:
    """A number of runs."""
    if not text.isdecimal() or not text.isascii() or int(text) < 1:
        raise argparse.ArgumentTypeError("a number of runs is 1 or more")
    return int(text)


def run(options: argparse.Namespace) -> int:
    """Read the records and show the figures."""
    wanted = wanted_procedure(options.procedure)
    if isinstance(wanted, Stopped):
        return wanted.code
    looked = Looked()
    found = looked.over(store_of(options), options, wanted)
    asked = Asked(
        dry=options.dry,
        played=looked.any_played,
        limits=tuple(limits(options, wanted)),
        left_out=tuple(looked.left_out.items()),
    )
    problem = write_out(FORMS[options.format].render(times_document(found, asked)), options.output)
    if problem:
        print(f"changeover: {problem}", file=sys.stderr)
        return USAGE
    return DAMAGED if UNREADABLE in looked.left_out else DONE


def wanted_procedure(given: str | None) -> str | Stopped:
    """The id of the procedure; empty for all."""
    if given is None or not given.endswith((".yaml", ".yml")):
        return given or ""
    procedure = load_procedure(given)
    return procedure if isinstance(procedure, Stopped) else procedure.id


def limits(options: argparse.Namespace, wanted: str) -> Iterator[tuple[str, str]]:
    """What narrows the choice, in words."""
    for name, value in (("Procedure", wanted), ("Since", options.since), ("Until", options.until)):
        if value:
            yield name, value
    if options.last:
        yield "Newest of each procedure", str(options.last)


class Looked:
    """One look over a folder of records."""

    def __init__(self) -> None:
        self.left_out: dict[str, int] = {}
        self.any_played = False
        self.plans: dict[str, Plan | None] = {}
        """By the digest of the procedure: runs of one text share it."""

    def over(self, store: Store, options: argparse.Namespace, wanted: str) -> tuple[Gathered, ...]:
        """The figures of each procedure, by id."""
        runs: dict[str, list[RunTimes]] = {}
        titles: dict[str, str] = {}
        for summary in store.summaries("dry" if options.dry else "live"):
            if not self.fits(summary, options, wanted):
                continue
            known = runs.setdefault(summary.procedure, [])
            if options.last and len(known) >= options.last:
                continue
            one = self.read(summary)
            if one is None:
                continue
            known.append(one)
            self.any_played = self.any_played or summary.played
            titles.setdefault(summary.procedure, summary.title)  # the newest run comes first
        return tuple(gather(titles[name], runs[name]) for name in sorted(titles))

    def fits(self, summary: Summary, options: argparse.Namespace, wanted: str) -> bool:
        """Whether a run was asked for. One that cannot be read is left out, and said to be."""
        if summary.words:
            self.leave(summary, UNREADABLE, summary.words)
            return False
        if wanted and summary.procedure != wanted:
            return False
        began = summary.began[:10]
        if (options.since and began < options.since) or (options.until and began > options.until):
            return False
        if summary.played and not options.played and not options.dry:
            self.leave(summary, PLAYED, "")
            return False
        return True

    def leave(self, summary: Summary, why: str, words: str) -> None:
        """A run is left out."""
        self.left_out[why] = self.left_out.get(why, 0) + 1
        if words:
            print(f"changeover: {clean(summary.path)}: {clean(words)}", file=sys.stderr)

    def read(self, summary: Summary) -> RunTimes | None:
        """The figures of one run; None where it is left out."""
        events: list[tuple[int, Event]] = []

        def take(entry: Entry) -> None:
            events.append((entry.number, entry.event))

        found = read_journal(summary.path, take)
        if isinstance(found, Refused):
            self.leave(summary, UNREADABLE, found.words)
            return None
        if not found.whole or not events:
            self.leave(summary, UNREADABLE, str(found.flaws[0]) if found.flaws else "nothing is in it")
            return None
        begun = events[0][1]
        plan = self.plan(begun) if isinstance(begun, RunBegun) else None
        if plan is None:
            self.leave(summary, NO_PROCEDURE, NO_PROCEDURE)
            return None
        return run_times(events, plan)

    def plan(self, begun: RunBegun) -> Plan | None:
        """The steps of the procedure as it was."""
        if begun.digest not in self.plans:
            procedure = pinned_procedure(begun)
            self.plans[begun.digest] = plan_of(procedure) if isinstance(procedure, Procedure) else None
        return self.plans[begun.digest]
