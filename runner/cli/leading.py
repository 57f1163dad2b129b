"""A person is led through a run: on the screen or line by line, newly begun or resumed.

The screen gets a run, or a function that begins one; whatever happens the run is closed here and its end is told.
"""

import argparse
import gc
import json
import os
import shlex
import sys
from collections.abc import Callable
from typing import TYPE_CHECKING

from runner.cli.beginning import JOB_FILE, TYPED, Ticket, begin_intent, told
from runner.cli.exits import SIGNAL, UNFINISHED
from runner.cli.joining import shared
from runner.cli.looks import ascii_wanted, looks_of, respell
from runner.engine.intents import Refusal
from runner.record.clock import SystemClock
from runner.record.run import Run
from runner.say.text import mark, say

if TYPE_CHECKING:
    from runner.record.shared.joined import Joined
    from runner.record.shared.keeper import Keeper
    from runner.screen.door import Door
    from runner.training.lesson import Lesson

Asking = Callable[[str], str]
"""Puts a question and gives the line typed; raises EOFError where the input has ended."""


class Beginner:
    """Begins the run once the start page is confirmed, and keeps it to be closed."""

    def __init__(self, ticket: Ticket) -> None:
        self.ticket = ticket
        self.clock = SystemClock()
        self.run: Keeper | None = None

    def __call__(self, crew: tuple[tuple[str, str], ...], inputs: tuple[tuple[str, str], ...]) -> "Keeper | Refusal":
        """Begin, or say why not."""
        brought, origins = self.ticket.inputs, self.ticket.origins
        came = {name: origins[name] if brought.get(name) == typed else TYPED for name, typed in inputs}
        intent = begin_intent(self.ticket.mode, False, dict(inputs), dict(crew), self.clock, came)
        run = Run.begin(self.ticket.store, self.ticket.procedure, intent, self.clock, site=self.ticket.site)
        if isinstance(run, Refusal):
            return run
        self.run = shared(run)
        return self.run


def begin_on_screen(options: argparse.Namespace, ticket: Ticket) -> int:
    """The start page, then the run, on the full screen."""
    from runner.screen.app import run_start

    beginner = Beginner(ticket)
    left, _ = run_start(
        ticket.procedure,
        ticket.mode,
        tuple(ticket.crew.items()),
        tuple(ticket.inputs.items()),
        beginner,
        beginner.clock.now,
        looks_of(options),
        pins=pins_of(ticket),
        brought=brought(options, ticket),
    )
    return ended(options, beginner.run, left.outcome, left.signal_code)


def begin_on_lines(options: argparse.Namespace, ticket: Ticket) -> int:
    """The same line by line."""
    from runner.screen.plain import run_plain_start

    gc.enable()  # loaded; a run may last for hours
    beginner = Beginner(ticket)
    outcome, _ = run_plain_start(
        ticket.procedure,
        ticket.mode,
        tuple(ticket.crew.items()),
        tuple(ticket.inputs.items()),
        beginner,
        beginner.clock.now,
        *lines_of(options),
        pins=pins_of(ticket),
        brought=brought(options, ticket),
    )
    return ended(options, beginner.run, outcome, 0)


def pins_of(ticket: Ticket) -> bool:
    """Whether people are asked for PINs."""
    return ticket.site is not None and ticket.mode == "live"


def brought(options: argparse.Namespace, ticket: Ticket) -> tuple[tuple[str, str, str], ...]:
    """(input, value, where from) of what the ticket has, a job file by its name."""
    file = os.path.basename(getattr(options, "job", None) or "")
    named = {JOB_FILE: say("from {file}", file=file)} if file else {}
    return tuple(
        (name, typed, named.get(ticket.origins.get(name, ""), say(ticket.origins.get(name, "") or TYPED)))
        for name, typed in ticket.inputs.items()
    )


def go_on(options: argparse.Namespace, run: "Keeper | Joined", lane: int = 0) -> int:
    """An open run, on the screen or line by line; `lane` is the list that is shown first where there are several."""
    door = door_of(options, run)
    if options.plain:
        from runner.screen.plain import run_plain

        gc.enable()  # loaded; a run may last for hours
        return ended(options, run, run_plain(door, *lines_of(options), lane), 0)
    from runner.screen.app import run_app

    left = run_app(door, looks_of(options), lane)
    return ended(options, run, left.outcome, left.signal_code)


def door_of(options: argparse.Namespace, run: "Keeper | Joined") -> "Door":
    """The run as the screen sees it; where what was done on paper is entered, each act is asked for its time."""
    if not getattr(options, "from_paper", False):
        return run
    from runner.screen.paper import PaperDoor

    return PaperDoor(run)


def ended(options: argparse.Namespace, run: "Run | Keeper | Joined | None", outcome: str, signal_code: int) -> int:
    """Close the run and say how it stands."""
    if run is None:
        if options.json:
            print(json.dumps({"run": None, "journal": None, "outcome": "not begun"}))
        print(say("no run was begun"), file=sys.stderr)
        return signal_code or UNFINISHED
    run.close()
    code = told(options, run, outcome if outcome in ("finished", "abandoned") else mark("unfinished"))
    if not run.state.outcome:
        named = run.path if options.records else run.state.run
        if not isinstance(run, Run) and run.goes_on:
            print(say("go on with: changeover join {run}", run=shlex.quote(named)), file=sys.stderr)
        else:
            print(say("go on with: changeover resume {run}", run=shlex.quote(named)), file=sys.stderr)
    return signal_code if signal_code > SIGNAL else code


def lead_practice(options: argparse.Namespace, lesson: "Lesson") -> int:
    """A dry run with its scenario, on the screen or line by line, and what it came to."""
    from runner.cli.practising import tell_result

    if options.plain:
        from runner.screen.plain import run_plain

        gc.enable()
        code = ended(options, lesson.run, run_plain(lesson, *lines_of(options)), 0)
    else:
        from runner.screen.app import run_app

        left = run_app(lesson, looks_of(options))
        code = ended(options, lesson.run, left.outcome, left.signal_code)
    told_code = tell_result(options, lesson)
    return code if code > SIGNAL or not lesson.state.outcome else told_code


def lines_of(options: argparse.Namespace) -> tuple[Asking, Callable[[str], None], Asking]:
    """How a question is put, a line written, a hidden answer asked for: in plain characters where the terminal shows no
    others."""
    if not ascii_wanted(options):
        return ask_line, write_line, ask_hidden
    from runner.screen.spelled import spell

    respell()

    def write(text: str) -> None:
        write_line("\n".join(spell(line) for line in text.split("\n")))

    return (lambda question: ask_line(spell(question))), write, (lambda question: ask_hidden(spell(question)))


def ask_line(question: str) -> str:
    """One line from the person; EOFError where the input has ended."""
    sys.stdout.write(question)
    sys.stdout.flush()
    line = sys.stdin.readline()
    if not line:
        raise EOFError
    return line.rstrip("\r\n")


def ask_hidden(question: str) -> str:
    """One line that the terminal does not show; EOFError where the input has ended."""
    if not sys.stdin.isatty():
        return ask_line(question)
    from getpass import getpass

    return getpass(question, sys.stdout)


def write_line(text: str) -> None:
    """Lines to the person."""
    sys.stdout.write(text + "\n")
    sys.stdout.flush()
