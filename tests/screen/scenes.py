"""Every page of the screen as a person meets it: shells at a moment, by name, for pictures and comparisons.

Most are moments of the change of a roll as it was shipped once, kept in `pictured/`: a picture changes when the screen
does, and not when an author writes another sentence. Each scene is of the page that is on top of it, so that a page of
the table of keys without a scene is found.
"""

import os
from collections.abc import Callable
from copy import copy
from functools import cache
from pathlib import Path

from runner.cli.files import fetch_beside
from runner.engine import flow
from runner.engine.events import Event, InputGiven
from runner.engine.intents import Abandon, LeftOpen, MakeSafe, NoteException, SkipSafeAct
from runner.engine.moment import Moment
from runner.engine.state import RunState
from runner.procedure.compile import compile_procedure
from runner.procedure.model import Procedure
from runner.screen.door import Idle
from runner.screen.elsewhere import changed
from runner.screen.mode import DRY
from runner.screen.pages.home import NO_PROCEDURE, HomeLine, HomePage, Listing
from runner.screen.pages.review import ReviewPage
from runner.screen.pages.start import StartPage
from runner.screen.shell import Shell
from runner.screen.view import Stage, view
from tests.procedures.shipped import text_of
from tests.screen.bench import MemoryRun, Person
from tests.screen.test_shipped import MOST_TURNS, Operator
from tests.training.lessons import lesson, to_fill

JOB = "change-roll"
PICTURED = os.path.join(os.path.dirname(__file__), "pictured")
AT = "2026-11-24T14:02:11.000Z"
LEFT = (
    LeftOpen("20261124-1310-qp7d", 2, "Change the roll", "material", "minor", "Core is dented.", "", False, "Rune Tavik", AT),
    LeftOpen("20261124-1310-qp7d", 3, "Change the roll", "equipment", "serious", "Chuck latch sticks.", "", True, "", AT),
)  # fmt: skip
LISTING = Listing(
    (HomeLine("r/open.journal", "Change the knives; at step 2.4; since 11-25 06:10; Rune Tavik", "run-9000"),),
    (
        HomeLine("p/change-roll.procedure.yaml", "Change the roll, unwind and rewind; revision 1 draft", JOB),
        HomeLine("p/web-break.procedure.yaml", "After a web break; revision 1 draft", "web-break"),
    ),
    tuple(
        HomeLine(f"r/{at}.journal", f"Change the roll; finished; 2026-11-{20 - at:02d} 06:10; Ilka Foss", f"run-{at}")
        for at in range(12)
    ),
    (HomeLine("r/7.journal", "BLOCKS: Chuck latch sticks; Line 3; 2026-11-24 14:02", "run-0007"),),
)
WANTED = (
    ("1.1", Stage.BEGIN), ("1.4", Stage.ASK), ("1.8", Stage.ASK), ("1.8", Stage.SECOND), ("1.11", Stage.BEGIN),
    ("2.8", Stage.CAUTIONS), ("4a.1", Stage.BEGIN), ("5.4", Stage.CAUTIONS), ("5.4", Stage.HOLD), ("5.8", Stage.ASK),
    ("5.9", Stage.WAIT), ("7a.2", Stage.ASK), ("8a.3", Stage.ASK), ("8a.3", Stage.SECOND), ("11.6", Stage.ASK),
    ("13.1", Stage.HOLD),
)  # fmt: skip
"""Moments of the change of a roll that scenes begin at."""


class Standing(MemoryRun):
    """A run that another terminal keeps, or kept."""

    lost = ""
    joined = True

    def watch(self, watcher: Callable[[str, tuple[Event, ...]], None]) -> None:
        """Nothing comes."""


@cache
def pictured() -> Procedure:
    """The change of a roll, as kept."""
    path = os.path.join(PICTURED, f"{JOB}.procedure.yaml")
    found = compile_procedure(text_of(path), path, fetch_beside(path))
    assert found.procedure is not None, found.findings
    return found.procedure


def operator() -> Operator:
    """Somebody who begins it."""
    return Operator(pictured(), JOB, PICTURED, PICTURED)


@cache
def moments() -> dict[tuple[str, str], tuple[MemoryRun, int]]:
    """The run at each wanted moment and the list that is shown, taken while the whole is led through once."""
    leading = operator()
    run, shell = leading.run, leading.person.shell
    found: dict[tuple[str, str], tuple[MemoryRun, int]] = {("", "begun"): (kept(run), 0)}
    for _ in range(MOST_TURNS):
        seen = view(run.procedure, run.state, run.now(), shell.lane)
        if flow.ended(run.procedure, run.state.position):
            found.setdefault(("", "ended"), (kept(run), 0))
        if run.state.outcome:
            found["", "over"] = kept(run), 0
            return found
        if seen.step is not None and (seen.step.step.number, seen.step.stage) in WANTED:
            found.setdefault((seen.step.step.number, seen.step.stage.value), (kept(run), shell.lane))
        if shell.picture().reads_on or seen.step is None:
            leading.person.press("enter")
        else:
            leading.step(seen.step)
    raise AssertionError(leading.person.screen())


def kept(run: MemoryRun) -> MemoryRun:
    """The run as it is now, to be gone on with by itself."""
    other = copy(run)
    other.events = list(run.events)
    return other


def at(number: str, stage: Stage | str, *keys: str) -> Shell:
    """The change of a roll at a moment, after some keys."""
    run, lane = moments()[number, stage if isinstance(stage, str) else stage.value]
    person = Person(kept(run))
    person.shell.lane = lane
    person.shell.settle()
    person.shell.picture()
    return person.press(*keys).shell


def far() -> Shell:
    """From three metres."""
    return at("5.8", Stage.ASK, "f8")


def carried() -> Shell:
    """Exceptions of earlier runs."""
    run, _ = moments()["", "begun"]
    given = tuple((event.name, event.typed) for event in run.events if isinstance(event, InputGiven))
    return Shell.over(MemoryRun(pictured(), tuple(run.state.crew.items()), given, left_open=LEFT))


def interrupted() -> Shell:
    """Opened again after the program had ended."""
    run = kept(moments()["5.8", Stage.ASK.value][0])
    run.interrupted, run.boot = True, "another"
    return Shell.over(run)


def looks() -> Shell:
    """States looked at again."""
    run = kept(moments()["5.8", Stage.ASK.value][0])
    run.interrupted, run.boot = True, "another"
    return Person(run).press("enter", "enter").shell


def lost() -> Shell:
    """The terminal that kept the record is gone."""
    run = kept(moments()["5.8", Stage.ASK.value][0])
    run.__class__ = Standing
    assert isinstance(run, Standing)
    shell = Shell.over(run)
    run.lost = "the terminal that kept the record does not answer any more"
    changed(shell, "", ())
    return shell


def broken() -> Shell:
    """Nothing is accepted any more."""
    shell = at("5.8", Stage.ASK)
    shell.broken("the disk is full")
    return shell


def over_limits() -> Shell:
    """A value out of its limits."""
    return at("5.8", Stage.ASK, *"9.4", "enter")


def abandoned() -> MemoryRun:
    """A run with exceptions, ended unfinished."""
    run = kept(moments()["1.8", Stage.ASK.value][0])
    doer = "Ilka Foss"
    for intent in (
        NoteException(doer, "", "equipment", "serious", "The crane creaks."), NoteException(doer, "", "other", "note", "Cold hall."),
        MakeSafe(doer),
    ):  # fmt: skip
        run.submit(intent)
    for act in range(len(run.state.safe_acts)):
        run.submit(SkipSafeAct(doer, act, "Nothing hangs on the crane."))
    run.submit(Abandon(doer, "The new roll is damaged."))
    assert run.state.outcome == "abandoned"
    return run


def review() -> Shell:
    """What the shift lead decides after the end."""
    shell = Shell.over(abandoned())
    shell.pages.append(ReviewPage())
    shell.settle()
    return shell


def idle(page: HomePage | StartPage, mode: str = "live") -> Shell:
    """Before a run."""
    procedure = pictured() if isinstance(page, StartPage) else NO_PROCEDURE
    before = Idle(procedure, RunState(flow.start(procedure)), "" if mode == "live" else DRY)
    return Shell(lambda: Moment("2026-11-25T09:40:14.250Z", 0.0, "boot"), page, idle=before)


def start(mode: str = "live") -> Shell:
    """The first page of a run; the job file has brought everything."""
    run, _ = moments()["", "begun"]
    crew = tuple(run.state.crew.items())
    return idle(StartPage(crew, (), mode), mode)


def inputs() -> Shell:
    """A value of the job is asked for."""
    shell = start()
    shell.now = Clock()
    for _ in range(5):
        shell.picture()
        shell.key("enter", None)
    return shell


def summary() -> Shell:
    """All that the run begins with, with bands and where each value came from."""
    run, _ = moments()["", "begun"]
    given = tuple((event.name, event.typed) for event in run.events if isinstance(event, InputGiven))
    brought = tuple((name, typed, "from night.job.yaml") for name, typed in given[:-2])
    return idle(StartPage(tuple(run.state.crew.items()), given, "live", read=True, brought=brought))


class Clock:
    """A second for each look at it."""

    def __init__(self) -> None:
        self.tick = 0.0

    def __call__(self) -> Moment:
        """This moment."""
        self.tick += 1.0
        return Moment("2026-11-25T09:40:14.250Z", self.tick, "boot")


def gauge(folder: Path) -> Shell:
    """A dry run with a scenario."""
    made = lesson(folder)
    to_fill(made)
    return Shell.over(made)


SCENES: dict[str, Callable[[], Shell]] = {
    "home": lambda: idle(HomePage(LISTING)),
    "start": start,
    "start-dry": lambda: start("dry"),
    "start-input": inputs,
    "start-summary": summary,
    "run-begin": lambda: at("1.1", Stage.BEGIN),
    "run-scan": lambda: at("1.4", Stage.ASK),
    "run-measure": lambda: at("1.8", Stage.ASK),
    "run-second-look": lambda: at("1.8", Stage.SECOND),
    "run-cautions": lambda: at("5.4", Stage.CAUTIONS),
    "run-two-lists": lambda: at("4a.1", Stage.BEGIN),
    "run-value": lambda: at("5.8", Stage.ASK),
    "run-out-of-limits": over_limits,
    "run-wait": lambda: at("5.9", Stage.WAIT),
    "run-pieces": lambda: at("7a.2", Stage.ASK),
    "run-thread": lambda: at("8a.3", Stage.ASK),
    "run-thread-half": lambda: at("8a.3", Stage.ASK, "enter", "enter", "enter"),
    "run-thread-second": lambda: at("8a.3", Stage.SECOND),
    "run-feed": lambda: at("11.6", Stage.ASK),
    "run-far": far,
    "hold-release": lambda: at("5.4", Stage.HOLD, "enter"),
    "hold-ticks": lambda: at("5.4", Stage.HOLD, "enter", *"Mara Quist", "enter", "enter"),
    "places": lambda: at("5.8", Stage.ASK, "f6"),
    "form-step": lambda: at("5.8", Stage.ASK, "f6", "up", "enter"),
    "working": lambda: at("5.8", Stage.ASK, "f7"),
    "form-working": lambda: at("5.8", Stage.ASK, "f7", *"15", "enter"),
    "working-states": lambda: at("5.8", Stage.ASK, "f7", "tab"),
    "looks": looks,
    "form-unexpected": lambda: at("5.8", Stage.ASK, "f2"),
    "form-pause": lambda: at("5.8", Stage.ASK, "f3"),
    "halted-pause": lambda: at("5.8", Stage.ASK, "f3", "1", "enter", *"fill to 6 bar", "enter"),
    "halted-safe": lambda: at("5.8", Stage.ASK, "f4"),
    "halted-interrupted": interrupted,
    "carried": carried,
    "finish": lambda: at("", "ended"),
    "over": lambda: at("", "over"),
    "review": review,
    "broken": broken,
    "lost": lost,
    "help": lambda: at("5.8", Stage.ASK, "f1"),
}
"""By name; what is before the first dash is the page of the table of keys."""
