"""The stretches and points of a run, by person, from its events.

What was entered from paper stands where the paper says that it was done. A stretch whose end is not on record ends with
the record. Times are seconds of the wall clock, as the events have them; one that was set back makes no stretch negative.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime

from runner.engine import events as ev
from runner.report.contents.names import Entries, Names
from runner.report.contents.words import duration_words, joined, terminal_words

WORK, WAIT, HOLD, HALT = "work", "wait", "hold", "halt"
KINDS = {WORK: "at work in a step", WAIT: "waiting time", HOLD: "waiting at a hold", HALT: "run stands"}
"""The kinds of stretch, and what a legend calls them."""

EXCEPTION, VALUE, BACK, SIGNED = "exception", "value", "back", "signed"
SIGNS = {EXCEPTION: ("▲", "exception"), VALUE: ("◆", "value out of limits"), BACK: ("◄", "gone back")}
"""The kinds of point: the sign, and what a legend calls it."""

NOBODY = "the run"
"""The lane of what nobody in particular did."""

OPENING = (ev.TailSetAside, ev.ClockStepped)
"""Noted when a run is taken up again: it stood since the event before them."""
HALTS = {"pause": "paused", "make-safe": "stopped and made safe", "interruption": "program ended"}


@dataclass(frozen=True, slots=True)
class Span:
    """A stretch of time in one lane."""

    lane: str
    """Who; empty for the whole run."""
    kind: str
    start: float
    end: float
    words: str
    paper: bool = False


@dataclass(frozen=True, slots=True)
class Point:
    """Something that happened at one time."""

    lane: str
    kind: str
    at: float
    words: str
    event: int


@dataclass(frozen=True, slots=True)
class Timeline:
    """All that is drawn."""

    lanes: tuple[str, ...]
    spans: tuple[Span, ...]
    points: tuple[Point, ...]
    start: float
    end: float


def seconds_of(utc: str) -> float | None:
    """A moment in seconds since 1970; None for what is no time."""
    try:
        return datetime.fromisoformat(utc).timestamp()
    except ValueError:
        return None


class Reading:
    """Goes through the events once."""

    def __init__(self, names: Names) -> None:
        self.names = names
        self.now = 0.0
        self.paper = False
        self.spans: list[Span] = []
        self.points: list[Point] = []
        self.at_work: dict[str, tuple[str, float, bool]] = {}
        self.waiting: dict[str, tuple[float, bool]] = {}
        self.held: dict[str, tuple[float, bool]] = {}
        self.terminals: dict[str, str] = {}
        """By step, where it was begun."""
        self.terminal = ""
        """Where the event that is taken was done."""
        self.halted: tuple[str, float] | None = None
        self.doers: dict[str, str] = {}
        self.lanes: dict[str, None] = {}

    def take(self, number: int, event: ev.Event, before: float) -> None:
        """One more event; `before` is when the one before it was."""
        step = getattr(event, "step", "")
        self.terminal = event.terminal
        match event:
            case ev.HoldReached():
                self.held.setdefault(step, (self.now, self.paper))
            case ev.HoldReleased():
                self.close_hold(step)
            case ev.StepBegun():
                self.lanes.setdefault(event.by)
                self.at_work[step] = (event.by, self.now, self.paper)
                self.terminals[step] = event.terminal
            case ev.WaitBegun():
                self.waiting[step] = (self.now, self.paper)
            case ev.WaitEnded():
                self.close_wait(step)
            case ev.StepDone() | ev.StepRepeated() | ev.TroubleMet():
                self.close_step(step)
            case ev.Paused():
                self.halt("pause", self.now)
            case ev.MadeSafe():
                self.close_all()
                self.halt("make-safe", self.now)
            case ev.Resumed():
                if self.halted is None:
                    self.halt(event.after, before)
                self.go_on()
            case ev.ExceptionNoted():
                self.point(
                    event.by, step, EXCEPTION, f"exception {event.number}, {event.severity}: {event.words}", number
                )
            case ev.WentBack():
                self.close_step(step)
                self.point(event.by, step, BACK, f"gone back to {self.names.step(step)}: {event.reason}", number)
            case ev.Answered() if event.verdict != "in":
                limits = f" (allowed: {event.limits})" if event.limits else ""
                self.point(event.by, step, VALUE, f"{event.ask}: {event.shown}{limits}", number)
            case ev.WorkedOut() if event.verdict != "in":
                limits = f" (allowed: {event.limits})" if event.limits else ""
                self.point(event.by, "", VALUE, f"{event.name}: {event.shown}{limits}", number)
            case _:
                pass

    def point(self, by: str, step: str, kind: str, words: str, number: int) -> None:
        """Something happened now: in the lane of who did it, else of who is at the step."""
        at_work = self.at_work.get(step)
        lane = by if by in self.lanes else at_work[0] if at_work is not None else by or NOBODY
        where = joined((words, terminal_words(self.terminal)))
        self.points.append(Point(lane, kind, self.now, where, number))

    def span(self, lane: str, kind: str, start: float, words: str, paper: bool) -> None:
        """A stretch ends now."""
        end = max(start, self.now)
        took = duration_words(end - start)
        self.spans.append(Span(lane, kind, start, end, f"{words}, {took}{', from paper' if paper else ''}", paper))

    def close_step(self, step: str) -> None:
        """The work at a step ends now."""
        self.close_wait(step)
        begun = self.at_work.pop(step, None)
        if begun is not None:
            self.doers[step] = begun[0]
            where = joined((f"step {self.names.step(step)}", terminal_words(self.terminals.get(step, ""))))
            self.span(begun[0], WORK, begun[1], where, begun[2])

    def close_wait(self, step: str) -> None:
        """A waiting time ends now, in the lane of who is at the step."""
        since = self.waiting.pop(step, None)
        if since is not None:
            who = self.at_work[step][0] if step in self.at_work else NOBODY
            self.span(who, WAIT, since[0], f"waiting time of {self.names.step(step)}", since[1])

    def close_hold(self, step: str) -> None:
        """A hold ends now; whose it was is known once the step begins."""
        since = self.held.pop(step, None)
        if since is not None:
            self.span(f"\0{step}", HOLD, since[0], f"hold before {self.names.step(step)}", since[1])

    def close_all(self) -> None:
        """Everything that is open ends now."""
        for step in [*self.waiting]:
            self.close_wait(step)
        for step in [*self.at_work]:
            self.close_step(step)
        for step in [*self.held]:
            self.close_hold(step)

    def halt(self, why: str, since: float) -> None:
        """The run stands from here, or stood already."""
        if self.halted is None:
            self.halted = why, since

    def go_on(self) -> None:
        """The run goes on, or ends."""
        if self.halted is not None:
            why, since = self.halted
            self.halted = None
            self.span("", HALT, since, HALTS.get(why, why), False)


def timeline_of(entries: Entries, names: Names) -> Timeline | None:
    """The timeline of a run up to its end; None where the events have no times or none lies behind another."""
    reading = Reading(names)
    late: ev.EnteredLate | None = None
    times: list[float] = []
    before = 0.0
    for number, event in entries:
        if isinstance(event, ev.EnteredLate):
            late = event
        from_paper = late is not None and late.at == event.at
        at = seconds_of(late.done_at if late is not None and from_paper else event.at.utc)
        if at is None:
            continue
        reading.now, reading.paper = at, from_paper
        times.append(at)
        reading.take(number, event, before)
        if not isinstance(event, OPENING):
            before = at
        if isinstance(event, ev.Finished | ev.Abandoned):
            break
    if not times or max(times) <= min(times):
        return None
    reading.now = times[-1]
    reading.go_on()
    reading.close_all()
    spans = tuple(owned(span, entries, reading) for span in reading.spans)
    lanes = dict.fromkeys([*reading.lanes, *lanes_of(spans), *(point.lane for point in reading.points)])
    return Timeline(tuple(lanes), spans, tuple(reading.points), min(times), max(times))


def lanes_of(spans: Iterable[Span]) -> list[str]:
    """The lanes of stretches; the whole run has none."""
    return [span.lane for span in spans if span.lane]


def owned(span: Span, entries: Entries, reading: Reading) -> Span:
    """A hold in the lane of the person who did its step afterwards; of nobody where the step never began."""
    if not span.lane.startswith("\0"):
        return span
    step = span.lane[1:]
    lane = reading.doers.get(step) or NOBODY
    for _, event in entries:
        if isinstance(event, ev.StepBegun) and event.step == step and (seconds_of(event.at.utc) or 0.0) >= span.start:
            lane = event.by
            break
    return Span(lane, span.kind, span.start, span.end, span.words, span.paper)
