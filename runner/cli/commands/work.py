"""`changeover work PROC`: the arithmetic of a procedure alone, without a run.

Values in full, a sweep over one input or reading, the jobs that come nearest to each limit, the web paths. The answer goes
to stdout and all talk to stderr; an answer with a value out of limits or without a result ends with 1.
"""

import argparse
import os
import sys
from typing import TYPE_CHECKING

from runner.cli.exits import DONE, FINDINGS, USAGE
from runner.cli.files import write_out
from runner.cli.load import Stopped, load_job, load_procedure, settings, typed_of
from runner.cli.site import add_site, site_of
from runner.procedure.model import Procedure
from runner.procedure.site_facts import with_pieces
from runner.report.working.asked import Asked
from runner.report.working.forms import FORMS
from runner.report.working.given import JOB_FILE, OPTION, Given, take
from runner.report.working.lifts import too_heavy
from runner.report.working.look import Look
from runner.report.working.marks import ASCII, UNICODE, Signs
from runner.report.working.worked import work_all

if TYPE_CHECKING:
    from runner.report.working.paths import PathsShown
    from runner.report.working.sweep import Sweep
    from runner.report.working.swept import Swept

EXAMPLES = """
examples, with P for change-roll.procedure.yaml and J for change-roll.job.yaml:

  every value with its working, and the same with another width
    changeover work P --job J
    changeover work P --job J --set web_width=900mm
  a table and a plot of each value over a range; a unit at one end is enough
    changeover work P --job J --sweep web_width=400mm..1300mm
  steps of 50 mm, one value; 8 values between the ends; all that is allowed
    changeover work P --job J --sweep "web_width=400..1300 mm by 50 mm" \\
                    --values roll_mass
    changeover work P --job J --sweep roll_od=0.5..1.2m --points 8
    changeover work P --job J --sweep "caliper=*"
  each choice of a list, or some of them
    changeover work P --job J --sweep "substrate=*"
    changeover work P --job J --sweep "substrate=kraft paper,BOPP film"
  the allowed job nearest to each limit; the same with a value held fixed
    changeover work P --worst
    changeover work P --worst --set roll_od=1000mm
  the web paths of a job, drawn
    changeover work P --job J --paths
  a page with drawings for paper, a table for a spreadsheet
    changeover work P --job J --sweep "caliper=*" --format html --output c.html
    changeover work P --job J --sweep "caliper=*" --format csv --output c.csv

A value out of limits has a sign and a word beside it; one without a result says
why. Exit code 0: all in limits; 1: something is not; 2: not understood.
The answer is an aid: whoever uses a value confirms it.
"""

LEAST_WIDTH, PIPE_WIDTH = 40, 80
"""Columns of a narrow terminal, and of anything that is none."""


def arguments(parser: argparse.ArgumentParser) -> None:
    """What the command takes."""
    parser.formatter_class = layout
    parser.epilog = EXAMPLES
    parser.add_argument("procedure", metavar="PROC", help="a *.procedure.yaml file")
    parser.add_argument("--job", metavar="FILE", help="values of the job ticket")
    parser.add_argument(
        "--set", action="append", default=[], metavar="NAME=VALUE",
        help="one value, as one would type it; goes before the job file",
    )  # fmt: skip
    parser.add_argument(
        "--sweep", action="append", default=[], metavar="NAME=RANGE",
        help="work everything out over a range LOW..HIGH, with `by STEP` if wanted, a list a,b,c, or * for all allowed",
    )  # fmt: skip
    parser.add_argument("--points", type=int, metavar="N", help="so many values between the ends of the range")
    parser.add_argument("--values", metavar="A,B", help="show these values of the sweep alone")
    parser.add_argument("--worst", action="store_true", help="for each limit the allowed job that comes nearest to it")
    parser.add_argument("--paths", action="store_true", help="each web path: rollers, wraps, spans, lengths, a drawing")
    words = "; ".join(f"{form.name}: {form.doc}" for form in FORMS.values())
    parser.add_argument("--format", choices=tuple(FORMS), default="text", help=words)
    parser.add_argument("--json", action="store_const", const="json", dest="format", help="the same as --format json")
    parser.add_argument("--output", metavar="FILE", help="write here instead of stdout")
    add_site(parser)
    parser.add_argument("--ascii", action="store_true", help="no characters but ASCII in the text")


def layout(prog: str) -> argparse.HelpFormatter:
    """Help with the examples as they stand, 80 columns wide; argparse would load a slow module to ask how wide."""
    return argparse.RawDescriptionHelpFormatter(prog, width=PIPE_WIDTH - 2)


def run(options: argparse.Namespace) -> int:
    """Work out what is asked."""
    procedure = load_procedure(options.procedure)
    if isinstance(procedure, Stopped):
        return procedure.code
    site = site_of(options)
    if isinstance(site, Stopped):
        return site.code
    gear = None
    if site is not None:
        procedure, gear = with_pieces(procedure, site.facts.pieces), site.facts.gear
    given = read_given(options, procedure)
    if isinstance(given, Stopped):
        return given.code
    asked = answer(options, procedure, given)
    if isinstance(asked, str):
        return refused(asked).code
    problem = write_out(FORMS[options.format].render(asked, look_of(options)), options.output)
    if problem:
        return refused(problem).code
    heavy = too_heavy(procedure, gear, asked.results.values) if gear and asked.results is not None else ()
    for line in heavy:
        print(f"changeover: {line}", file=sys.stderr)
    return DONE if asked.clean and not heavy else FINDINGS


def read_given(options: argparse.Namespace, procedure: Procedure) -> dict[str, Given] | Stopped:
    """The values of the job file and of `--set`, the last going first."""
    typed: dict[str, tuple[str, str]] = {}
    if options.job:
        job = load_job(options.job, procedure)
        if isinstance(job, Stopped):
            return job
        typed.update({name: (text, JOB_FILE) for name, text in typed_of(job.inputs).items()})
    settled = settings(options.set)
    if isinstance(settled, Stopped):
        return settled
    typed.update({name: (text, OPTION) for name, text in settled.items()})
    found = take(procedure, typed)
    return refused(found) if isinstance(found, str) else found


def answer(options: argparse.Namespace, procedure: Procedure, given: dict[str, Given]) -> Asked | str:
    """All parts that were asked for; or what is wrong with the question."""
    swept = read_swept(options, procedure, given)
    if isinstance(swept, str):
        return swept
    near = None
    if options.worst:
        from runner.procedure.jobs.worst import worst_jobs
        from runner.report.working.nearest import nearest

        fixed = {name: one.value for name, one in given.items()}
        near = nearest(procedure, worst_jobs(procedure, fixed), fixed)
    if swept is not None and near is None:
        given = {name: one for name, one in given.items() if name != swept.sweep.source.name}
    results = work_all(procedure, given)
    paths: PathsShown | None = None
    if options.paths:
        from runner.report.working.paths import paths_of

        paths = paths_of(procedure, results.values)
    alone = swept is None and near is None and paths is None
    return Asked(procedure, given, results if alone else None, swept, near, paths)


def read_swept(options: argparse.Namespace, procedure: Procedure, given: dict[str, Given]) -> "Swept | str | None":
    """The sweep worked out; None where none is asked for."""
    if not options.sweep:
        lone = next((name for name in ("points", "values") if getattr(options, name) is not None), "")
        return f"--{lone} goes with --sweep" if lone else None
    if len(options.sweep) > 1:
        return "one sweep at a time: hold the other value with --set"
    from runner.report.working.sweep import read_sweep

    sweep = read_sweep(procedure, options.sweep[0], options.points)
    if isinstance(sweep, str):
        return sweep
    name = sweep.source.name
    if name in given and given[name].origin == OPTION:
        return f"{name} is given by --set and swept too; leave one of them out"
    picked = tuple(dict.fromkeys(part.strip() for part in (options.values or "").split(",") if part.strip()))
    return worked_sweep(options, procedure, given, sweep, picked)


def worked_sweep(
    options: argparse.Namespace, procedure: Procedure, given: dict[str, Given], sweep: "Sweep", picked: tuple[str, ...]
) -> "Swept | str":
    """The sweep over the other given values."""
    from runner.report.working.swept import sweep_out

    others = {known: one for known, one in given.items() if known != sweep.source.name}
    return sweep_out(procedure, others, sweep, picked, FORMS[options.format].drawn)


def refused(words: str) -> Stopped:
    """Say what is wrong."""
    look = Look(PIPE_WIDTH, signs_of(sys.stderr.encoding, False), False)
    print(f"changeover: {look.signs.fit(words)}", file=sys.stderr)
    return Stopped(USAGE)


def look_of(options: argparse.Namespace) -> Look:
    """What the place of the answer can show: a file or a pipe is 80 columns wide and has no colour."""
    terminal = options.output is None and sys.stdout.isatty()
    width = PIPE_WIDTH
    if terminal:
        try:
            width = max(LEAST_WIDTH, os.get_terminal_size(sys.stdout.fileno()).columns)
        except OSError:
            width = PIPE_WIDTH
    colour = terminal and not os.environ.get("NO_COLOR") and os.environ.get("TERM") not in (None, "", "dumb")
    encoding = "utf-8" if options.output else sys.stdout.encoding
    return Look(width, signs_of(encoding, options.ascii), colour)


def signs_of(encoding: str | None, plain: bool) -> Signs:
    """The characters that an output in this encoding can show."""
    if plain:
        return ASCII
    try:
        "▲✕╌│└┤─█⣿".encode(encoding or "ascii")
    except (UnicodeEncodeError, LookupError):
        return ASCII
    return UNICODE
