"""`changeover times [PROC]`: where changeovers spend their time, over a folder of records.

Live runs only, unless dry ones are asked for; runs played from a file count when they are asked for too. What is left out
is said. Records are read and verified one by one; damaged ones are named, left out, and make the exit code 5.
"""

import argparse
import re
import sys
from collections.abc import Iterable, Iterator, Sequence
from shutil import get_terminal_size

from runner.cli.documents import write_document
from runner.cli.exits import DAMAGED, DONE, USAGE
from runner.cli.plant import add_plant, from_plant, plant_rows
from runner.cli.records import add_records, index_of, store_of
from runner.procedure.clean import clean
from runner.record.index.kept import Kept
from runner.record.index.look import look
from runner.record.refused import Refused
from runner.record.store import Summary
from runner.report.times.content import Asked, times_document
from runner.report.times.forms import FORMS
from runner.report.times.gathered import Gathered, gather
from runner.report.times.known import UNREADABLE, Figured, fault_of
from runner.report.times.pictures import Drawn
from runner.report.working.marks import ASCII, UNICODE

NARROWEST, WIDEST = 40, 200
"""Columns of drawings."""

DAY = re.compile(r"\d{4}-(0[1-9]|1[0-2])-(0[1-9]|[12]\d|3[01])")

MANY = 1000
"""Records that take so long to read for the first time that it is said."""

MOST_TOLD = 20
"""Records that are named one by one; how many more were left out stands in the answer itself."""

PLAYED = "played from a file, so its times measure nothing (--played counts them)"


def arguments(parser: argparse.ArgumentParser) -> None:
    """What the command takes."""
    parser.add_argument(
        "procedure", metavar="PROC", nargs="?", help="a procedure's id, or a *.procedure.yaml file; else all"
    )
    add_records(parser)
    add_plant(parser)
    parser.add_argument("--dry", action="store_true", help="dry runs instead of live ones")
    parser.add_argument("--played", action="store_true", help="also runs that were played from a file of answers")
    parser.add_argument("--since", metavar="DAY", type=day, help="runs begun on this day (UTC) or later: 2026-11-25")
    parser.add_argument("--until", metavar="DAY", type=day, help="runs begun on this day (UTC) or earlier")
    parser.add_argument("--last", metavar="N", type=count, help="the newest N of them, of each procedure")
    words = "; ".join(f"{form.name}: {form.doc}" for form in FORMS.values())
    parser.add_argument("--format", choices=tuple(FORMS), default="text", help=words.replace("%", "%%"))
    parser.add_argument("--json", action="store_const", const="json", dest="format", help="the same as --format json")
    parser.add_argument("--csv", action="store_const", const="csv", dest="format", help="the same as --format csv")
    parser.add_argument(
        "--width", metavar="N", type=count, help="columns of the drawings in text (else the terminal's)"
    )
    parser.add_argument("--ascii", action="store_true", help="nothing but ASCII in text")
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
    if isinstance(wanted, int):
        return wanted
    store = store_of(options)
    index = index_of(store)
    looked = Looked(Figured(lambda kept: index.more(kept) or more_of(kept)))
    mode = "dry" if options.dry else "live"
    rows = plant_rows(options, mode) if from_plant(options) else look(store, index, mode, read_all)
    if isinstance(rows, Refused):
        print(f"changeover: {clean(rows.words)}", file=sys.stderr)
        return USAGE
    found = looked.over(rows, options, wanted)
    asked = Asked(
        dry=options.dry,
        played=looked.any_played,
        limits=tuple(limits(options, wanted)),
        left_out=tuple(looked.left_out.items()),
        drawn=drawn(options),
    )
    form = FORMS[options.format]
    if options.ascii and form.name == "text":
        form = form._replace(render=lambda document: as_ascii(FORMS["text"].render(document)))
    problem = write_document(form, times_document(found, asked), options.output)
    if problem:
        print(f"changeover: {problem}", file=sys.stderr)
        return USAGE
    return DAMAGED if UNREADABLE in looked.left_out else DONE


def drawn(options: argparse.Namespace) -> Drawn:
    """How wide drawings are, and of which characters."""
    width = options.width or 80
    if not options.width and not options.output and sys.stdout.isatty():
        width = get_terminal_size((80, 24)).columns
    return Drawn(max(NARROWEST, min(width, WIDEST)) - 2, ASCII if options.ascii else UNICODE)


def as_ascii(content: bytes) -> bytes:
    """A text with signs that ASCII lacks written out."""
    return "\n".join(ASCII.fit(line) for line in content.decode().split("\n")).encode()


def wanted_procedure(given: str | None) -> str | int:
    """The id of the procedure; empty for all. An exit code where the file cannot be used."""
    if given is None or not given.endswith((".yaml", ".yml")):
        return given or ""
    from runner.cli.load import Stopped, load_procedure

    procedure = load_procedure(given)
    return procedure.code if isinstance(procedure, Stopped) else procedure.id


def limits(options: argparse.Namespace, wanted: str) -> Iterator[tuple[str, str]]:
    """What narrows the choice, in words."""
    for name, value in (("Procedure", wanted), ("Since", options.since), ("Until", options.until)):
        if value:
            yield name, value
    if options.last:
        yield "Newest of each procedure", str(options.last)


def read_all(paths: Sequence[str]) -> Iterable[Kept | None]:
    """Records read whole, over the cores of the machine where there are many."""
    from runner.cli.reading import read_records

    if len(paths) >= MANY and sys.stderr.isatty():
        print(f"changeover: {len(paths)} records are new here and are read once", file=sys.stderr)
    return read_records(paths)


def more_of(kept: Kept) -> str:
    """What the index could not tell, from the record."""
    (read,) = read_all((kept.summary.path,))
    return read.more if read is not None and read.extract else ""


class Looked:
    """What is made of the rows of a folder of records."""

    def __init__(self, figured: Figured) -> None:
        self.left_out: dict[str, int] = {}
        self.any_played = False
        self.told = 0
        self.figured = figured

    def over(self, rows: Iterable[Kept], options: argparse.Namespace, wanted: str) -> tuple[Gathered, ...]:
        """The figures of each procedure, by id; rows come newest first."""
        runs: dict[str, list[Kept]] = {}
        titles: dict[str, str] = {}
        for kept in rows:
            summary = kept.summary
            if not self.fits(summary, options, wanted):
                continue
            known = runs.setdefault(summary.procedure, [])
            if options.last and len(known) >= options.last:
                continue
            why, words = fault_of(kept)
            if why:
                self.leave(summary, why, words)
                continue
            known.append(kept)
            self.any_played = self.any_played or summary.played
            titles.setdefault(summary.procedure, summary.title)  # the newest run comes first
        return tuple(gather(titles[name], self.figured.figures(runs[name])) for name in sorted(titles))

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
        self.told += bool(words)
        if words and self.told <= MOST_TOLD:
            print(f"changeover: {clean(summary.path)}: {clean(words)}", file=sys.stderr)
