"""What every way of running has in common: the intent to begin, and what is said when the run is left."""

import argparse
import json
import os
import sys
from typing import NamedTuple, Protocol

from runner import VERSION
from runner.cli.exits import DONE, UNFINISHED
from runner.engine.intents import BeginRun
from runner.engine.state import RunState
from runner.procedure.model import Procedure
from runner.procedure.site import Site
from runner.record.clock import Clock, run_id
from runner.record.head_code import head_code
from runner.record.store import Store
from runner.say.text import say

JOB_FILE, COMMAND_LINE, ANSWERS_FILE, TYPED = "job file", "command line", "answers file", "typed"
"""How the value of an input came."""

PROGRAM = f"changeover-runner {VERSION}"


class Ended(Protocol):
    """A run that was left."""

    @property
    def state(self) -> RunState:
        """As of the newest event."""

    @property
    def path(self) -> str:
        """Of the record."""

    @property
    def head(self) -> str:
        """The hash of its newest line."""


class Ticket(NamedTuple):
    """What is known before the run begins."""

    procedure: Procedure
    store: Store
    mode: str
    inputs: dict[str, str]
    crew: dict[str, str]
    origins: dict[str, str]
    """How each of the inputs came."""
    site: Site | None = None
    """Whose people give PINs; None without a site file."""


def begin_intent(
    mode: str, played: bool, inputs: dict[str, str], crew: dict[str, str], clock: Clock, origins: dict[str, str]
) -> BeginRun:
    """The intent to begin, with a new run's id. `origins` says of inputs how their values came."""
    by = next((name for name in crew.values() if name.strip()), "") or "nobody"
    run = run_id(clock.now(), os.urandom(8))
    return BeginRun(by, run, mode, played, tuple(crew.items()), tuple(inputs.items()), PROGRAM, tuple(origins.items()))


def told(options: argparse.Namespace, run: Ended, outcome: str) -> int:
    """Say how the run ended and where its record lies."""
    if options.json:
        print(json.dumps({"run": run.state.run, "journal": run.path, "outcome": outcome}, ensure_ascii=False))
    else:
        print(
            say("run {run}: {outcome}; record {path}", run=run.state.run, outcome=say(outcome), path=run.path),
            file=sys.stderr,
        )
        if run.state.outcome:
            print(say("head code {code}", code=head_code(run.head)), file=sys.stderr)
    return DONE if outcome == "finished" else UNFINISHED
