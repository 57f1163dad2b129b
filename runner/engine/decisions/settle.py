"""What follows by itself after an intent was taken: values worked out, steps that do not apply, holds reached or
revoked. Each is an event of its own with nobody's name, decided from the state alone, until nothing more follows.
"""

import math
from collections.abc import Iterator

from runner.engine import events as ev
from runner.engine import flow
from runner.engine.decisions.check import OTHER_PIECES, basis, missing_values
from runner.engine.evolve import evolve
from runner.engine.moment import Moment
from runner.engine.shown import origins_now, shown_now, values_now
from runner.engine.state import RunState
from runner.formula.evaluate import evaluate
from runner.formula.scope import names_needed
from runner.procedure.model import Procedure, Step
from runner.procedure.working import uses, work_out
from runner.say.text import say


def settled(
    procedure: Procedure, state: RunState, taken: tuple[ev.Event, ...], at: Moment
) -> tuple[tuple[ev.Event, ...], RunState]:
    """The events that were decided and all that follows from them, with the state after them."""
    events, before = list(taken), state
    for event in taken:
        state = evolve(procedure, state, event)
    while state.mode and not state.outcome:
        # nothing follows from values that are the same as before: what does has followed already
        new_values = not before.mode or state.values is not before.values
        following = next(_following(procedure, state, at, new_values), None)
        if following is None:
            break
        events.append(following)
        state = evolve(procedure, state, following)
    return tuple(events), state


def _following(procedure: Procedure, state: RunState, at: Moment, new_values: bool) -> Iterator[ev.Event]:
    """What follows from a state, most pressing first."""
    yield from _revoked(procedure, state, at)
    if new_values:
        yield from _worked_out(procedure, state, at)
        yield from _out_of_limits(state, at)
    if state.halted:
        return
    for lane in range(len(state.position.cursors)):
        step = flow.current(procedure, state.position, lane)
        if step is not None and not state.position.cursors[lane].begun and (step.when or step.hold):
            yield from _came_up(procedure, state, step, at)


def _revoked(procedure: Procedure, state: RunState, at: Moment) -> Iterator[ev.Event]:
    for lane in range(len(state.position.cursors)):
        step = flow.current(procedure, state.position, lane)
        if step is None or step.hold is None:
            continue
        record = state.record(step.id)
        if record.hold != "released":
            continue
        then_of = dict(record.basis)
        for name, value in basis(procedure, state, step):
            own = state.position.cursors[lane].begun and _made_by(procedure, step, name)
            then = then_of.get(name, "unknown")
            if then != value and not own:
                yield ev.HoldRevoked(
                    "",
                    at,
                    step.id,
                    say("{name} was {then} at the release and is {value} now", name=name, then=then, value=value),
                )
                return


def _made_by(procedure: Procedure, step: Step, name: str) -> bool:
    """A state that the step itself changes is no change of the release's basis."""
    return any(procedure.states[at].name == name for at, _ in step.makes)


def _worked_out(procedure: Procedure, state: RunState, at: Moment) -> Iterator[ev.Event]:
    for calculation in procedure.calculations:
        known = state.values.get(calculation.name)
        if (known is not None and not known.stale) or not _all_count(state, uses(calculation)):
            continue
        worked = work_out(procedure, calculation, values_now(state), shown_now(state), origins_now(state))
        value = worked.value if math.isfinite(worked.value) else 0.0
        yield ev.WorkedOut(
            "", at, calculation.name, worked.formula, worked.inputs, worked.working, worked.shown, value,
            worked.magnitude, worked.unit, worked.limits, worked.verdict, worked.ends, worked.origins,
            worked.rough, worked.gives,
        )  # fmt: skip


def _all_count(state: RunState, names: frozenset[str]) -> bool:
    for name in names:
        known = state.values.get(name)
        if known is None or not known.counts:
            return False
    return True


def _out_of_limits(state: RunState, at: Moment) -> Iterator[ev.Event]:
    """A worked-out value that breaks a limit is an exception, noted once for each result; a hold is none."""
    own = [noted for noted in state.exceptions if not noted.run]
    for known in state.values.values():
        if known.source != "worked out" or known.stale or known.verdict not in ("out", "failed"):
            continue
        lead = f"{known.name}: {known.shown}"
        words = lead + (say(" (allowed: {limits})", limits=known.limits) if known.limits else "")
        if not any(_tells(noted.words, lead, known.limits) for noted in own):
            yield ev.ExceptionNoted(
                "", at, len(state.exceptions) + 1, "value", "serious", words, "", "", blocking=False
            )


def _tells(words: str, lead: str, limits: str) -> bool:
    """Whether an exception tells of this value and these limits, in whatever language it was noted."""
    return words.startswith(f"{lead} (") and words.endswith(f"{limits})") if limits else words == lead


def _came_up(procedure: Procedure, state: RunState, step: Step, at: Moment) -> Iterator[ev.Event]:
    if step.when is not None:
        names = names_needed(step.when.expr, procedure.scope)
        if missing_values(state, names):
            return  # begun is refused until they are known, with the reason
        if evaluate(step.when.expr, values_now(state), procedure.scope) is False:
            shown = shown_now(state)
            why = ", ".join(f"{name} = {shown[name]}" for name in sorted(names))
            yield ev.StepNotApplicable(
                "", at, step.id, step.number, say("{condition} is not so: {why}", condition=step.when.text, why=why)
            )
            return
    record = state.record(step.id)
    if step.hold is not None and not record.hold and (record.cautions_read or not step.cautions):
        yield ev.HoldReached("", at, step.id, step.hold.release)


def broken(events: tuple[ev.Event, ...]) -> tuple[str, ...]:
    """Worked-out values among events that break a limit or have no result, a line each. What is held may begin."""
    lines = []
    for event in events:
        if isinstance(event, ev.WorkedOut) and event.verdict in ("out", "failed"):
            allowed = say(" (allowed: {limits})", limits=event.limits) if event.limits else ""
            lines.append(f"{event.name}: {event.shown}" + (f". {say(OTHER_PIECES)}" if event.ends else allowed))
    return tuple(lines)
