"""State and event to state: the one place where a run's state changes. Replay is a fold of it.

Nothing is judged or refused here: an event has happened. What a procedure cannot have brought about (a journal of
another program) leaves the state as it is rather than raise.
"""

from collections.abc import Iterable, Mapping
from types import MappingProxyType
from typing import TypeVar

from runner.engine import events as ev
from runner.engine import flow
from runner.engine.changed import changed
from runner.engine.followed import followed
from runner.engine.known import answered_value, given_answer, ticket_value, worked_out_value
from runner.engine.lookup import changed_by, fact_of, facts_of, step_named, trouble_named
from runner.engine.moment import Moment
from runner.engine.reviewed import paper_of, reviewed, since_signed
from runner.engine.state import (
    VERIFIED,
    GivenAnswer,
    KnownValue,
    NotedException,
    RunState,
    StepRecord,
    StepStatus,
    WrongPins,
    name_key,
)
from runner.engine.step_records import gone_by, looked_at_again, ticked
from runner.procedure.model import Procedure
from runner.procedure.site_facts import Facts

V = TypeVar("V")

STEP_KINDS = frozenset({
    ev.StepBegun, ev.StepDone, ev.Answered, ev.HoldReached, ev.HoldReleased, ev.CautionsRead, ev.WaitBegun, ev.WaitEnded,
    ev.LookedTwice, ev.ConfirmationTicked, ev.RollerThreaded, ev.StepRepeated,
})  # fmt: skip
"""Of the events that `_steps` sees to, those that come most."""
MOVING = frozenset({ev.StepBegun, ev.StepDone})
"""Of these again, those that move a cursor."""


def begin_state(procedure: Procedure) -> RunState:
    """The state before the first event."""
    return RunState(flow.start(procedure))


def replay(procedure: Procedure, events: Iterable[ev.Event]) -> RunState:
    """The state after all these events."""
    state = begin_state(procedure)
    for event in events:
        state = evolve(procedure, state, event)
    return state


def evolve(procedure: Procedure, state: RunState, event: ev.Event) -> RunState:
    """The state after one more event."""
    new = _evolved(procedure, since_signed(state, event), event)
    return changed(new, last=event.at) if new is state else stamped(new, event.at)


def stamped(new: RunState, at: Moment) -> RunState:
    """A state that was made a moment ago and that nobody has yet, with its moment: written in place, which spares a copy."""
    object.__setattr__(new, "last", at)
    return new


def _evolved(procedure: Procedure, state: RunState, event: ev.Event) -> RunState:
    if type(event) in STEP_KINDS:  # most events
        return _steps(procedure, state, event)
    match event:
        case ev.RunBegun():
            return changed(
                state, run=event.run, mode=event.mode, played=event.played, identity=event.identity,
                crew=MappingProxyType(dict(event.crew)), began=event.at,
                site_people=event.site_people, unknown=event.unknown,
            )  # fmt: skip
        case ev.SiteRead():
            facts = Facts(event.pieces, event.gear, event.park_within_s, event.shift_ends)
            return changed(state, site=facts)
        case ev.QualificationMissing():
            return changed(state, unqualified=(*state.unqualified, event.why))
        case ev.InputGiven():
            return _with_value(procedure, changed(state, inputs=(*state.inputs, event.name)), ticket_value(event))
        case ev.WorkedOut():
            return _with_value(procedure, state, worked_out_value(event))
        case ev.PiecesAccepted():
            return _accepted(state, event)
        case ev.ExceptionNoted():
            noted = NotedException(
                event.number, event.kind, event.severity, event.words, event.step, event.owner, event.blocking,
                event.by, event.at,
            )  # fmt: skip
            return changed(state, exceptions=(*state.exceptions, noted))
        case ev.ExceptionCarried() | ev.ExceptionRead() | ev.ExceptionAccepted():
            return changed(state, exceptions=followed(state.exceptions, event))
        case ev.ExceptionClosed():
            closed = tuple(changed(e, closed=event.words) if e.number == event.number else e for e in state.exceptions)
            return changed(state, exceptions=closed)
        case ev.SignedOn():
            return changed(state, crew=_put(state.crew, event.role, event.by))
        case ev.HandedOver():
            return changed(state, crew=_put(state.crew, event.role, event.to))
        case ev.IdentityGiven():
            right = {name: wrong for name, wrong in state.wrong_pins.items() if name != name_key(event.by)}
            wrong = MappingProxyType(right) if event.how == VERIFIED else state.wrong_pins
            key = name_key(event.by)
            return changed(
                state, identities=_put(state.identities, key, event.how), wrong_pins=wrong,
                recognised=(*(name for name in state.recognised if name != key), key),
            )  # fmt: skip
        case ev.PinRefused():
            wrong_pins = {**state.wrong_pins, name_key(event.name): WrongPins(event.tries, event.at, event.wait_s)}
            return changed(state, wrong_pins=MappingProxyType(wrong_pins))
        case ev.Finished():
            return changed(state, outcome="finished")
        case ev.Abandoned():
            return changed(state, outcome="abandoned", halted="")
        case ev.TailSetAside() | ev.ClockStepped() | ev.ActRefused() | ev.Sealed():
            return state
        case ev.ScenarioTaken() | ev.TrainingNoted():
            return state
        case ev.EnteredLate() | ev.ExceptionDisposed() | ev.RunSigned():
            return reviewed(state, event)
        case ev.OldValueUsed():
            return changed(state, records=gone_by(state.records, event))
        case ev.StateSeen() | ev.Paused() | ev.MadeSafe() | ev.SafeActDone() | ev.SafeActNotNeeded() | ev.Resumed():
            return _halts_and_looks(procedure, state, event)
        case _:
            return _steps(procedure, state, event)


HaltOrLook = ev.StateSeen | ev.Paused | ev.MadeSafe | ev.SafeActDone | ev.SafeActNotNeeded | ev.Resumed


def _halts_and_looks(procedure: Procedure, state: RunState, event: HaltOrLook) -> RunState:
    match event:
        case ev.StateSeen():
            fact = fact_of(procedure, event.state, event.value)
            if fact is None:
                return state
            position = flow.seen(procedure, state.position, *fact)
            return changed(state, position=position, unconfirmed=_without(state.unconfirmed, event.state))
        case ev.Paused():
            return changed(state, halted="pause", intention=event.intention)
        case ev.MadeSafe():
            return changed(state, halted="make-safe", safe_acts=event.acts, safe_acts_done=(), safe_acts_not_needed=())
        case ev.SafeActNotNeeded():
            return changed(state, safe_acts_not_needed=(*state.safe_acts_not_needed, event.number))
        case ev.SafeActDone():
            return _safe_act_done(procedure, state, event)
        case ev.Resumed():
            return changed(
                state, position=flow.interrupted(procedure, state.position), halted="",
                unconfirmed=MappingProxyType({**state.unconfirmed, **dict(event.unconfirmed)}),
                intention=event.intention, safe_acts=(), safe_acts_done=(),
                safe_acts_not_needed=(), records=looked_at_again(state.records), recognised=_only(state, event.by),
            )  # fmt: skip


def _only(state: RunState, name: str) -> tuple[str, ...]:
    """After an interruption others may stand there: only who resumed the run is still known."""
    return tuple(key for key in state.recognised if key == name_key(name))


def _safe_act_done(procedure: Procedure, state: RunState, event: ev.SafeActDone) -> RunState:
    makes = facts_of(procedure, event.made)
    for lane in flow.undone_by(procedure, state.position, makes):
        step = flow.current(procedure, state.position, lane)
        if step is not None:
            state = _noted(state, step.id, _fresh(state.record(step.id), status=StepStatus.AGAIN, passes=0))
    unconfirmed = state.unconfirmed
    for name, _ in event.made:
        unconfirmed = _without(unconfirmed, name)
    return changed(
        state,
        position=flow.safe_act_done(procedure, state.position, makes),
        unconfirmed=unconfirmed,
        safe_acts_done=(*state.safe_acts_done, event.number),
    )


def _steps(procedure: Procedure, state: RunState, event: ev.Event) -> RunState:
    step_id = getattr(event, "step", "")
    record = state.record(step_id)
    if type(event) in MOVING:
        return _moved_at(procedure, state, event, record)
    match event:
        case ev.RollerThreaded() | ev.RollerTakenBack() | ev.ConfirmationTicked() | ev.ConfirmationTakenBack():
            return _noted(state, step_id, ticked(record, event))
        case ev.CautionsRead():
            return _noted(state, step_id, changed(record, cautions_read=True))
        case ev.HoldReached():
            return _noted(state, step_id, changed(record, hold="reached"))
        case ev.HoldReleased():
            released = changed(record, hold="released", released_by=event.by, basis=event.basis)
            return _noted(state, step_id, released)
        case ev.HoldRevoked():
            return _noted(
                state,
                step_id,
                changed(
                    record, hold="reached", released_by="", basis=(), confirmed=(), confirmed_before=record.confirmed
                ),
            )
        case ev.WaitBegun():
            begun = changed(record, wait_from=event.at, wait_over=False, wait_paper=paper_of(state, event))
            return _noted(state, step_id, begun)
        case ev.WaitEnded():
            return _noted(state, step_id, changed(record, wait_over=True))
        case ev.Answered():
            return _answered(procedure, state, record, event)
        case ev.AnswerCorrected():
            return _corrected(procedure, state, record, event)
        case ev.LookedTwice():
            looked = changed(record, looked_twice=event.agrees, second_by=event.by)
            if not event.agrees:
                state = _stale(procedure, state, tuple(record.answers))
                looked = changed(looked, answers=EMPTY, second_answers=EMPTY, threaded=())
            return _noted(state, step_id, looked)
        case ev.WentBack():
            return _went_back(procedure, state, event)
        case _:
            return _moved_at(procedure, state, event, record)


def _moved_at(procedure: Procedure, state: RunState, event: ev.Event, record: StepRecord) -> RunState:
    at = flow.find(procedure, state.position, getattr(event, "step", ""))
    up = at is not None and state.position.cursors[at[0]].step == at[1]
    return _moved(procedure, state, event, record, at[0]) if at is not None and up else state


def _moved(procedure: Procedure, state: RunState, event: ev.Event, record: StepRecord, lane: int) -> RunState:
    """Events that move a cursor."""
    position = state.position
    match event:
        case ev.StepBegun():
            begun = changed(
                record, status=StepStatus.BEGUN, attempt=event.attempt, begun_at=event.at, begun_by=event.by,
                ended_at=None, answers=EMPTY, second_answers=EMPTY, looked_twice=False, second_by="",
                wait_from=None, wait_over=False, threaded=(), after_trouble=("", ""), old=(),
            )  # fmt: skip
            return _noted(state, event.step, begun, position=flow.begun(procedure, position, lane))
        case ev.StepDone():
            ended = changed(record, status=StepStatus.DONE, ended_at=event.at, passes=0)
            unconfirmed = state.unconfirmed
            for made, _ in event.made:
                unconfirmed = _without(unconfirmed, made)
            position = flow.done(procedure, position, lane)
            return _noted(state, event.step, ended, position=position, unconfirmed=unconfirmed)
        case ev.StepNotApplicable():
            record = changed(record, status=StepStatus.NOT_APPLICABLE, ended_at=event.at)
            return _noted(state, event.step, record, position=flow.passed(procedure, position, lane))
        case ev.StepLeftOut():
            record = changed(record, status=StepStatus.LEFT_OUT, ended_at=event.at)
            return _noted(state, event.step, record, position=flow.passed(procedure, position, lane))
        case ev.StepRepeated():
            again = _fresh(record, status=StepStatus.AGAIN, passes=event.passes)
            return _noted(state, event.step, again, position=flow.repeated(position, lane))
        case ev.TroubleMet():
            step = step_named(procedure, event.step)
            trouble = trouble_named(step, event.trouble) if step else None
            if trouble is None:
                return state
            ended = _fresh(record, status=StepStatus.AGAIN, ended_at=event.at, passes=0)
            state = _stale(procedure, state, tuple(record.answers))
            if trouble.way_on == "go_on":
                ended = changed(ended, status=StepStatus.TROUBLED)
            state = changed(
                _noted(state, event.step, ended), position=flow.troubled(procedure, position, lane, trouble)
            )
            return _told_first(procedure, state, event, lane)
        case _:
            return state


def _told_first(procedure: Procedure, state: RunState, event: ev.TroubleMet, lane: int) -> RunState:
    """What the trouble says to do stands at the step that comes up next, until it begins."""
    up = flow.current(procedure, state.position, lane)
    next_up = event.to or (up.id if up is not None else "")
    if not next_up:
        return state
    return _noted(state, next_up, changed(state.record(next_up), after_trouble=(event.sign, event.do)))


def _answered(procedure: Procedure, state: RunState, record: StepRecord, event: ev.Answered) -> RunState:
    before = record.second_answers.get(event.name) if event.hidden else record.answers.get(event.name)
    outs = 0 if before is None or before.verdict == "in" else before.outs
    outs += event.verdict == "out"
    done_at, _ = paper_of(state, event)
    given = given_answer(event, outs, done_at)
    if event.hidden:
        answers = _put(record.second_answers, event.name, given)
        return _noted(state, event.step, changed(record, second_answers=answers))
    # a second look is a look at these very answers: a new one has to be looked at again
    answers = _put(record.answers, event.name, given)
    record = changed(record, looked_twice=False, second_by="", second_answers=EMPTY, answers=answers)
    state = _noted(state, event.step, record)
    if event.kind == "thread":
        return state
    if event.verdict != "in":
        return _stale(procedure, state, (event.name,))
    origin = _given_at(procedure, event.step, event.by)
    return _with_value(procedure, state, answered_value(event, origin))


def _accepted(state: RunState, event: ev.PiecesAccepted) -> RunState:
    known = state.values.get(event.name)
    if known is None or known.stale or known.verdict != "held":
        return state
    accepted = changed(
        known, verdict="accepted", shown=event.shown, accepted_by=event.by, accepted_why=event.why
    )  # fmt: skip
    return changed(state, values=_put(state.values, event.name, accepted))


def _given_at(procedure: Procedure, step_id: str, by: str) -> str:
    step = step_named(procedure, step_id)
    return f"step {step.number if step is not None else step_id}, by {by}"


def _corrected(procedure: Procedure, state: RunState, record: StepRecord, event: ev.AnswerCorrected) -> RunState:
    if event.name in record.answers:
        old = record.answers[event.name]
        given = changed(old, typed=event.typed, shown=event.shown, value=event.value, verdict="in")
        state = _noted(state, event.step, changed(record, answers=_put(record.answers, event.name, given)))
    first = state.values[event.name].origin if event.name in state.values else ""
    origin = f"{first.partition(', corrected by ')[0]}, corrected by {event.by}"
    known = KnownValue(event.name, event.value, event.shown, event.step or "ticket", event.unit, origin=origin)
    return _with_value(procedure, state, known)


def _went_back(procedure: Procedure, state: RunState, event: ev.WentBack) -> RunState:
    at = flow.find(procedure, state.position, event.step)
    if at is None:
        return state
    records = dict(state.records)
    for name in event.again:
        records[name] = _fresh(state.record(name), status=StepStatus.AGAIN, passes=0)
    values = {
        name: changed(known, stale=True) if name in event.stale else known for name, known in state.values.items()
    }
    return changed(
        state, position=flow.returned(state.position, *at), records=MappingProxyType(records),
        values=MappingProxyType(values),
    )  # fmt: skip


def _fresh(record: StepRecord, **more: object) -> StepRecord:
    """The record as the step's next attempt finds it: cautions to be read and hold to be released again."""
    return changed(
        record, cautions_read=False, hold="", released_by="", basis=(), answers=EMPTY, second_answers=EMPTY,
        looked_twice=False, second_by="", wait_from=None, wait_over=False, threaded=(), confirmed=(),
        confirmed_before=(), old=(), **more,
    )  # fmt: skip


def _with_value(procedure: Procedure, state: RunState, known: KnownValue) -> RunState:
    """A value is known; what was worked out from an older one no longer counts."""
    values = dict(state.values)
    before = values.get(known.name)
    values[known.name] = known
    if before is None or before.value != known.value or before.stale:
        for name in changed_by(procedure, known.name):
            if name in values:
                values[name] = changed(values[name], stale=True)
    return changed(state, values=MappingProxyType(values))


def _stale(procedure: Procedure, state: RunState, names: tuple[str, ...]) -> RunState:
    """These values and what was worked out from them no longer count."""
    gone = {other for name in names for other in (name, *changed_by(procedure, name))} & state.values.keys()
    if not gone:
        return state
    values = {n: changed(known, stale=True) if n in gone else known for n, known in state.values.items()}
    return changed(state, values=MappingProxyType(values))


EMPTY: Mapping[str, GivenAnswer] = MappingProxyType({})


def _noted(state: RunState, step: str, record: StepRecord, **more: object) -> RunState:
    return changed(state, records=_put(state.records, step, record), **more)


def _put(mapping: Mapping[str, V], key: str, value: V) -> Mapping[str, V]:
    # a proxy joined with a dict is copied at once; unpacked, it is asked for one key after the other
    return MappingProxyType(
        mapping | {key: value} if isinstance(mapping, MappingProxyType) else {**mapping, key: value}
    )


def _without(mapping: Mapping[str, V], key: str) -> Mapping[str, V]:
    if key not in mapping:
        return mapping
    return MappingProxyType({k: v for k, v in mapping.items() if k != key})
