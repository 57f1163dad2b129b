"""The way to a fault as a person reads it: only the moves that bear on it, and everything that plain order does not do."""

from collections.abc import Iterable, Iterator

from runner.lint.proof.commute import made, touched
from runner.lint.proof.conditions import Conditions
from runner.lint.proof.faults import DEADLOCK, END, KEPT, NEED, OWNER, Fault
from runner.lint.proof.moves import ASSUMED, BEGINS, DEPARTURES, DONE, PASSED, REPEATED, TROUBLED, Move
from runner.procedure.model import UNKNOWN, Procedure, Step


def trace(procedure: Procedure, conditions: Conditions, fault: Fault) -> tuple[str, ...]:
    """The lines of a fault's way, from the job and the start to the step that cannot begin, or to the end."""
    states = concerned(fault)
    bearing = [move for move in fault.moves if bears(move, states, fault.kind)]
    lines = list(assumed_job(conditions, bearing, fault))
    if fault.kind != DEADLOCK:
        lines.append(at_start(procedure, fault.state))
    lines += told(procedure, conditions, bearing, states)
    match fault.kind:
        case "end" | "kept":
            lines.append("the last step is done")
        case "deadlock":
            lines += [f"{name(wait.step)} waits: {'; '.join(b.words for b in wait.blocks)}" for wait in fault.waits]
        case _:
            assert fault.step is not None
            lines.append(f"{name(fault.step)} comes up: {fault.words}")
    return tuple(lines)


def concerned(fault: Fault) -> frozenset[int]:
    """The states that a fault is about."""
    if fault.kind in (NEED, OWNER, END, KEPT):
        return frozenset({fault.state})
    return frozenset(block.state for wait in fault.waits for block in wait.blocks)


def bears(move: Move, states: frozenset[int], kind: str) -> bool:
    """Whether a move bears on the states, or is none of plain order, or was assumed."""
    if move.kind in DEPARTURES or move.kind == ASSUMED:
        return True
    return bool((touched(move.step) if kind == DEADLOCK else made(move.step)) & states)


def assumed_job(conditions: Conditions, bearing: Iterable[Move], fault: Fault) -> Iterator[str]:
    """A job for which the conditions on the way come out so, where a step that bears on it has one."""
    steps = [(move.step, move.kind != PASSED) for move in bearing]
    if fault.step is not None:
        steps.append((fault.step, True))
    steps += [(wait.step, True) for wait in fault.waits]
    if not any(step.when is not None for step, _ in steps):
        return
    words = conditions.job_words(decided_on(conditions, fault))
    if words:
        yield f"a job with {words}"


def decided_on(conditions: Conditions, fault: Fault) -> frozenset[tuple[int, bool]]:
    """How the conditions on the way to a fault came out, and that of the steps that it is about."""
    decided = {(conditions.of(move.step), move.kind != PASSED) for move in fault.moves}
    decided |= {(conditions.of(step), True) for step in (fault.step, *(wait.step for wait in fault.waits)) if step}
    return frozenset((condition, truth) for condition, truth in decided if condition is not None)


def at_start(procedure: Procedure, state: int) -> str:
    """What a state is before anything is done."""
    tracked = procedure.states[state]
    value = "not known" if tracked.at_start == UNKNOWN else tracked.of[tracked.at_start]
    return f"at the start {tracked.label} is {value}"


def told(procedure: Procedure, conditions: Conditions, moves: list[Move], states: frozenset[int]) -> Iterator[str]:
    """Moves as lines; a step that is done right after it begins takes one."""
    for place, move in enumerate(moves):
        after = moves[place + 1 : place + 2]
        whole = after and after[0].step is move.step and after[0].kind in (DONE, TROUBLED, REPEATED)
        if move.kind == BEGINS and whole:
            continue
        yield f"{name(move.step)} {words_of(procedure, conditions, move, states)}"


def words_of(procedure: Procedure, conditions: Conditions, move: Move, states: frozenset[int]) -> str:
    """What a move does, with the values that it makes of the states concerned."""
    match move.kind:
        case "is done":
            made_now = [
                f"{procedure.states[state].label} {procedure.states[state].of[value]}"
                for state, value in move.step.makes
                if state in states
            ]
            return f"makes {', '.join(made_now)}" if made_now else "is done"
        case "meets its trouble":
            assert move.trouble is not None
            back = f"back to {move.trouble.back_to}" if move.trouble.way_on == "back_to" else move.trouble.way_on
            return f"meets its trouble '{move.trouble.sign}', the way on is {back.replace('_', ' ')}"
        case "does not apply":
            fixed = conditions.fixed[conditions.of(move.step) or 0]
            return "does not apply in this job" if fixed else "is taken not to apply, by what is read in the run"
        case kind:
            return kind


def departing(move: Move) -> str:
    """The step and what it does otherwise than plain order, for messages."""
    match move.kind:
        case "is left out":
            return f"when {name(move.step)} is left out"
        case "is done once more":
            return f"when {name(move.step)} is done once more"
        case _:
            sign = move.trouble.sign if move.trouble is not None else ""
            return f"after the trouble '{sign}' of {name(move.step)}"


def name(step: Step) -> str:
    """A step as traces call it."""
    return f"step {step.number} ({step.id})"
