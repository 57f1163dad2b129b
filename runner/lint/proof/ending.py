"""How each state stands at the end: followed one state at a time over the nodes that were explored.

A state that no later step needs does not bear on what may begin, so the exploration does not tell its values apart; what it
is at the end is found by following it alone. Ways through assumed nodes do not count: what is wrong there may follow from
what was assumed.
"""

from collections.abc import Iterator
from heapq import heappop, heappush
from itertools import count
from typing import NamedTuple

from runner.lint.proof.explore import Explored
from runner.lint.proof.moves import ASSUMED, BEGINS, DEPARTURES, DONE, Move
from runner.procedure.model import UNKNOWN, Procedure


class Ending(NamedTuple):
    """A state at an end of a way: the value it has, and the moves of a shortest way to it."""

    state: int
    value: int
    moves: tuple[Move, ...]


Followed = tuple[int, int]
"""A node by its number, and the value of the state there."""


def wrong_endings(procedure: Procedure, explored: Explored) -> Iterator[Ending]:
    """For every state that is not at its `at_end` on some way, a shortest such way."""
    for state, tracked in enumerate(procedure.states):
        if tracked.at_end is not None:
            found = first_wrong(procedure, explored, state, tracked.at_end)
            if found is not None:
                yield found


def first_wrong(procedure: Procedure, explored: Explored, state: int, wanted: int) -> Ending | None:
    """A shortest way on which a state ends with another value than the wanted one."""
    came: dict[Followed, tuple[Followed, Move] | None] = {}
    turn = count()
    at_start = procedure.states[state].at_start
    waiting: list[tuple[int, int, int, Followed, tuple[Followed, Move] | None]] = [
        (0, 0, next(turn), (node, at_start), None) for node in explored.order if explored.before[node] is None
    ]
    nodes, last = explored.nodes, len(procedure.phases)
    while waiting:
        departures, far, _, now, before = heappop(waiting)
        if now in came:
            continue
        came[now] = before
        node, value = now
        if nodes[node].position.phase >= last:
            if value != wanted:
                return Ending(state, value, way(came, now))
            continue
        for move, to in explored.after[node]:
            then = (to, moved(move, state, value))
            if then not in came and not nodes[to].assumed:
                departs = departures + (move.kind in DEPARTURES)
                heappush(waiting, (departs, far + 1, next(turn), then, (now, move)))
    return None


def moved(move: Move, state: int, value: int) -> int:
    """The value of a state after a move."""
    for made, new in move.step.makes:
        if made == state:
            if move.kind in (BEGINS, ASSUMED):
                return UNKNOWN
            if move.kind == DONE:
                return new
    return value


def way(came: dict[Followed, tuple[Followed, Move] | None], at: Followed) -> tuple[Move, ...]:
    """The moves to where a state was followed."""
    moves: list[Move] = []
    before = came[at]
    while before is not None:
        moves.append(before[1])
        before = came[before[0]]
    return tuple(reversed(moves))
