"""One run as stretches of time: visits to steps, waits within them, and halts.

A visit lasts from the moment work comes to a step until it is done or left again; a step that is done again has several.
Times are seconds from the run's first event, by the steady clock: there are none for a run in which the machine restarted.
"""

from dataclasses import dataclass, field

from runner.engine import events as ev
from runner.report.contents.interruptions import MADE_SAFE, PAUSED, PROGRAM_ENDED
from runner.report.contents.names import Entries
from runner.report.contents.times import ENDS_HALT, ON_OPENING, OPENS
from runner.report.times.plan import Plan

DONE, PASSED, TROUBLE, AGAIN, BROKEN_OFF = "done", "passed over", "trouble", "to be done again", "broken off"
"""How a visit ends."""

RELEASE, SECOND, KEPT = "release", "second look", "waiting time"
"""What is waited for within a visit: a release, the second person, a time that the procedure asks for."""


@dataclass(frozen=True, slots=True)
class Stretch:
    """From one moment to another, in s from the run's first event."""

    what: str
    since: float
    until: float

    @property
    def seconds(self) -> float:
        """How long."""
        return self.until - self.since


@dataclass(frozen=True, slots=True)
class Visit:
    """Work at one step, once."""

    step: str
    came: float
    begun: float | None
    until: float
    how: str
    waits: tuple[Stretch, ...] = ()


@dataclass(frozen=True, slots=True)
class Stretches:
    """A run's time."""

    visits: tuple[Visit, ...]
    """In the order in which they ended."""
    halts: tuple[Stretch, ...]
    last: float
    """The newest event."""

    def net(self, since: float, until: float) -> float:
        """Seconds between two moments without those in which the run was halted."""
        if not self.halts:
            return max(0.0, until - since)
        halted = sum(max(0.0, min(until, halt.until) - max(since, halt.since)) for halt in self.halts)
        return max(0.0, until - since - halted)


@dataclass(slots=True)
class Open:
    """A visit that has not ended."""

    came: float
    seen: float
    """The newest event of the step."""
    begun: float | None = None
    asked: float | None = None
    """Since when a release is waited for."""
    answered: float = 0.0
    """The newest act of the one who does the step: from there a second look is waited for."""
    resting: float | None = None
    """Since when a waiting time runs."""
    waits: list[Stretch] = field(default_factory=list)


def stretches_of(entries: Entries, plan: Plan) -> Stretches | None:
    """A run's time; None where the steady clock does not span it."""
    if not entries or len({event.at.boot for _, event in entries}) > 1:  # the machine was started again
        return None
    run = Walk(entries[0][1].at.tick, plan)
    for _, event in entries:
        run.take(event)
    return run.result()


OF_HALTS = frozenset((ev.Paused, ev.MadeSafe, *ENDS_HALT))
OF_WAITS = frozenset((
    ev.Answered, ev.StepBegun, ev.HoldReached, ev.HoldReleased, ev.WaitBegun, ev.WaitEnded, ev.AnswerCorrected,
    ev.RollerThreaded, ev.LookedTwice,
))  # fmt: skip
"""The events that `halt` and `within` have something to do with: most have not, and are told so at once."""
OF_STEPS = frozenset(kind for kind in ev.EVENTS if "step" in kind.__dataclass_fields__)
COMES = frozenset(OPENS)
NOTED_LATE = frozenset(ON_OPENING)
LEAVES: dict[type[ev.Event], str] = {
    ev.StepDone: DONE, ev.StepNotApplicable: PASSED, ev.StepLeftOut: PASSED, ev.TroubleMet: TROUBLE,
    ev.StepRepeated: AGAIN,
}  # fmt: skip
"""The events that end a visit, each with how. No class of an event has others below it, so its type alone tells."""


class Walk:
    """One pass over the events."""

    def __init__(self, start: float, plan: Plan) -> None:
        self.start, self.plan = start, plan
        self.now = 0.0
        self.before = 0.0
        """The newest event that was not noted on opening the journal."""
        self.halted: tuple[str, float] | None = None
        self.open: dict[str, Open] = {}
        self.visits: list[Visit] = []
        self.halts: list[Stretch] = []

    def take(self, event: ev.Event) -> None:
        """One more event."""
        kind = type(event)
        self.now = max(self.now, event.at.tick - self.start)
        if kind in OF_HALTS:
            self.halt(event)
        if kind in OF_STEPS:
            step: str = getattr(event, "step")  # noqa: B009 - of most kinds, which the types do not tell
            if step in self.plan:
                self.at_step(step, event, kind)
        if isinstance(event, ev.WentBack):
            for again in set(event.again) & set(self.open):
                self.leave(again, AGAIN)
        if kind not in NOTED_LATE:
            self.before = self.now

    def halt(self, event: ev.Event) -> None:
        """Beginnings and ends of halts."""
        if isinstance(event, ev.Paused | ev.MadeSafe):
            self.end_halt()
            self.halted = (PAUSED if isinstance(event, ev.Paused) else MADE_SAFE, self.now)
        elif isinstance(event, ENDS_HALT):
            if self.halted is None and isinstance(event, ev.Resumed):
                self.halted = (PROGRAM_ENDED, self.before)
            self.end_halt()

    def end_halt(self) -> None:
        """The halt that is on ends now."""
        if self.halted is not None:
            self.halts.append(Stretch(*self.halted, self.now))
        self.halted = None

    def at_step(self, step: str, event: ev.Event, kind: type[ev.Event]) -> None:
        """An event that names a step."""
        known = self.open.get(step)
        if known is not None and known.begun is not None and kind is ev.StepBegun:
            self.leave(step, BROKEN_OFF, known.seen)
            known = None
        if known is None:
            if kind not in COMES:
                return
            known = self.open[step] = Open(self.now, self.now, answered=self.now)
        if kind in OF_WAITS:
            self.within(known, event)
        known.seen = self.now
        how = LEAVES.get(kind)
        if how is not None:
            self.leave(step, how)

    def within(self, known: Open, event: ev.Event) -> None:
        """What a step's event says of waits."""
        match event:
            case ev.HoldReached():
                known.asked = self.now
            case ev.HoldReleased() if known.asked is not None:
                known.waits.append(Stretch(RELEASE, known.asked, self.now))
                known.asked = None
            case ev.StepBegun():
                known.begun = known.answered = self.now
            case ev.WaitBegun() if known.resting is None:
                known.resting = self.now
            case ev.WaitEnded() if known.resting is not None:
                known.waits.append(Stretch(KEPT, known.resting, self.now))
                known.resting, known.answered = None, self.now
            case ev.Answered(hidden=False) | ev.AnswerCorrected() | ev.RollerThreaded():
                known.answered = self.now
            case ev.LookedTwice() if known.resting is None:  # else the waiting time runs on all the same
                known.waits.append(Stretch(SECOND, known.answered, self.now))
                known.answered = self.now
            case _:
                pass

    def leave(self, step: str, how: str, until: float | None = None) -> None:
        """A visit ends."""
        known = self.open.pop(step)
        waits = tuple([wait for wait in known.waits if wait.seconds > 0]) if known.waits else ()
        end = self.now if until is None else until
        self.visits.append(Visit(step, known.came, known.begun, end, how, waits))

    def result(self) -> Stretches:
        """What was found."""
        self.end_halt()
        return Stretches(tuple(sorted(self.visits, key=lambda visit: visit.until)), tuple(self.halts), self.now)
