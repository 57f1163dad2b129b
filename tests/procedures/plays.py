"""Runs of shipped procedures played from their answers through the engine and a journal in a folder of the test."""

import os
from dataclasses import dataclass

from runner.cli.load import typed_of
from runner.engine.events import Event
from runner.engine.intents import BeginRun, Refusal
from runner.procedure.answers import Answers, read_answers
from runner.procedure.job import read_job
from runner.record.clock import SteppedClock
from runner.record.run import Run
from runner.record.store import Store
from runner.record.verify import verify_bytes
from runner.training.played import Player
from tests.procedures.shipped import ANSWERS, FOLDER, procedure_of, text_of


@dataclass(frozen=True, slots=True)
class Play:
    """What came of one played run."""

    outcome: str
    stopped: str
    events: tuple[Event, ...]
    flaws: tuple[str, ...]


def answers_of(name: str) -> Answers:
    """The answers file of that name."""
    path = os.path.join(ANSWERS, f"{name}.answers.yaml")
    found = read_answers(text_of(path), path)
    assert found.answers is not None, found.findings
    return found.answers


def intent_for(name: str, changed: dict[str, str]) -> BeginRun:
    """To begin a run with the shipped job, some of its values changed."""
    path = os.path.join(FOLDER, f"{name}.job.yaml")
    found = read_job(text_of(path), path)
    assert found.job is not None, found.findings
    inputs = typed_of(found.job.inputs) | changed
    crew = typed_of(found.job.crew)
    lead = crew["lead"]
    return BeginRun(lead, "20261125-0800-test", "dry", True, tuple(crew.items()), tuple(inputs.items()), "test")


def begun(name: str, folder: str, clock: SteppedClock, **changed: str) -> Run | Refusal:
    """A run of a shipped procedure, or why it may not begin."""
    return Run.begin(Store(folder), procedure_of(name), intent_for(name, changed), clock)


def play(name: str, answers: Answers, folder: str, **changed: str) -> Play:
    """Play a shipped procedure with these answers to where they lead."""
    clock = SteppedClock()
    run = begun(name, folder, clock, **changed)
    assert isinstance(run, Run), run
    player = Player(run, clock, answers)
    outcome = player.play()
    events = tuple(entry.event for entry in run.entries())
    run.close()
    with open(run.path, "rb") as file:
        verified = verify_bytes(file.read())
    return Play(outcome, player.stopped, events, tuple(str(flaw) for flaw in verified.flaws))
