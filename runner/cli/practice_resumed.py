"""A dry run with a scenario taken up again: by the scenario that is pinned in it, and ahead in time as its record says."""

import argparse
import os
import sys

from runner.cli.exits import DAMAGED, USAGE
from runner.cli.load import Stopped, load_answers
from runner.cli.practising import ahead_of
from runner.engine.events import Event, ScenarioTaken
from runner.engine.intents import Resume
from runner.record.clock import ShiftedClock, SteppedClock, SystemClock
from runner.record.reading import read_journal, verify_journal
from runner.record.refused import Refused
from runner.record.run import Run
from runner.say.text import say
from runner.training.lesson import Lesson
from runner.training.pinned import pinned_scenario


def resume_practice(options: argparse.Namespace, path: str) -> int | None:
    """Go on with it; None where the run has no scenario, and is resumed like any other."""
    events: list[Event] = []
    read_journal(path, lambda entry: events.append(entry.event))
    if not any(isinstance(event, ScenarioTaken) for event in events):
        return None
    scenario = pinned_scenario(events)
    clock: ShiftedClock | SteppedClock
    if options.answers:
        clock = SteppedClock(SystemClock().now().utc, boot=f"played-{os.urandom(4).hex()}")
    else:
        clock = ShiftedClock(ahead_of(events))
    opened = Run.resume(path, clock)
    if isinstance(opened, Refused):
        print(f"changeover: {opened.words}", file=sys.stderr)
        found = verify_journal(path)
        damaged = opened.damaged or (not isinstance(found, Refused) and found.events and not found.whole)
        return DAMAGED if damaged else USAGE
    if scenario is None or isinstance(scenario, Refused):
        opened.close()
        print(f"changeover: {scenario.words if scenario is not None else say('there is no scenario')}", file=sys.stderr)
        return USAGE
    lesson = Lesson(opened, scenario, clock.advance)
    if not options.answers:
        from runner.cli.leading import lead_practice

        return lead_practice(options, lesson)
    return play_on(options, lesson, clock)


def play_on(options: argparse.Namespace, lesson: Lesson, clock: ShiftedClock | SteppedClock) -> int:
    """Go on with a played one from a file of answers."""
    from runner.cli.practice_played import played_out, player_of

    if not lesson.state.played:
        lesson.run.close()
        print(say("changeover: this run was begun by people; answers are not played into it"), file=sys.stderr)
        return USAGE
    answers = load_answers(options.answers, lesson.procedure, lesson.question_ids)
    if isinstance(answers, Stopped):
        lesson.run.close()
        return answers.code
    player = player_of(lesson, clock, answers)
    if lesson.interrupted or lesson.state.halted:
        player.must(Resume(player.anyone()))
    return played_out(options, lesson, player)
