"""A small procedure of two lists and its runs, written event by event, so that every time is known by hand.

Phase 1 runs with the press running (one list), phase 2 with the press stopped (two lists), phase 3 running again. The
second list's `lift-b` needs what the first list's `lower-a` makes.
"""

from collections.abc import Iterable

from runner.engine import events as ev
from runner.engine.moment import Moment
from runner.report.contents.names import Entries
from runner.report.times.plan import Plan, Planned

UMA, ROLF, LENA = "Uma Fictive", "Rolf Fictive", "Lena Fictive"
NAMES = (UMA, ROLF, LENA, "Fictive")

UNWIND, REWIND, LEAD = "Operator, unwind side", "Operator, rewind side", "Shift lead"
CRANE, TOOLS = 0, 1


def planned(step: str, number: str, phase: int, lane: int = 0, press: str = "stopped", **more: object) -> Planned:
    """A step; `needs` and `makes` as sets of states."""
    needs, makes = (frozenset(more.get(name, ())) for name in ("needs", "makes"))  # type: ignore[call-overload]
    two = press == "stopped"
    return Planned(
        step, number, phase, press, lane, (UNWIND, REWIND)[lane] if two else "", (UNWIND, REWIND)[lane], LEAD, REWIND,
        needs, makes, bool(needs or makes),
    )  # fmt: skip


STEPS = (
    planned("stage", "1.1", 0, press="running", makes={TOOLS}),
    planned("lift-a", "2a.1", 1, 0, makes={CRANE}),
    planned("lower-a", "2a.2", 1, 0, makes={CRANE}),
    planned("wipe-b", "2b.1", 1, 1),
    planned("lift-b", "2b.2", 1, 1, needs={CRANE}),
    planned("tidy", "3.1", 2, press="running"),
)
PLAN: Plan = {step.id: step for step in STEPS}


def moment(seconds: float, boot: str = "boot") -> Moment:
    """So many seconds after eight."""
    minutes, second = divmod(int(seconds), 60)
    return Moment(f"2026-11-25T08:{minutes:02d}:{second:02d}.000Z", 1000.0 + seconds, boot)


def begun(run: str = "run-1", revision: int = 1) -> ev.RunBegun:
    """The first event."""
    return ev.RunBegun(
        LENA, moment(0), run, "live", False, "small", "Small", revision, "approved", "0" * 64, (("small.yaml", ""),),
        (("unwind", UMA), ("rewind", ROLF), ("lead", LENA)), "identity not verified", "test",
    )  # fmt: skip


def step(name: str, since: float, until: float, by: str = UMA) -> tuple[ev.Event, ev.Event]:
    """A step that is begun and done."""
    number = PLAN[name].number
    return (
        ev.StepBegun(by, moment(since), name, number, 1, "Do it."),
        ev.StepDone(by, moment(until), name, number, ()),
    )


def run_of(events: Iterable[ev.Event], first: ev.RunBegun | None = None) -> Entries:
    """Events in order of time, after the first, with their numbers."""
    return list(enumerate([first or begun(), *sorted(events, key=lambda event: event.at.tick)], start=1))


def plain() -> list[ev.Event]:
    """stage 10-40; lift-a 50-110, lower-a 120-180; wipe-b 60-90, lift-b 190-250; tidy 260-270; finished at 280."""
    return [
        *step("stage", 10, 40), *step("lift-a", 50, 110), *step("lower-a", 120, 180),
        *step("wipe-b", 60, 90, ROLF), *step("lift-b", 190, 250, ROLF), *step("tidy", 260, 270),
        ev.Finished(LENA, moment(280), 0),
    ]  # fmt: skip
