"""`changeover resume [RUN]`: go on with a run where its record ends; without RUN the only unfinished one."""

import argparse
import os
import sys

from runner.cli.exits import DAMAGED, USAGE
from runner.cli.joining import offer, shared
from runner.cli.load import Stopped, load_answers
from runner.cli.looks import add_looks
from runner.cli.records import add_records, index_of, store_of
from runner.cli.site import add_site, site_of
from runner.cli.terminal import at_screen
from runner.record.clock import SteppedClock, SystemClock
from runner.record.reading import verify_journal
from runner.record.refused import Refused
from runner.record.run import Run
from runner.record.store import Store, mode_of_folder, run_of
from runner.say.text import say


def arguments(parser: argparse.ArgumentParser) -> None:
    """What the command takes."""
    parser.add_argument("run", metavar="RUN", nargs="?", help="a run's id, the beginning of it, or its journal's path")
    add_records(parser)
    add_site(parser)
    add_looks(parser)
    parser.add_argument("--plain", action="store_true", help="line by line")
    parser.add_argument(
        "--from-paper", action="store_true", help="enter what was done on paper meanwhile, each act with its time"
    )
    parser.add_argument("--answers", metavar="FILE", help="play the rest of a played run from a file of answers")
    parser.add_argument("--json", action="store_true", help="run, journal and outcome as JSON on stdout at the end")


def run(options: argparse.Namespace) -> int:
    """Open the record and go on."""
    store = store_of(options)
    path = store.find(options.run) if options.run else the_only(store)
    if isinstance(path, Refused):
        print(f"changeover: {path.words}", file=sys.stderr)
        return USAGE
    if not (options.plain or options.answers) and not at_screen():
        print(say("changeover: no terminal here; use --plain, or --answers FILE"), file=sys.stderr)
        return USAGE
    if mode_of_folder(path) == "dry":
        from runner.cli.practice_resumed import resume_practice

        code = resume_practice(options, path)
        if code is not None:
            return code
    site = None if options.answers else site_of(options)
    if isinstance(site, Stopped):
        return site.code
    clock = played_clock() if options.answers else SystemClock()
    opened = Run.resume(path, clock, site=site)
    if isinstance(opened, Refused):
        print(f"changeover: {opened.words}", file=sys.stderr)
        if not options.answers:
            offer(options, path, run_of(path))
        found = verify_journal(path)
        damaged = opened.damaged or (not isinstance(found, Refused) and found.events and not found.whole)
        return DAMAGED if damaged else USAGE
    if options.answers and isinstance(clock, SteppedClock):
        return play_on(options, opened, clock)
    from runner.cli.leading import go_on

    return go_on(options, shared(opened))


def played_clock() -> SteppedClock:
    """Stepped time that begins anew: a boot of its own, so that no waiting time is compared with an older one."""
    return SteppedClock(SystemClock().now().utc, boot=f"played-{os.urandom(4).hex()}")


def the_only(store: Store) -> str | Refused:
    """The journal of the only unfinished run."""
    from runner.record.index.look import summaries

    found = [summary for summary in summaries(store, index_of(store)) if not summary.outcome]
    if len(found) == 1:
        return found[0].path
    if not found:
        return Refused(say("There is no unfinished run."))
    runs = "; ".join(
        say("{run} ({title}, last {time})", run=summary.run, title=summary.title, time=summary.last[:16])
        for summary in found
    )
    return Refused(say("There are {count} unfinished runs; name one: {runs}", count=len(found), runs=runs))


def play_on(options: argparse.Namespace, opened: Run, clock: SteppedClock) -> int:
    """Go on with a played run from a file of answers."""
    from runner.cli.beginning import told
    from runner.engine.intents import Resume
    from runner.training.played import Player

    if not opened.state.played:
        opened.close()
        print(say("changeover: this run was begun by people; answers are not played into it"), file=sys.stderr)
        return USAGE
    answers = load_answers(options.answers, opened.procedure)
    if isinstance(answers, Stopped):
        opened.close()
        return answers.code
    player = Player(opened, clock, answers)
    if opened.interrupted or opened.state.halted:
        player.must(Resume(player.anyone()))
    outcome = player.play()
    opened.close()
    if player.stopped:
        print(say("changeover: the run stopped: {why}", why=player.stopped), file=sys.stderr)
    return told(options, opened, outcome)
