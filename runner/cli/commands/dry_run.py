"""`changeover dry-run PROC`: the same run with no press, marked on every line and kept in a folder of its own.

With `--scenario` the equipment is simulated and things go wrong on purpose; with `--assess` there are no hints, and what is
judged is shown beforehand.
"""

import argparse
import sys

from runner.cli.commands import run as live
from runner.cli.exits import USAGE
from runner.cli.load import Stopped, load_answers, load_procedure
from runner.cli.terminal import at_screen
from runner.say.text import say

LARGEST_SEED = 2**32 - 1


def arguments(parser: argparse.ArgumentParser) -> None:
    """The same as of a live run, and the scenario."""
    live.arguments(parser)
    parser.add_argument("--scenario", metavar="FILE", help="a *.scenario.yaml file: what is shown, what goes wrong")
    parser.add_argument("--assess", action="store_true", help="an assessment: no hints, an unsafe act ends it")
    parser.add_argument("--trainee", metavar="NAME", default="", help="who is trained")
    parser.add_argument("--coach", metavar="NAME", default="", help="who coaches or assesses")
    parser.add_argument("--seed", type=_seed, help="which of the seeded faults come; else by chance, and on record")


def run(options: argparse.Namespace) -> int:
    """A dry run."""
    if not options.scenario:
        if options.assess or options.trainee or options.coach or options.seed is not None:
            print(say("changeover: --assess, --trainee, --coach and --seed go with --scenario FILE"), file=sys.stderr)
            return USAGE
        return live.run_in_mode(options, "dry")
    return with_scenario(options)


def with_scenario(options: argparse.Namespace) -> int:
    """A dry run with a scenario: on the screen, line by line, or played."""
    from runner.cli.beginning import Ticket
    from runner.cli.practising import load_scenario, practice_ticket
    from runner.cli.records import store_of

    procedure = load_procedure(options.procedure, proved=True)
    if isinstance(procedure, Stopped):
        return procedure.code
    loaded = load_scenario(options.scenario, procedure)
    if isinstance(loaded, Stopped):
        return loaded.code
    given = live.ticket_of(options, procedure)
    if isinstance(given, Stopped):
        return given.code
    inputs, crew, origins = given
    ticket = practice_ticket(options, loaded, Ticket(procedure, store_of(options), "dry", inputs, crew, origins))
    if isinstance(ticket, Stopped):
        return ticket.code
    if not (options.answers or options.plain or at_screen()):
        print(say("changeover: no terminal here; use --plain, or --answers FILE"), file=sys.stderr)
        return USAGE
    from runner.cli.practising import begin_practice
    from runner.record.clock import ShiftedClock, SteppedClock, SystemClock

    if not options.answers:
        from runner.cli.leading import lead_practice

        lesson = begin_practice(options, loaded, ticket, ShiftedClock(), played=False)
        return lesson.code if isinstance(lesson, Stopped) else lead_practice(options, lesson)
    answers = load_answers(options.answers, procedure, tuple(one.id for one in loaded.scenario.questions))
    if isinstance(answers, Stopped):
        return answers.code
    from runner.cli.practice_played import play_practice

    clock = SteppedClock(SystemClock().now().utc)
    lesson = begin_practice(options, loaded, ticket, clock, played=True)
    return lesson.code if isinstance(lesson, Stopped) else play_practice(options, lesson, clock, answers)


def _seed(text: str) -> int:
    """A seed."""
    if not text.isascii() or not text.isdigit() or len(text) > 10 or int(text) > LARGEST_SEED:
        raise argparse.ArgumentTypeError(f"a whole number from 0 to {LARGEST_SEED}, not {text!r}")
    return int(text)
