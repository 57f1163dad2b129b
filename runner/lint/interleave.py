"""Lists side by side walked in every mixing: beginning and ending of a step are moves of their own, so steps overlap.

The search goes breadth first over the engine's own order rules, from the positions in which the plain walks enter the phase,
and looks for positions in which no list can go on. A list whose next step makes nothing that another list still touches, and
needs nothing that another still makes, goes on alone first: its moves and the others' give the same in any order, so no such
position is lost by it. What is too large to be searched is not judged.
"""

from collections import deque
from collections.abc import Iterator, Sequence
from typing import NamedTuple

from runner.engine import flow
from runner.engine.position import Position
from runner.lint.samples import Sample
from runner.lint.walk import Walk
from runner.procedure.model import Phase, Procedure, Step, StepList

MOST_POSITIONS = 20_000
"""Of one phase; beyond it nothing is said."""

BEGINS, DONE, PASSED = "begins", "is done", "does not apply in this job"


class Wait(NamedTuple):
    """A list that cannot go on: its step, and why."""

    steps: StepList
    step: Step
    states: frozenset[int]
    words: str


class Deadlock(NamedTuple):
    """A position in which no list of a phase can go on, reached by moves of the lists alone."""

    phase: Phase
    waits: tuple[Wait, ...]
    way: tuple[str, ...]
    """The moves to it that bear on what is waited for, one a line, and what each list waits for."""


class Move(NamedTuple):
    """One list's step begins, is done or is passed over."""

    step: Step
    what: str
    to: Position


Came = dict[Position, tuple[Position, Move] | None]
"""How each position was first come to; None for where the search begins."""


def deadlocks(procedure: Procedure, walks: Sequence[Walk]) -> Iterator[Deadlock]:
    """For each phase with lists side by side a position in which none can go on, if there is one: the nearest for its job.

    A job whose plain walks met a fault in the phase or before it is left out: that fault is told, and this may follow from it.
    """
    for number, phase in enumerate(procedure.phases):
        if len(phase.lists) < 2:
            continue
        room = MOST_POSITIONS
        for entry, job in entries(procedure, number, walks):
            search = Search(procedure, phase, job, room)
            found = search.first(entry)
            room -= len(search.came)
            if found is not None:
                yield found
            if found is not None or room <= 0:
                break


def entries(procedure: Procedure, number: int, walks: Sequence[Walk]) -> Iterator[tuple[Position, Sample]]:
    """Where walks enter a phase, once for each way in which its conditions are decided."""
    told = set()
    phase = procedure.phases[number]
    early = {step.id for one in procedure.phases[: number + 1] for steps in one.lists for step in steps.steps}
    faulty = {id(walk.job) for walk in walks if any(stopped.step.id in early for stopped in walk.stopped)}
    for walk in walks:
        if id(walk.job) in faulty:
            continue
        entry = next((position for position in walk.passed if position.phase == number), None)
        applied = tuple(walk.job.applies(step) for steps in phase.lists for step in steps.steps)
        if entry is not None and (entry, applied) not in told:
            told.add((entry, applied))
            yield entry, walk.job


class Search:
    """One search of one phase for one job."""

    def __init__(self, procedure: Procedure, phase: Phase, job: Sample, room: int) -> None:
        self.procedure = procedure
        self.phase = phase
        self.job = job
        self.room = room
        self.came: Came = {}
        self.later = [later_touched(steps, job) for steps in phase.lists]
        """For each list and each place in it what its steps from there on need or make, and what they make."""

    def first(self, entry: Position) -> Deadlock | None:
        """The nearest position in which no list can go on; None where there is none or the room is used up."""
        self.came[entry] = None
        waiting = deque([entry])
        while waiting:
            position = waiting.popleft()
            if position.phase != entry.phase:
                continue
            moves = self.moves(position)
            if not moves:
                return self.deadlock(position)
            for move in moves:
                if move.to not in self.came:
                    self.came[move.to] = (position, move)
                    waiting.append(move.to)
            if len(self.came) >= self.room:
                return None
        return None

    def moves(self, position: Position) -> list[Move]:
        """What can come next: of one list alone where that is as good as all, else of every list."""
        found = []
        for lane in range(len(position.cursors)):
            move = self.move(position, lane)
            if move is None:
                continue
            if move.what == PASSED or self.alone(position, lane, move.step):
                return [move]
            found.append(move)
        return found

    def move(self, position: Position, lane: int) -> Move | None:
        """The next move of a list, None where it has ended or cannot go on."""
        step = flow.current(self.procedure, position, lane)
        if step is None:
            return None
        if position.cursors[lane].begun:
            if flow.unmet_in_progress(position, step):
                return None
            return Move(step, DONE, flow.done(self.procedure, position, lane))
        if not self.job.applies(step):
            return Move(step, PASSED, flow.passed(self.procedure, position, lane))
        if flow.blocks(self.procedure, position, lane):
            return None
        return Move(step, BEGINS, flow.begun(self.procedure, position, lane))

    def alone(self, position: Position, lane: int, step: Step) -> bool:
        """Whether no other list, from where it is, bears on what the step does, or the step on what that does."""
        own, makes = touched(step), made(step)
        others = (later[position.cursors[other].step] for other, later in enumerate(self.later) if other != lane)
        return not any(makes & all_ or own & changed for all_, changed in others)

    def deadlock(self, position: Position) -> Deadlock:
        """The position told: who waits for what, and how it came to that."""
        waits = tuple(self.waits(position))
        states = frozenset[int]().union(*(wait.states for wait in waits))
        lines = [f"a job with {self.job.words}"] if self.job.words else []
        lines += lines_of([move for move in self.way(position) if touched(move.step) & states])
        lines += [f"{name(wait.step)} waits: {wait.words}" for wait in waits]
        return Deadlock(self.phase, waits, tuple(lines))

    def way(self, position: Position) -> list[Move]:
        """The moves from where the search began to a position."""
        moves = []
        came = self.came[position]
        while came is not None:
            moves.append(came[1])
            came = self.came[came[0]]
        return moves[::-1]

    def waits(self, position: Position) -> Iterator[Wait]:
        """The lists that have not ended, each with what keeps it."""
        for lane, steps in enumerate(self.phase.lists):
            step = flow.current(self.procedure, position, lane)
            if step is None:
                continue
            if position.cursors[lane].begun:
                unmet = flow.unmet_in_progress(position, step)
                states = self.procedure.states
                words = [flow.need_words(states[state], value, position.states[state]) for state, value in unmet]
                yield Wait(steps, step, frozenset(state for state, _ in unmet), "; ".join(words))
            else:
                blocks = flow.blocks(self.procedure, position, lane)
                yield Wait(steps, step, frozenset(b.state for b in blocks), "; ".join(b.words for b in blocks))


def later_touched(steps: StepList, job: Sample) -> list[tuple[frozenset[int], frozenset[int]]]:
    """For each place in a list, and for its end, what its steps from there on touch in this job, and what they make."""
    found = [(frozenset[int](), frozenset[int]())]
    for step in reversed(steps.steps):
        all_, changed = found[-1]
        found.append((all_ | touched(step), changed | made(step)) if job.applies(step) else found[-1])
    return found[::-1]


def touched(step: Step) -> frozenset[int]:
    """The states that a step needs or makes."""
    return frozenset(state for state, _ in step.needs + step.makes)


def made(step: Step) -> frozenset[int]:
    """The states that a step makes."""
    return frozenset(state for state, _ in step.makes)


def lines_of(moves: list[Move]) -> list[str]:
    """Moves as lines; a step that is done right after it begins takes one."""
    lines = []
    for number, move in enumerate(moves):
        before, after = moves[number - 1 : number], moves[number + 1 : number + 2]
        if move.what == BEGINS and after and after[0].step is move.step:
            continue
        whole = move.what == DONE and before and before[0].step is move.step
        lines.append(f"{name(move.step)} {'begins and is done' if whole else move.what}")
    return lines


def name(step: Step) -> str:
    """A step as traces call it."""
    return f"step {step.number} ({step.id})"
