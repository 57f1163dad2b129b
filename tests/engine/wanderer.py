"""A person who does anything: random intents, mostly sensible ones, over a procedure."""

import random
from collections.abc import Callable

from runner.engine import flow
from runner.engine import intents as want
from runner.engine.decide import AnyIntent
from runner.engine.state import RunState
from runner.formula.evaluate import evaluate
from runner.procedure.asks.ask import Ask
from runner.procedure.model import Procedure, Step, steps_of

from .bench import Bench

NAMES = ("Uma", "Rolf", "Lena", "Nils")


def crew_of(procedure: Procedure) -> tuple[tuple[str, str], ...]:
    """A different person for every role."""
    return tuple((role, f"{role.title()} {number}") for number, (role, _) in enumerate(procedure.people))


def typed_for(ask: Ask, state: RunState, procedure: Procedure, chance: random.Random) -> str:
    """Something to type: usually within limits, sometimes not, sometimes nonsense."""
    roll = chance.random()
    if roll < 0.05:
        return chance.choice(["", "1,5", "nonsense", "-3", "1e9", "7 kg"])
    values = {name: known.value for name, known in state.values.items()}
    if ask.match and ask.match in values:
        return str(values[ask.match])
    if ask.of:
        return "all" if ask.kind == "thread" else chance.choice(ask.accept or ask.of)
    if ask.unit is None:
        return "R-1"
    low = evaluate(ask.low, values, procedure.scope) if ask.low is not None else None
    high = evaluate(ask.high, values, procedure.scope) if ask.high is not None else None
    low_si = low if isinstance(low, float) else 0.0
    high_si = high if isinstance(high, float) else low_si + 1.0
    wide = high_si - low_si
    value = low_si + wide * chance.uniform(0.1, 0.9) if roll < 0.9 else high_si + (wide or 1.0)
    return repr(ask.unit.magnitude(value))


def wish(bench: Bench, chance: random.Random) -> AnyIntent:
    """The next random intent."""
    procedure, state = bench.procedure, bench.state
    crew = dict(state.crew)
    anyone = chance.choice([*crew.values(), *NAMES])
    lanes = [
        step
        for lane in range(len(state.position.cursors))
        if (step := flow.current(procedure, state.position, lane)) is not None
    ]
    odd: list[Callable[[], AnyIntent]] = [
        lambda: want.NoteException(anyone, "", "other", "note", "seen"),
        lambda: want.Pause(anyone, "go on"),
        lambda: want.MakeSafe(anyone, "stop"),
        lambda: want.Resume(anyone),
        lambda: want.Finish(anyone),
        lambda: want.CloseException(anyone, chance.randint(1, 5), "done"),
        lambda: want.DoSafeAct(anyone, chance.randint(0, 2)),
        lambda: _look(procedure, state, anyone, chance),
        lambda: want.GoBack(anyone, chance.choice(steps_of(procedure)).id, "again"),
        lambda: want.BeginStep(anyone, chance.choice(steps_of(procedure)).id),
        lambda: want.HandOver(chance.choice(list(crew)), anyone, chance.choice(NAMES), "read back"),
    ]
    if state.halted and chance.random() < 0.5:
        return want.Resume(anyone)
    if not lanes or chance.random() < 0.12:
        return chance.choice(odd)() if lanes or chance.random() < 0.7 else want.Finish(anyone)
    return sensible(bench, chance.choice(lanes), chance)


def _look(procedure: Procedure, state: RunState, by: str, chance: random.Random) -> AnyIntent:
    if not procedure.states:
        return want.Pause(by, "")
    name = chance.choice(list(state.unconfirmed) or [tracked.name for tracked in procedure.states])
    tracked = next(tracked for tracked in procedure.states if tracked.name == name)
    return want.LookAt(by, name, state.unconfirmed.get(name) or chance.choice(tracked.of))


def sensible(bench: Bench, step: Step, chance: random.Random) -> AnyIntent:
    """What one would do with a step that is up: mostly the right thing."""
    procedure, state = bench.procedure, bench.state
    record, crew = state.record(step.id), dict(state.crew)
    doer = crew.get(step.by, "Nobody")
    lane, _ = flow.find(procedure, state.position, step.id) or (0, 0)
    for at, wanted in flow.unmet(state.position, step):
        tracked = procedure.states[at]
        if chance.random() < 0.8 and tracked.name in state.unconfirmed:
            return want.LookAt(doer, tracked.name, tracked.of[wanted])
    if not state.position.cursors[lane].begun:
        if step.cautions and not record.cautions_read:
            return want.ReadCautions(doer, step.id)
        if step.optional and chance.random() < 0.3:
            authority = "" if step.optional == "reason" else crew.get(step.optional, "")
            return want.LeaveOut(doer, step.id, "not today", authority)
        if step.hold is not None and record.hold != "released":
            return want.ReleaseHold(crew.get(step.hold.release, "Nobody"), step.id, step.hold.confirm)
        return want.BeginStep(doer, step.id)
    if step.troubles and chance.random() < 0.06:
        trouble = chance.choice(step.troubles)
        return want.MeetTrouble(doer, step.id, trouble.id or trouble.sign)
    for ask in step.asks:
        given = record.answers.get(ask.name)
        if ask.kind != "wait" and (given is None or given.verdict != "in"):
            return want.GiveAnswer(doer, step.id, ask.name, typed_for(ask, state, procedure, chance))
        if ask.kind == "wait":
            bench.tick += ask.at_least_s * chance.choice([0.2, 1.1])
    if step.second is not None and not record.looked_twice:
        again = tuple((name, given.typed) for name, given in record.answers.items())
        return want.GiveSecondLook(crew.get(step.second.by, "Nobody"), step.id, again)
    return want.EndStep(doer, step.id)
