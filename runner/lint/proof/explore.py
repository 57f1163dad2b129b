"""Every node that some way comes to, the nearest first: fewest departures from plain order, then fewest moves.

Where no list can go on, that is noted and the proof goes on as if a step that waits for what nobody brings could begin, so
that one fault does not hide the next; nodes after that are marked as assumed, and only further needs are told of them.
"""

from heapq import heappop, heappush
from itertools import count
from typing import NamedTuple

from runner.engine import flow
from runner.lint.proof.commute import Commute
from runner.lint.proof.conditions import Conditions
from runner.lint.proof.matters import Matters
from runner.lint.proof.moves import ASSUMED, BEGINS, DEPARTURES, Move, Moves, Node
from runner.lint.proof.waits import Wait, hopeless, waits_at
from runner.procedure.model import Procedure

MOST_NODES = 15_000
"""Beyond it the proof is not finished, and says so."""


STARTS = frozenset({BEGINS, ASSUMED})
"""Moves with which a step is begun."""


class Stuck(NamedTuple):
    """A node at which no list can go on."""

    number: int
    node: Node
    waits: tuple[Wait, ...]


class Explored(NamedTuple):
    """The nodes by number, and what was met. Nodes that were only seen from afar have no moves and no place in `order`."""

    nodes: list[Node]
    before: list[tuple[int, Move] | None]
    """How each node was first come to; None for where ways begin."""
    after: list[tuple[tuple[Move, int], ...]]
    """The moves taken from each node."""
    order: list[int]
    """The nodes that were come to, the nearest first."""
    stuck: tuple[Stuck, ...]
    begun: frozenset[str]
    """The ids of the steps that begin on some way."""
    finished: bool

    def way(self, node: int) -> tuple[Move, ...]:
        """The moves of a nearest way to a node."""
        return tuple([move for _, move in self.taken(node)])

    def taken(self, node: int) -> list[tuple[int, Move]]:
        """The moves of a nearest way to a node, each with the node that it leaves."""
        taken: list[tuple[int, Move]] = []
        before = self.before[node]
        while before is not None:
            taken.append(before)
            before = self.before[before[0]]
        taken.reverse()
        return taken


class Explorer:
    """Explores one procedure; `reduced`: lists that commute go alone."""

    def __init__(self, procedure: Procedure, conditions: Conditions, *, reduced: bool = True) -> None:
        self.procedure, self.reduced = procedure, reduced
        self.moves = Moves(procedure, conditions)
        self.matters = Matters(procedure, conditions)
        self.commute = Commute(procedure)

    def run(self, most: int = MOST_NODES) -> Explored:
        """Explore from the start, the nearest node first."""
        numbers: dict[Node, int] = {}
        nodes: list[Node] = []
        before: list[tuple[int, Move] | None] = []
        after: list[tuple[tuple[Move, int], ...]] = []
        order: list[int] = []
        come: list[bool] = []
        stuck: list[Stuck] = []
        begun: set[str] = set()
        waiting: list[tuple[int, int, int, int, tuple[int, Move] | None]] = []
        turn = count()

        def number_of(node: Node) -> int:
            number = numbers.setdefault(node, len(nodes))
            if number == len(nodes):
                nodes.append(node)
                before.append(None)
                after.append(())
                come.append(False)
            return number

        for node in self.reached(Node(flow.start(self.procedure), frozenset())):
            heappush(waiting, (0, 0, next(turn), number_of(node), None))
        while waiting and len(order) <= most:
            departures, far, _, number, came = heappop(waiting)
            if come[number]:
                continue
            come[number], before[number] = True, came
            order.append(number)
            node = nodes[number]
            if flow.ended(self.procedure, node.position):
                continue
            found, waits = self.onward(node, plain=not departures)
            if waits:
                stuck.append(Stuck(number, node, waits))
            kept = tuple([(move, number_of(to)) for move, moved in found for to in self.reached(moved)])
            after[number] = kept
            for move, to in kept:
                if move.kind in STARTS:
                    begun.add(move.step.id)
                if not come[to]:
                    departs = departures + (move.kind in DEPARTURES)
                    heappush(waiting, (departs, far + 1, next(turn), to, (number, move)))
        return Explored(nodes, before, after, order, tuple(stuck), frozenset(begun), finished=not waiting)

    def onward(self, node: Node, *, plain: bool) -> tuple[list[tuple[Move, Node]], tuple[Wait, ...]]:
        """The moves from a node, and what keeps the lists where none can go on.

        On a way of plain order a list stands still also where all it could do is to leave its step out.
        """
        lists = [list(self.moves.of(node, lane)) for lane in range(len(node.position.cursors))]
        found = self.enough(node, lists)
        usual = found
        if plain and any(move.kind in DEPARTURES for pairs in lists for move, _ in pairs):
            usual = self.enough(node, [[pair for pair in pairs if pair[0].kind not in DEPARTURES] for pairs in lists])
            found = found + [pair for pair in usual if pair not in found]
        if usual:
            return found, ()
        waits = waits_at(self.procedure, node)
        helped = hopeless(waits) or waits
        return found + [(Move(w.lane, w.step, ASSUMED), self.moves.assumed(node, w.lane)) for w in helped], waits

    def reached(self, node: Node) -> list[Node]:
        """A node with the conditions of the steps that are up decided in every way, without what no longer matters."""
        if not self.moves.conditions.texts:
            return [self.matters.only(node)]
        return [self.matters.only(decided) for decided in self.moves.decided(node)]

    def enough(self, node: Node, lists: list[list[tuple[Move, Node]]]) -> list[tuple[Move, Node]]:
        """Of the moves of all lists those of one alone where that is as good as all."""
        if len(lists) == 1:
            return lists[0]
        if self.reduced:
            for lane, mine in enumerate(lists):
                if mine and self.commute.alone(node.position, lane, mine[0][0].step):
                    return mine
        return [pair for pairs in lists for pair in pairs]
