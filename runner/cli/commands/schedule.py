"""`changeover schedule PROC`: the best order for one person and for two, from the times of the steps.

Times are the author's, or with `--recorded` the medians of the records. Nothing is written, and nothing of a procedure changes.
"""

import argparse
import sys

from runner.cli.documents import write_document
from runner.cli.exits import DONE, USAGE
from runner.cli.load import Stopped, load_procedure
from runner.cli.records import add_records
from runner.procedure.clean import clean
from runner.procedure.model import Procedure, steps_of
from runner.report.formats import FORMATS
from runner.training.schedule.recorded import NOTHING, Recorded

EXAMPLES = """
  changeover schedule P                      times as the author expects them
  changeover schedule P --recorded           medians of the records instead
  changeover schedule P --without clear-waste --format html --output plan.html
"""


def arguments(parser: argparse.ArgumentParser) -> None:
    """What the command takes."""
    parser.formatter_class = layout
    parser.epilog = EXAMPLES
    parser.add_argument("procedure", metavar="PROC", help="a *.procedure.yaml file")
    parser.add_argument("--recorded", action="store_true", help="how long steps took in the live runs on record")
    add_records(parser)
    parser.add_argument(
        "--played", action="store_true", help="with --recorded: also runs played from a file of answers"
    )
    parser.add_argument(
        "--without", metavar="STEP", action="append", default=[], help="a step that is not counted, by its id"
    )
    words = "; ".join(f"{form.name}: {form.doc}" for form in FORMATS.values())
    parser.add_argument("--format", choices=tuple(FORMATS), default="text", help=words.replace("%", "%%"))
    parser.add_argument("--json", action="store_const", const="json", dest="format", help="the same as --format json")
    parser.add_argument("--output", metavar="FILE", help="write here instead of stdout")


def layout(prog: str) -> argparse.HelpFormatter:
    """Help with the examples as they stand."""
    return argparse.RawDescriptionHelpFormatter(prog, width=78)


def run(options: argparse.Namespace) -> int:
    """Arrange the phases and tell it."""
    from runner.training.schedule.arranged import arranged
    from runner.training.schedule.told import document

    procedure = load_procedure(options.procedure)
    if isinstance(procedure, Stopped):
        return procedure.code
    without = frozenset(options.without)
    unknown = sorted(without - {step.id for step in steps_of(procedure)})
    if unknown:
        print(f"changeover: the procedure has no step {clean(', '.join(unknown))}", file=sys.stderr)
        return USAGE
    known = on_record(options, procedure) if options.recorded else NOTHING
    if options.recorded and not known.runs:
        print("changeover: no finished run of this procedure is on record; times are the author's", file=sys.stderr)
    found = arranged(procedure, known.medians, without)
    problem = write_document(FORMATS[options.format], document(found, known), options.output)
    if problem:
        print(f"changeover: {problem}", file=sys.stderr)
        return USAGE
    return DONE


def on_record(options: argparse.Namespace, procedure: Procedure) -> Recorded:
    """What the records say of the procedure."""
    from runner.cli.commands.times import Looked, more_of, read_all
    from runner.cli.records import index_of, store_of
    from runner.record.index.look import look
    from runner.report.times.known import Figured
    from runner.training.schedule.recorded import recorded

    store = store_of(options)
    index = index_of(store)
    looked = Looked(Figured(lambda kept: index.more(kept) or more_of(kept)))
    narrowed = argparse.Namespace(since="", until="", last=0, played=options.played, dry=False)
    found = looked.over(look(store, index, "live", read_all), narrowed, procedure.id)
    return recorded(found[0]) if found else NOTHING
