"""What the proof finds, once each with a shortest way to it: what plain order meets, and what only departures lead to."""

from collections.abc import Iterator
from typing import NamedTuple

from runner.engine import flow
from runner.lint.proof.conditions import Conditions
from runner.lint.proof.ending import wrong_endings
from runner.lint.proof.explore import MOST_NODES, Explored, Explorer, Stuck
from runner.lint.proof.moves import ASSUMED, DEPARTURES, Move
from runner.lint.proof.quick import Held, clear
from runner.lint.proof.waits import Wait, hopeless, waits_at
from runner.procedure.model import Procedure, Step

NODES_A_STEP = 8
"""A step of one list takes two nodes, and some more for its condition and its troubles."""
NEED, OWNER, DEADLOCK, END, KEPT = "need", "owner", "deadlock", "end", "kept"


class Fault(NamedTuple):
    """One fault. `state` and `value` are those needed or wanted; `waits` are the lists of a deadlock."""

    kind: str
    step: Step | None
    state: int
    value: int
    words: str
    moves: tuple[Move, ...]
    assumed: bool
    """Whether something before it was taken to be so that is not."""
    waits: tuple[Wait, ...] = ()

    @property
    def key(self) -> tuple[object, ...]:
        """Faults of one key are one fault."""
        if self.kind == DEADLOCK:
            return (self.kind, frozenset((wait.lane, wait.step.id) for wait in self.waits))
        return (self.kind, self.step.id if self.step else "", self.state)

    @property
    def far(self) -> tuple[int, int]:
        """How far the way to it goes: departures from plain order, then moves."""
        return sum(move.kind in DEPARTURES for move in self.moves), len(self.moves)

    @property
    def departs(self) -> Move | None:
        """The first move that plain order does not make; None for a fault of plain order."""
        return next((move for move in self.moves if move.kind in DEPARTURES), None)


class Proof(NamedTuple):
    """The whole: every fault with its nearest way, and what was not explored."""

    faults: tuple[Fault, ...]
    never_begun: tuple[Step, ...]
    """Steps that begin on no way."""
    finished: bool
    nodes: int
    """Nodes explored; none where it was seen without exploring that there is no fault."""
    conditions: Conditions
    entries: tuple[Held, ...] = ()
    """What states may be where each phase begins, where it was seen without exploring."""

    @property
    def plain(self) -> tuple[Fault, ...]:
        """Faults that plain order meets."""
        return tuple(fault for fault in self.faults if fault.departs is None)

    @property
    def departing(self) -> tuple[Fault, ...]:
        """Faults that only a way meets on which something goes otherwise."""
        return tuple(fault for fault in self.faults if fault.departs is not None)


def prove(procedure: Procedure, *, reduced: bool = True, most: int | None = None) -> Proof:
    """Explore everything, or as far as `most` nodes; if not given, as many as a long procedure of one list has, and more.

    `reduced`: lists that commute go alone, and what is surely without fault is not explored.
    """
    conditions = Conditions(procedure)
    entries = clear(procedure, conditions) if reduced else None
    if entries is not None:
        return Proof((), (), finished=True, nodes=0, conditions=conditions, entries=entries)
    room = MOST_NODES + NODES_A_STEP * sum(1 for _ in every_step(procedure)) if most is None else most
    explored = Explorer(procedure, conditions, reduced=reduced).run(room)
    never = tuple(step for step in every_step(procedure) if step.id not in explored.begun)
    return Proof(
        faults_of(procedure, explored),
        never if explored.finished else (),
        explored.finished,
        len(explored.order),
        conditions,
    )


def every_step(procedure: Procedure) -> Iterator[Step]:
    """All steps in the order of the text."""
    for phase in procedure.phases:
        for steps in phase.lists:
            yield from steps.steps


def faults_of(procedure: Procedure, explored: Explored) -> tuple[Fault, ...]:
    """The faults met, each once by its key, the nearest first; an unassumed one goes before an assumed one."""
    found: dict[tuple[object, ...], Fault] = {}
    met = [fault for stuck in explored.stuck for fault in stuck_faults(procedure, explored, stuck)]
    for fault in sorted(met, key=lambda fault: (fault.assumed, fault.far)):
        found.setdefault(fault.key, fault)
    for ending in wrong_endings(procedure, explored):
        tracked = procedure.states[ending.state]
        assert tracked.at_end is not None
        words = "nobody has said what it is" if ending.value < 0 else f"it is {tracked.of[ending.value]}"
        fault = Fault(END, None, ending.state, tracked.at_end, words, ending.moves, assumed=False)
        found.setdefault(fault.key, fault)
    for fault in kept_faults(procedure, explored):
        found.setdefault(fault.key, fault)
    return tuple(found.values())


def stuck_faults(procedure: Procedure, explored: Explored, stuck: Stuck) -> Iterator[Fault]:
    """Each list that waits for what nobody will bring, or else that the lists wait for each other.

    What was taken to be so on the way, and what follows from lists that wait for each other, is no fault of its own.
    """
    taken = explored.taken(stuck.number)
    given = given_on(procedure, explored, taken) if stuck.node.assumed else frozenset[int]()
    if given is None:
        return
    moves, assumed = tuple([move for _, move in taken]), stuck.node.assumed
    without_hope = hopeless(stuck.waits)
    for wait in without_hope:
        needs = dict(wait.step.needs)
        for block in wait.hopeless:
            if block.state not in given:
                kind = NEED if block.kind == "need" else OWNER
                yield Fault(kind, wait.step, block.state, needs.get(block.state, -1), block.words, moves, assumed)
    if not without_hope and not assumed:
        yield Fault(DEADLOCK, stuck.waits[0].step, -1, -1, "", moves, assumed, stuck.waits)


def given_on(procedure: Procedure, explored: Explored, taken: list[tuple[int, Move]]) -> frozenset[int] | None:
    """The states that were taken to be as a step needs them on a way; None where lists waited for each other on it."""
    given: set[int] = set()
    for number, move in taken:
        if move.kind == ASSUMED:
            waits = waits_at(procedure, explored.nodes[number])
            if not hopeless(waits):
                return None
            given.update(block.state for wait in waits if wait.lane == move.lane for block in wait.blocks)
    return frozenset(given)


def kept_faults(procedure: Procedure, explored: Explored) -> Iterator[Fault]:
    """What has one owner and still has one at the end of a way."""
    for number in explored.order:
        node = explored.nodes[number]
        if node.assumed or not flow.ended(procedure, node.position):
            continue
        for state, owner in enumerate(node.position.owners):
            if owner:
                yield Fault(KEPT, None, state, 0, owner, explored.way(number), assumed=False)
