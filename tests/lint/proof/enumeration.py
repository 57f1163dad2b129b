"""Plain enumeration: every mixing of every move for every job of a grid, over whole positions; nothing is merged or left out.

Slow and short on purpose. It shares the engine's order rules with the proof, and nothing else.
"""

from collections.abc import Iterator, Mapping
from heapq import heappop, heappush

from runner.engine import flow
from runner.engine.position import Position
from runner.formula.evaluate import Value, evaluate
from runner.procedure.model import Procedure, Step

Far = tuple[int, int]
"""Departures from plain order, and moves: the first counts most."""
Faults = dict[tuple[object, ...], Far]
"""How far the nearest way to each fault goes, by what the fault is."""
DEPTHS = tuple(depth / 1000 for depth in (0.0, 1.0, 2.5, 3.5, 4.2, 4.6, 4.8, 5.5, 7.0, 9.0, 10.0))
"""What may be read where a step reads the depth: values between all others that conditions compare it with."""
NOT_READ = -1.0


def enumerate_faults(procedure: Procedure, jobs: list[Mapping[str, Value]], *, plain: bool) -> tuple[Faults, set[str]]:
    """All faults that some job of a list meets, and the ids of all steps that begin."""
    found: Faults = {}
    begun: set[str] = set()
    for job in jobs:
        far: dict[tuple[Position, float], Far] = {}
        waiting: list[tuple[Far, Position, float]] = [((0, 0), flow.start(procedure), NOT_READ)]
        while waiting:
            here, position, depth = heappop(waiting)
            if (position, depth) in far:
                continue
            far[position, depth] = here
            known = {**job, "depth": depth}
            if flow.ended(procedure, position):
                for key in at_end(procedure, position):
                    found[key] = min(found.get(key, (99, 0)), here)
                continue
            following = [
                after for lane in lanes(position) for after in steps_from(procedure, position, lane, known, plain)
            ]
            if not following:
                for key in stuck(procedure, position):
                    found[key] = min(found.get(key, (99, 0)), here)
            for after, departs, step in following:
                begun |= {step.id} if step is not None else set()
                for read in DEPTHS if reads_depth(step) else (depth,):
                    heappush(waiting, ((here[0] + departs, here[1] + 1), after, read))
    return found, begun


def reads_depth(step: Step | None) -> bool:
    """Whether a step that begins reads the depth; no other step is in progress meanwhile, so when it is read is no matter."""
    return step is not None and any(ask.name == "depth" for ask in step.asks)


def lanes(position: Position) -> range:
    """All lists."""
    return range(len(position.cursors))


def steps_from(
    procedure: Procedure, position: Position, lane: int, job: Mapping[str, Value], plain: bool
) -> Iterator[tuple[Position, bool, Step | None]]:
    """Every position that one move of a list leads to, whether it departs from plain order, and the step if it begins."""
    step = flow.current(procedure, position, lane)
    if step is None:
        return
    if position.cursors[lane].begun:
        if not flow.unmet_in_progress(position, step):
            yield flow.done(procedure, position, lane), False, None
        if not plain:
            for trouble in step.troubles:
                yield flow.troubled(procedure, position, lane, trouble), True, None
            if step.repeat is not None:
                yield flow.repeated(position, lane), True, None
        return
    if step.when is not None and evaluate(step.when.expr, job, procedure.scope) is not True:
        yield flow.passed(procedure, position, lane), False, None
        return
    if not flow.blocks(procedure, position, lane):
        yield flow.begun(procedure, position, lane), False, step
    if step.optional and not plain:
        yield flow.passed(procedure, position, lane), True, None


def at_end(procedure: Procedure, position: Position) -> Iterator[tuple[object, ...]]:
    """What is wrong when all is done."""
    for state, tracked in enumerate(procedure.states):
        if tracked.at_end is not None and position.states[state] != tracked.at_end:
            yield ("end", "", state)
        if position.owners[state]:
            yield ("kept", "", state)


def stuck(procedure: Procedure, position: Position) -> Iterator[tuple[object, ...]]:
    """Who waits for what nobody brings any more; if that is nobody, that the lists wait for each other."""
    phase = procedure.phases[position.phase]
    left = [(lane, flow.current(procedure, position, lane)) for lane in lanes(position)]
    told = False
    for lane, step in left:
        if step is None:
            continue
        coming = {
            fact
            for other, _ in left
            if other != lane
            for later in phase.lists[other].steps[position.cursors[other].step :]
            for fact in later.makes
        }
        for block in flow.blocks(procedure, position, lane):
            wanted = dict(step.needs).get(block.state) if block.kind == "need" else 0
            if block.kind != "conflict" and (block.state, wanted) not in coming:
                told = True
                yield (block.kind, step.id, block.state)
    if not told:
        yield ("deadlock", frozenset((lane, step.id) for lane, step in left if step is not None))
