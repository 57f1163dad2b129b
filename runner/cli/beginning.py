"""What every way of running has in common: the intent to begin, and what is said when the run is left."""

import argparse
import json
import os
import sys
from typing import NamedTuple

from runner import VERSION
from runner.cli.exits import DONE, UNFINISHED
from runner.engine.intents import BeginRun
from runner.procedure.model import Procedure
from runner.procedure.site import Site
from runner.record.clock import Clock, run_id
from runner.record.run import Run
from runner.record.store import Store

JOB_FILE, COMMAND_LINE, ANSWERS_FILE, TYPED = "job file", "command line", "answers file", "typed"
"""How the value of an input came."""

PROGRAM = f"changeover-runner {VERSION}"


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


def told(options: argparse.Namespace, run: Run, outcome: str) -> int:
    """Say how the run ended and where its record lies."""
    if options.json:
        print(json.dumps({"run": run.state.run, "journal": run.path, "outcome": outcome}, ensure_ascii=False))
    else:
        print(f"run {run.state.run}: {outcome}; record {run.path}", file=sys.stderr)
    return DONE if outcome == "finished" else UNFINISHED
