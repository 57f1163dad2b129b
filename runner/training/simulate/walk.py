"""One whole run by chance: a crew of invented people plays the procedure, and things go otherwise now and then.

The seed says it all: the job, the answers, the times, what goes wrong. People work side by side where there are two lists;
whoever is free first acts next. What the engine refuses is kept with its reason; where no way leads on the run is abandoned.
"""

from collections.abc import Callable
from dataclasses import replace
from operator import itemgetter
from random import Random
from typing import NamedTuple

from runner import VERSION
from runner.engine import events as ev
from runner.engine import flow
from runner.engine import intents as want
from runner.engine.decide import AnyIntent
from runner.engine.intents import BeginRun, Refusal
from runner.engine.moment import Moment
from runner.engine.state import RunState
from runner.procedure.model import Procedure, Step
from runner.training.simulate.door import Door, Opener, SimulatedClock
from runner.training.simulate.jobs import Jobs, Point
from runner.training.simulate.rates import ACT_S, INTERRUPTION_S, Rates
from runner.training.simulate.schedule import Schedule, up
from runner.training.simulate.ways import being_changed, way_on

MOST_ACTS = 20_000
"""Of one run."""
MOST_WAYS = 60
"""How often in one run a way on is looked for, after which it goes in a circle."""
MOST_JOBS = 20
"""Jobs drawn for one run before it is said that none begins."""


class Refused(NamedTuple):
    """What the engine did not take."""

    act: str
    step: str
    """Empty where it was about no step."""
    words: str


class Walk:
    """Plays one run; afterwards it holds what happened."""

    def __init__(self, procedure: Procedure, jobs: Jobs, seed: str, rates: Rates, opener: Opener) -> None:
        self.procedure, self.jobs, self.seed, self.rates, self.opener = procedure, jobs, seed, rates, opener
        self.chance = Random(seed)
        self.clock = SimulatedClock()
        self.crew = {role: f"simulated {role}" for role, _ in procedure.people}
        self.run: Door | None = None
        self.events: list[ev.Event] = []
        self.refused: list[Refused] = []
        self.job_refused: tuple[str, ...] = ()
        """Why the job that came first may not begin, a reason a line."""
        self.dead_end = ""
        self.schedule = Schedule(procedure)
        self.ready: list[float] = []
        """When the next act of each list can be."""
        self.free: dict[str, float] = {}
        """When each role has ended the step it does."""
        self.started: dict[str, float] = {}
        """When the attempt that is on began, by step."""
        self.phase = -1
        self.ways = 0
        self.considered: set[tuple[str, str, int]] = set()
        """What was decided by chance for an attempt already."""

    @property
    def door(self) -> Door:
        """The run, once it has begun."""
        run = self.run
        assert run is not None  # `play` begins it first
        return run

    @property
    def state(self) -> RunState:
        """Of the run, now."""
        run = self.run
        assert run is not None  # `play` begins it first
        return run.state

    @property
    def at(self) -> Moment:
        """This moment."""
        return self.clock.now()

    @property
    def outcome(self) -> str:
        """finished, abandoned, or not begun."""
        return self.state.outcome if self.run is not None else "not begun"

    def play(self) -> "Walk":
        """From the job to the end."""
        from runner.training.simulate.acts import act_at

        if not self.begin():
            return self
        for _ in range(MOST_ACTS):
            if self.state.outcome or self.dead_end:
                break
            if self.state.halted:
                self.go_on()
            elif flow.ended(self.procedure, self.state.position):
                self.finish()
            else:
                self.next_act(act_at)
        else:
            self.dead_end = f"the run goes on for more than {MOST_ACTS} acts"
        if not self.state.outcome:
            self.abandon()
        return self

    def begin(self) -> bool:
        """A job comes that the procedure allows, now and then after one that it does not."""
        first = self.chance.random() < self.rates.not_allowed
        if first and self.begun(self.jobs.anywhere(self.chance)) is None:
            return True
        refused: Refusal | None = None
        for _ in range(MOST_JOBS):
            refused = self.begun(self.jobs.draw(self.chance))
            if refused is None:
                return True
            if not refused.missing:
                break  # no fault of the job: another one would not begin either
        self.dead_end = "no job begins: " + "; ".join((refused.reason, *refused.missing) if refused else ())
        return False

    def begun(self, point: Point) -> Refusal | None:
        """Begin with a job; the refusal where it may not."""
        intent = BeginRun(
            next(iter(self.crew.values()), "nobody"), f"simulated-{self.seed}", "dry", True, tuple(self.crew.items()),
            self.jobs.typed(point), f"changeover-runner {VERSION}", at=self.at,
        )  # fmt: skip
        opened = self.opener(self.procedure, intent, self.clock, self.events.extend)
        if isinstance(opened, Refusal):
            self.job_refused = (*self.job_refused, *opened.missing)
            return opened
        self.run = opened
        return None

    def next_act(self, act_at: "ActAt") -> None:
        """The next act of whoever is free first and may act; where nobody may, a way on is looked for."""
        position = self.state.position
        if position.phase != self.phase:
            self.phase, self.ready = position.phase, [self.clock.tick] * len(position.cursors)
        order = [
            (max(self.ready[lane], self.free.get(step.by, 0.0)), lane, step)
            for lane, step in up(self.procedure, position)
        ]
        if len(order) > 1:
            order.sort(key=itemgetter(0, 1))
        for ready, lane, step in order:
            begun = position.cursors[lane].begun
            if not begun and flow.blocks(self.procedure, position, lane):
                continue
            self.clock.advance(ready - self.clock.tick)
            self.ready[lane] = self.clock.tick + ACT_S
            if self.chance.random() < self.rates.interrupted:
                self.interrupt(step)
            else:
                act_at(self, step, lane, begun)
            return
        self.find_way()

    def submit(self, intent: AnyIntent, step: Step | None = None, lane: int = 0) -> bool:
        """An act; what was refused is kept, and looked at where a step waits for it."""
        position = self.state.position
        decided = self.door.submit(intent)
        if isinstance(decided, Refusal):
            words = "; ".join((decided.reason, *decided.missing))
            self.refused.append(Refused(type(intent).__name__, step.id if step is not None else "", words))
            if step is not None:
                self.find_way(f"step {step.number} ({step.id}): {words}")
            return False
        self.events.extend(decided)
        if step is not None and any(isinstance(event, ENDED) and event.step == step.id for event in decided):
            start = self.started.pop(step.id, self.clock.tick)
            self.schedule.add(step, lane, position, start, self.clock.tick)
        return True

    def find_way(self, refused: str = "") -> None:
        """Somebody looks, or goes back; a dead end where neither helps."""
        self.ways += 1
        if self.ways > MOST_WAYS:
            self.dead_end = refused or f"the run goes in a circle: {self.blocked_words()}"
            return
        if self.state.halted:
            return
        for lane, _ in up(self.procedure, self.state.position):
            intents = way_on(self.procedure, self.state, lane)
            if intents and all(self.submit(replace(intent, at=self.at)) for intent in intents):
                self.started = {}
                return
        self.dead_end = refused or self.blocked_words()

    def blocked_words(self) -> str:
        """Why no list can go on."""
        position = self.state.position
        return "; ".join(
            f"step {step.number} ({step.id}): "
            + ", ".join(b.words for b in flow.blocks(self.procedure, position, lane))
            for lane, step in up(self.procedure, position)
        )

    def interrupt(self, step: Step) -> None:
        """A pause, or stopping and making safe."""
        doer = self.crew.get(step.by, "")
        if self.chance.random() < 0.5:
            self.submit(want.Pause(doer, f"go on with step {step.number}", at=self.at))
        else:
            self.submit(want.MakeSafe(doer, "an interruption", at=self.at))

    def go_on(self) -> None:
        """After a halt: what is left to be made safe, the time that goes by, then resumed and looked at."""
        anyone, halted_at = next(iter(self.crew.values()), "nobody"), self.clock.tick
        self.make_safe(anyone)
        self.clock.advance(self.chance.uniform(*INTERRUPTION_S))
        if not self.submit(want.Resume(anyone, at=self.at)):
            self.dead_end = self.dead_end or "the run is not resumed"
            return
        changing = {self.procedure.states[at].name for at in being_changed(self.procedure, self.state)}
        for name, value in sorted(self.state.unconfirmed.items()):
            if name not in changing:
                self.clock.advance(ACT_S)
                self.submit(want.LookAt(anyone, name, value, at=self.at))
        self.schedule.interrupted(self.state.position, halted_at, self.clock.tick)
        self.ready = [max(ready, self.clock.tick) for ready in self.ready]
        self.free = {role: max(free, self.clock.tick) for role, free in self.free.items()}

    def make_safe(self, anyone: str) -> None:
        """Each act of the list is done."""
        for number in self.state.safe_acts_open if self.state.halted == "make-safe" else ():
            self.clock.advance(ACT_S)
            self.submit(want.DoSafeAct(anyone, number, at=self.at))

    def finish(self) -> None:
        """Exceptions are dealt with, and the run ends."""
        anyone = next(iter(self.crew.values()), "nobody")
        for noted in self.state.open_exceptions:
            self.submit(want.CloseException(anyone, noted.number, "dealt with", at=self.at))
        if not self.submit(want.Finish(anyone, at=self.at)):
            self.dead_end = f"at the end: {self.refused[-1].words}"

    def abandon(self) -> None:
        """Made safe and ended."""
        anyone = next(iter(self.crew.values()), "nobody")
        if self.state.halted != "make-safe":
            self.submit(want.MakeSafe(anyone, "no way leads on", at=self.at))
        self.make_safe(anyone)
        self.submit(want.Abandon(anyone, "no way leads on", at=self.at))


ActAt = Callable[[Walk, Step, int, bool], None]
"""The act of a person at a step that is up in a lane: begun or not."""

ENDED = ev.StepDone | ev.TroubleMet | ev.StepRepeated
"""Events with which an attempt ends."""
