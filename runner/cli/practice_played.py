"""A dry run with a scenario played from answers: what they do not say is answered as the equipment shows it.

The answers say what the trainee does where something goes wrong. Where the power fails the playing ends, as a person's
session does; `changeover resume RUN --answers FILE` goes on.
"""

import argparse
import sys

from runner.cli.beginning import told
from runner.cli.exits import UNFINISHED
from runner.cli.practising import tell_result
from runner.procedure.answers import Answers
from runner.procedure.asks.ask import Ask
from runner.procedure.model import Step
from runner.say.text import mark, say
from runner.training.door import Stepped
from runner.training.lesson import Lesson
from runner.training.played import Player

POWER = mark("the power fails; go on with changeover resume")


def play_practice(options: argparse.Namespace, lesson: Lesson, clock: Stepped, answers: Answers) -> int:
    """Play it to its end, or to where it cannot go on."""
    player = player_of(lesson, clock, answers)
    return played_out(options, lesson, player)


def player_of(lesson: Lesson, clock: Stepped, answers: Answers) -> Player:
    """A player whose readings come from the equipment where the answers have none."""

    def shows(step: Step, ask: Ask) -> str:
        return lesson.indication(step, ask).value

    def until() -> str:
        return POWER if lesson.dark else ""

    return Player(lesson, clock, answers, shows, until)


def played_out(options: argparse.Namespace, lesson: Lesson, player: Player) -> int:
    """Play on, and tell what came of it."""
    if not lesson.followed.criteria_seen:
        player.must(lesson.criteria_seen())
    player.play()
    lesson.run.close()
    if player.stopped and lesson.state.outcome == "":
        print(say("changeover: the run stopped: {why}", why=say(player.stopped)), file=sys.stderr)
    told(options, lesson.run, lesson.state.outcome or "unfinished")
    code = tell_result(options, lesson)
    return code if lesson.state.outcome else UNFINISHED
