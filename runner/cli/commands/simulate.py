"""`changeover simulate PROC`: many whole runs by chance through the real engine, and what they come to.

Nothing is written but with `--keep`, where the journals are those of dry, played runs. The same seed gives the same runs.
"""

import argparse
import json
import os
import re
import sys
from typing import TYPE_CHECKING

from runner.cli.exits import DONE, FINDINGS, USAGE
from runner.cli.files import write_out
from runner.cli.load import Stopped, load_procedure
from runner.procedure.clean import clean
from runner.procedure.model import Procedure

if TYPE_CHECKING:
    from runner.training.simulate.door import Opener
    from runner.training.simulate.many import Simulation
    from runner.training.simulate.rates import Rates
    from runner.training.simulate.result import Result

FORMS = ("text", "html", "pdf", "json")

EXAMPLES = """
exit codes: 0: no dead end and nothing refused; 1: something was, and is told with
its seed; 2: not understood

  changeover simulate P --runs 10000 --seed 1
  changeover simulate P --runs 10000 --format html --output runs.html
  changeover simulate P --replay 1-734
  changeover simulate P --replay 1-734 --keep records
"""
MOST_RUNS = 1_000_000
MOST_JOBS = 64
REPLAY = re.compile(r"[0-9]{1,12}-[0-9]{1,9}")
EVERY = 100
"""Runs between two words on stderr."""


def arguments(parser: argparse.ArgumentParser) -> None:
    """What the command takes."""
    parser.formatter_class = layout
    parser.epilog = EXAMPLES
    parser.add_argument("procedure", metavar="PROC", help="a *.procedure.yaml file")
    parser.add_argument("--runs", type=int, default=1000, metavar="N", help="how many runs (1000)")
    parser.add_argument("--seed", type=int, default=1, metavar="S", help="which runs (1); the same seed, the same runs")
    parser.add_argument(
        "--replay",
        metavar="SEED",
        help="one run alone, by its seed as the report tells it: 1-734 (with --plain where that was)",
    )
    parser.add_argument(
        "--jobs",
        type=int,
        default=0,
        metavar="N",
        help="processes side by side (one for each core); the result is the same",
    )
    parser.add_argument("--plain", action="store_true", help="nothing goes otherwise but what job and answers bring")
    parser.add_argument("--keep", metavar="DIR", help="write the journals there, as dry and played runs")
    parser.add_argument("--format", choices=FORMS, default="text", help="how the result is told (text)")
    parser.add_argument("--json", action="store_const", const="json", dest="format", help="the same as --format json")
    parser.add_argument("--output", metavar="FILE", help="write here instead of stdout")


def layout(prog: str) -> argparse.HelpFormatter:
    """Help with the examples as they stand."""
    return argparse.RawDescriptionHelpFormatter(prog, width=78)


def run(options: argparse.Namespace) -> int:
    """Play the runs and tell what they came to."""
    wrong = misused(options)
    if wrong:
        print(f"changeover: {wrong}", file=sys.stderr)
        return USAGE
    procedure = load_procedure(options.procedure)
    if isinstance(procedure, Stopped):
        return procedure.code
    return replayed(options, procedure) if options.replay else played(options, procedure)


def misused(options: argparse.Namespace) -> str:
    """What is wrong with the options; empty where nothing is."""
    if options.replay and REPLAY.fullmatch(options.replay) is None:
        return f"--replay takes a seed as the report tells it, such as 1-734, not {clean(options.replay)!r}"
    if not 1 <= options.runs <= MOST_RUNS:
        return f"--runs takes a number from 1 to {MOST_RUNS}"
    if options.replay and (options.output or options.format not in ("text", "json")):
        return "--replay tells one run on stdout, as text or JSON"
    if not 0 <= options.jobs <= MOST_JOBS:
        return f"--jobs takes a number from 1 to {MOST_JOBS}"
    if not 0 <= options.seed < 10**12:
        return "--seed takes a number from 0 with 12 digits at most"
    if options.keep and os.path.lexists(options.keep) and not os.path.isdir(options.keep):
        return f"--keep takes a folder, and {clean(options.keep)} is none"
    return ""


def played(options: argparse.Namespace, procedure: Procedure) -> int:
    """All runs, added up."""
    from runner.training.simulate.many import Simulation, seeds_of
    from runner.training.simulate.parts import BATCH, play_beside
    from runner.training.simulate.result import as_data, result_of
    from runner.training.simulate.text import lines_of

    simulation = Simulation(procedure, *rates_and_opener(options))
    seeds, said = tuple(seeds_of(options.seed, options.runs)), Told(options.runs) if sys.stderr.isatty() else unsaid
    processes = min(options.jobs or os.cpu_count() or 1, -(-options.runs // BATCH))
    if processes > 1:
        play_beside(simulation, seeds, processes, said)
    else:
        simulation.play(seeds, said)
    result = result_of(simulation, options.seed)
    if options.format in ("html", "pdf"):
        problem = as_document(options, simulation, result)
    else:
        told = (
            json.dumps(as_data(result), ensure_ascii=False) if options.format == "json" else "\n".join(lines_of(result))
        )
        problem = write_out(f"{told}\n".encode(), options.output)
    if problem:
        print(f"changeover: {problem}", file=sys.stderr)
        return USAGE
    return FINDINGS if result.dead_ends or result.refusals else DONE


def as_document(options: argparse.Namespace, simulation: "Simulation", result: "Result") -> str:
    """The result as a page, with the arrangement that its mean times come to; what stood against writing it."""
    from runner.cli.documents import write_document
    from runner.report.formats import FORMATS
    from runner.training.schedule.arranged import arranged
    from runner.training.simulate.document import document

    arrangement = arranged(simulation.procedure, simulation.times.means())
    return write_document(FORMATS[options.format], document(result, arrangement), options.output)


def replayed(options: argparse.Namespace, procedure: Procedure) -> int:
    """One run, event by event."""
    from runner.training.simulate.many import Simulation
    from runner.training.simulate.story import story_of

    rates, opener = rates_and_opener(options)
    walk = Simulation(procedure, rates, opener).one(options.replay)
    story = story_of(walk)
    if options.format == "json":
        print(json.dumps(story.data(), ensure_ascii=False))
    else:
        print("\n".join(story.lines()))
    return FINDINGS if walk.dead_end or walk.refused else DONE


def rates_and_opener(options: argparse.Namespace) -> "tuple[Rates, Opener]":
    """How often things go otherwise, and where journals go."""
    from runner.training.simulate.door import open_kept, open_unkept
    from runner.training.simulate.rates import PLAIN, Rates

    return PLAIN if options.plain else Rates(), open_kept(options.keep) if options.keep else open_unkept


def unsaid(_count: int) -> None:
    """Nobody watches."""


class Told:
    """How far it is, on stderr, each time that some hundred more runs are done; the line is cleared at the end."""

    def __init__(self, runs: int) -> None:
        self.runs, self.said = runs, 0

    def __call__(self, count: int) -> None:
        """So many are done."""
        if count >= self.runs:
            print("\r" + " " * 40 + "\r", end="", file=sys.stderr, flush=True)
        elif count // EVERY > self.said:
            self.said = count // EVERY
            print(f"\r{count} of {self.runs} runs", end="", file=sys.stderr, flush=True)
