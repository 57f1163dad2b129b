"""The plain order of a procedure walked over the engine's own order rules.

Plain order: every phase in turn, in every list one step after the other, nothing done again; of lists side by side one
goes first, and the other when that one has ended or must wait, in both orders. A condition is decided by a sample job, so
whatever a walk meets, that job meets. A walk may depart from plain order once: a trouble is met, or an optional step is left out.
"""

from collections.abc import Iterator, Mapping
from typing import NamedTuple, TypeVar

from runner.engine import flow
from runner.engine.position import Position
from runner.lint.samples import PLAIN, Sample
from runner.procedure.model import UNKNOWN, Facts, Procedure, Step, Trouble, steps_of

Part = TypeVar("Part")


class Departure(NamedTuple):
    """The one thing that goes otherwise: a trouble of the step, or, without one, the step is left out."""

    step: Step
    trouble: Trouble | None

    @property
    def words(self) -> str:
        """What happens, for a trace."""
        named = f"step {self.step.number} ({self.step.id})"
        if self.trouble is None:
            return f"{named} is left out"
        back = f"back to {self.trouble.back_to}" if self.trouble.way_on == "back_to" else self.trouble.way_on
        return f"{named} meets its trouble '{self.trouble.sign}', the way on is {back.replace('_', ' ')}"


class Stopped(NamedTuple):
    """A step that may not begin when it comes up in this order."""

    step: Step
    kind: str
    """need or owner: the kind of `flow.Block`."""
    state: int
    value: int
    """The value that it needs; UNKNOWN for an owner."""
    words: str
    way: tuple[str, ...]
    """How the state came to be as it is, one step a line, to the step that may not begin."""


class Walk(NamedTuple):
    """One walk from the first step to the last, or to where it falls in with the plain walk that it departed from."""

    job: Sample
    backward: bool
    stopped: tuple[Stopped, ...]
    end: Position
    missing: Facts
    """(state, value it must have) of every state that is wrong at the end."""
    ways: Mapping[int, tuple[str, ...]]
    """For every state that is wrong or still taken at the end, how it came to be so."""
    passed: Mapping[Position, int]
    """The positions that were passed, each with the length of the log there; empty for a walk that departed."""
    before: Mapping[str, Position]
    """By the id of a step the position in which it came up."""
    log: tuple[tuple[int, str], ...]
    """(state, what a step did to it), in order."""
    departure: Departure | None = None


def plain_walks(procedure: Procedure, jobs: tuple[Sample, ...]) -> tuple[Walk, ...]:
    """A walk for every sample job and both orders of lists side by side; the plainest first."""
    orders = (False, True) if any(len(phase.lists) > 1 for phase in procedure.phases) else (False,)
    return tuple(walk(procedure, job, backward=order) for job in jobs for order in orders)


def departing_walks(procedure: Procedure, plain: tuple[Walk, ...]) -> tuple[Walk, ...]:
    """A walk for every trouble and every optional step, off the first plain walk on which the step applies."""
    walks = []
    forward = [walk for walk in plain if not walk.backward]
    for step in steps_of(procedure):
        ways = [Departure(step, trouble) for trouble in step.troubles]
        if step.optional:
            ways.append(Departure(step, None))
        base = next((walk for walk in forward if walk.job.applies(step)), None)
        if base is not None:
            walks += [walk_from(procedure, base, way) for way in ways]
    return tuple(walks)


def walk(procedure: Procedure, job: Sample = PLAIN, *, backward: bool = False) -> Walk:
    """One plain walk. A step that may not begin is noted and then taken all the same, as if what it lacks were so."""
    walker = Walker(procedure, job, backward)
    passed: dict[Position, int] = {}
    before: dict[str, Position] = {}
    while not flow.ended(procedure, walker.position):
        passed[walker.position] = len(walker.log)
        before[walker.up().id] = walker.position
        walker.go()
    return walker.walked(passed, before)


def walk_from(procedure: Procedure, plain: Walk, departure: Departure) -> Walk:
    """A walk that leaves a plain one at the departure's step. Where it falls in with it again, the rest is the same."""
    walker = Walker(procedure, plain.job, plain.backward)
    walker.position = plain.before[departure.step.id]
    walker.log = list(plain.log[: plain.passed[walker.position]])
    walker.depart(departure)
    while not flow.ended(procedure, walker.position):
        if walker.position in plain.passed:
            return walker.walked({}, {}, ended=False)
        walker.go()
    return walker.walked({}, {})


class Walker:
    """A walk under way, with what it needs to tell how a state came to be."""

    def __init__(self, procedure: Procedure, job: Sample, backward: bool) -> None:
        self.procedure = procedure
        self.job = job
        self.backward = backward
        self.position = flow.start(procedure)
        self.stopped: list[Stopped] = []
        self.log: list[tuple[int, str]] = []
        self.departure: Departure | None = None

    def up(self) -> Step:
        """The step that is up in the list that is on."""
        step = flow.current(self.procedure, self.position, self._lane())
        if step is None:
            raise ValueError("a list has ended and its phase goes on")  # a fault of flow, never of an author
        return step

    def go(self) -> None:
        """Take the step that is up."""
        lane, step = self._lane(), self.up()
        if not self.job.applies(step):
            self._log(step.makes, f"step {step.number} ({step.id}) does not apply in this job")
            self.position = flow.passed(self.procedure, self.position, lane)
            return
        self._begin(lane, step)
        self.position = flow.done(self.procedure, self.position, lane)
        for state, value in step.makes:
            tracked = self.procedure.states[state]
            self.log.append((state, f"step {step.number} ({step.id}) makes {tracked.label} {tracked.of[value]}"))

    def depart(self, departure: Departure) -> None:
        """Take the step that is up in the other way."""
        lane = self._lane()
        self.departure = departure
        if departure.trouble is None:
            self.position = flow.passed(self.procedure, self.position, lane)
        else:
            self._begin(lane, departure.step)
            self.position = flow.troubled(self.procedure, self.position, lane, departure.trouble)
        self._log(departure.step.makes, departure.words)

    def walked(self, passed: Mapping[Position, int], before: Mapping[str, Position], *, ended: bool = True) -> Walk:
        """The walk as far as it has come. Where it has not ended, nothing is missing yet."""
        missing = flow.missing_at_end(self.procedure, self.position) if ended else ()
        taken = [state for state, owner in enumerate(self.position.owners) if owner and ended]
        ways = {state: self.way(state) for state in (*(state for state, _ in missing), *taken)}
        stopped, log = tuple(self.stopped), tuple(self.log)
        return Walk(self.job, self.backward, stopped, self.position, missing, ways, passed, before, log, self.departure)

    def way(self, state: int, last: Step | None = None) -> tuple[str, ...]:
        """What was assumed, and everything that made the state what it is when the step `last`, or the end, comes up."""
        tracked = self.procedure.states[state]
        at_start = "not known" if tracked.at_start == UNKNOWN else tracked.of[tracked.at_start]
        lines = list(self._assumed(state, last))
        lines.append(f"at the start {tracked.label} is {at_start}")
        return (*lines, *(words for touched, words in self.log if touched == state))

    def _assumed(self, state: int, last: Step | None) -> Iterator[str]:
        """The job and the order of the lists, each only where it bears on the state or on the last step."""
        concerned = [
            (step, phase)
            for phase in self.procedure.phases
            for steps in phase.lists
            for step in steps.steps
            if step is last or any(made == state for made, _ in step.makes)
        ]
        if self.job.words and any(step.when is not None for step, _ in concerned):
            yield f"a job with {self.job.words}"
        people = [steps.person for _, phase in concerned if len(phase.lists) > 1 for steps in phase.lists]
        order = list(dict.fromkeys(people))
        if order:
            yield f"side by side, {', then '.join(reversed(order) if self.backward else order)}"

    def _lane(self) -> int:
        """The list that is on: from the front or from the back the first that has not ended and need not wait.

        Where all that are left wait, the one that waits for what no other of them will bring; it is the fault.
        """
        lists = self.procedure.phases[self.position.phase].lists
        lanes = range(len(lists) - 1, -1, -1) if self.backward else range(len(lists))
        left = [lane for lane in lanes if self.position.cursors[lane].step < len(lists[lane].steps)]
        if len(left) < 2:
            return left[0] if left else 0
        free = (lane for lane in left if not self._waits(lane))
        stuck = (lane for lane in left if not self._may_be_helped(lane, left))
        return next(free, next(stuck, left[0]))

    def _waits(self, lane: int) -> bool:
        step = flow.current(self.procedure, self.position, lane)
        applies = step is not None and self.job.applies(step)
        return applies and bool(flow.blocks(self.procedure, self.position, lane))

    def _may_be_helped(self, lane: int, left: list[int]) -> bool:
        """Whether a later step of another list makes what the step that is up waits for, or may give it free."""
        lists = self.procedure.phases[self.position.phase].lists
        coming = {
            fact
            for other in left
            if other != lane
            for step in lists[other].steps[self.position.cursors[other].step :]
            for fact in step.makes
        }
        step = flow.current(self.procedure, self.position, lane)
        needs = dict(step.needs) if step is not None else {}
        blocks = flow.blocks(self.procedure, self.position, lane)
        return all((block.state, needs.get(block.state) if block.kind == "need" else 0) in coming for block in blocks)

    def _begin(self, lane: int, step: Step) -> None:
        for block in flow.blocks(self.procedure, self.position, lane):
            self._stop(step, block)
        self.position = flow.begun(self.procedure, self.position, lane)

    def _stop(self, step: Step, block: flow.Block) -> None:
        """Note the block, and go on as if it did not stand, so that one fault is not told at every later step."""
        comes = f"step {step.number} ({step.id}) comes up: {block.words}"
        wanted = dict(step.needs).get(block.state, UNKNOWN) if block.kind == "need" else UNKNOWN
        way = (*self.way(block.state, step), comes)
        self.stopped.append(Stopped(step, block.kind, block.state, wanted, block.words, way))
        if block.kind == "need":
            self.position = self.position._replace(states=_put(self.position.states, block.state, wanted))
        else:
            self.position = self.position._replace(owners=_put(self.position.owners, block.state, ""))

    def _log(self, makes: Facts, words: str) -> None:
        self.log += [(state, words) for state, _ in makes]


def _put(values: tuple[Part, ...], index: int, value: Part) -> tuple[Part, ...]:
    return (*values[:index], value, *values[index + 1 :])
