"""A dry run with a scenario, from its file to its result: begun, played up to where it starts, led through, told.

The scenario counts only as lint finds it whole. Its text is pinned in the record, so that the result never depends on files.
"""

import argparse
import os
import sys
from collections.abc import Iterable
from typing import NamedTuple

from runner.cli.beginning import Ticket, begin_intent
from runner.cli.exits import DONE, UNFINISHED, USAGE
from runner.cli.files import Unreadable, fetch_beside, read_text
from runner.cli.load import Stopped, told_faults
from runner.engine import flow
from runner.engine.events import Event, ScenarioTaken, TrainingNoted
from runner.engine.intents import NoteTraining, Refusal
from runner.engine.shown import values_now
from runner.procedure.answers import Answers
from runner.procedure.asks.ask import Ask
from runner.procedure.finding import Severity
from runner.procedure.model import Procedure, Step
from runner.procedure.scenarios.equipment import indication
from runner.procedure.scenarios.model import Scenario
from runner.procedure.scenarios.reading import read_scenario
from runner.record.run import Run
from runner.say.text import say
from runner.training.assess import Result, assess
from runner.training.door import Stepped
from runner.training.lesson import Lesson
from runner.training.pinned import digest_of
from runner.training.planned import criteria, planned

SCENARIO = "scenario"
"""How inputs came that the scenario gives."""


class Loaded(NamedTuple):
    """A scenario with its text."""

    scenario: Scenario
    text: str


def load_scenario(path: str, procedure: Procedure) -> Loaded | Stopped:
    """The scenario of a file, for this procedure, if lint finds no error in it."""
    from runner.lint.scenarios import scenario_findings

    text = read_text(path)
    if isinstance(text, Unreadable):
        print(f"changeover: {text.words}", file=sys.stderr)
        return Stopped(USAGE)
    findings = scenario_findings(text, path, fetch_beside(path))
    errors = [finding for finding in findings if finding.severity is Severity.ERROR]
    scenario = read_scenario(text, path).scenario
    if errors or scenario is None:
        return told_faults(path, errors)
    if scenario.procedure != procedure.id:
        print(
            say(
                "changeover: {path} is for {wanted}, the procedure is {found}",
                path=path,
                wanted=scenario.procedure,
                found=procedure.id,
            ),
            file=sys.stderr,
        )
        return Stopped(USAGE)
    return Loaded(scenario, text)


def practice_ticket(options: argparse.Namespace, loaded: Loaded, ticket: Ticket) -> Ticket | Stopped:
    """The ticket with the scenario's job and crew; what is given on the command line goes before."""
    scenario = loaded.scenario
    given = {one.name: one.typed for one in scenario.inputs}
    crew = {one.name: one.typed for one in scenario.crew} | ticket.crew
    coach_was = next((name for name in crew.values() if name.casefold() == "coach"), "")
    if options.coach and coach_was:
        crew = {role: options.coach if name == coach_was else name for role, name in crew.items()}
    if options.trainee:
        crew[scenario.trainee] = options.trainee
    if options.assess and not (options.trainee and options.coach):
        print(say("changeover: an assessment needs --trainee NAME and --coach NAME"), file=sys.stderr)
        return Stopped(USAGE)
    if options.assess and same(options.trainee, options.coach):
        print(say("changeover: nobody assesses themselves: --trainee and --coach are the same person"), file=sys.stderr)
        return Stopped(USAGE)
    origins = dict.fromkeys(given, SCENARIO) | ticket.origins
    return ticket._replace(inputs=given | ticket.inputs, crew=crew, origins=origins)


def same(one: str, other: str) -> bool:
    """The same person by name."""
    return " ".join(one.split()).casefold() == " ".join(other.split()).casefold()


def begin_practice(
    options: argparse.Namespace, loaded: Loaded, ticket: Ticket, clock: Stepped, played: bool
) -> Lesson | Stopped:
    """The run, begun, with its scenario pinned and everything before `start_at` played."""
    scenario = loaded.scenario
    intent = begin_intent("dry", played, ticket.inputs, ticket.crew, clock, ticket.origins)
    run = Run.begin(ticket.store, ticket.procedure, intent, clock)
    if isinstance(run, Refusal):
        print("changeover: " + "\n  ".join((run.reason, *run.missing)), file=sys.stderr)
        return Stopped(UNFINISHED)
    trainee = ticket.crew.get(scenario.trainee, "")
    coach = options.coach or next((name for name in ticket.crew.values() if name.casefold() == "coach"), "")
    seed = options.seed if options.seed is not None else int.from_bytes(os.urandom(4), "big")
    come = planned(scenario, seed)
    taken = ScenarioTaken(
        coach or trainee, clock.now(), scenario.id, scenario.title, loaded.text, digest_of(loaded.text),
        bool(options.assess), trainee, coach, seed, come, criteria(scenario),
    )  # fmt: skip
    refused = kept(run, NoteTraining(coach or trainee, taken))
    if not refused and scenario.start_at:
        refused = play_to(run, scenario, clock, trainee)
    if refused:
        run.close()
        print(say("changeover: the scenario cannot begin: {why}", why=refused), file=sys.stderr)
        return Stopped(UNFINISHED)
    lesson = Lesson(run, scenario, clock.advance)
    lesson.begin()
    return lesson


def kept(run: Run, intent: NoteTraining) -> str:
    """Why something could not be kept; empty where it was."""
    decided = run.submit(intent)
    return decided.reason if isinstance(decided, Refusal) else ""


def play_to(run: Run, scenario: Scenario, clock: Stepped, trainee: str) -> str:
    """Play everything before the scenario's first step as it is in order; why that failed, empty where it did not."""
    from runner.training.played import Player

    before = clock.now().tick

    def up() -> str:
        lanes = range(len(run.state.position.cursors))
        here = (flow.current(run.procedure, run.state.position, lane) for lane in lanes)
        return "here" if any(step is not None and step.id == scenario.start_at for step in here) else ""

    def shows(_: Step, ask: Ask) -> str:
        return indication(run.procedure, scenario, ask, 1, values_now(run.state)).value

    place = scenario.place("start_at")
    player = Player(run, clock, Answers(scenario.procedure, (), (), "done", (), place), shows, up, 0.0)
    player.play()
    if player.stopped != "here":
        return player.stopped or "the run ended before it"
    stepped = clock.now().tick - before
    words = f"the steps before {scenario.start_at} were played by the program, as they are in order"
    return kept(
        run, NoteTraining(trainee, TrainingNoted("", run.now(), "played", scenario.start_at, "", words, stepped))
    )


def ahead_of(events: Iterable[Event]) -> float:
    """By how much the time of a dry run was stepped so far."""
    return sum(
        event.number for event in events if isinstance(event, TrainingNoted) and event.kind in ("time", "played")
    )


def result_of(lesson: Lesson) -> Result:
    """What it came to so far."""
    entries = [(entry.number, entry.event) for entry in lesson.entries()]
    return assess(entries, lesson.scenario, lesson.procedure)


def tell_result(options: argparse.Namespace, lesson: Lesson) -> int:
    """What it came to, in a few lines, and where the rest is found."""
    from runner.training.assessed import outcome

    result = result_of(lesson)
    out = sys.stderr
    print(f"DRY RUN, {lesson.scenario.title}: {outcome(result)}", file=out)
    for one in result.criteria:
        print(f"  {one.result:<10} {one.words}", file=out)
    for line, act in result.unsafe:
        print(f"  unsafe     {act} (event {line})", file=out)
    named = lesson.path if options.records else result.run
    print(f"all of it, and the sign-off: changeover assess {named}", file=out)
    return DONE if result.ended in ("over", "finished") else UNFINISHED
