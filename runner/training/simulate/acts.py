"""What a person does next at a step of a simulated run: towards its beginning, within it, and by chance otherwise."""

from runner.engine import flow
from runner.engine import intents as want
from runner.engine.held import held_values, releaser_of
from runner.engine.shown import values_now
from runner.engine.state import RunState
from runner.procedure.asks.ask import Ask
from runner.procedure.model import Step
from runner.training.simulate.answers import inside, outside
from runner.training.simulate.rates import LONGEST, SHORTEST, UNSAID_S
from runner.training.simulate.walk import Walk
from runner.training.simulate.ways import unmet_now

BACK = "something was forgotten"


def act_at(walk: Walk, step: Step, lane: int, begun: bool) -> None:
    """The next act at a step that is up."""
    if not begun:
        towards(walk, step, lane)
    elif unmet_now(walk.procedure, walk.state, lane):
        walk.find_way()
    else:
        within(walk, step, lane)


def towards(walk: Walk, step: Step, lane: int) -> None:
    """Left out, cautions read, pieces accepted, hold released, begun."""
    state, doer = walk.state, walk.crew.get(step.by, "")
    record = state.record(step.id)
    walk.started.setdefault(step.id, walk.clock.tick)
    if step.optional and by_chance(walk, "left out", step.id, record.attempt, walk.rates.left_out):
        walk.started.pop(step.id)
        authority = "" if step.optional == "reason" else walk.crew.get(step.optional, "")
        walk.submit(want.LeaveOut(doer, step.id, "not needed this time", authority, at=walk.at), step, lane)
    elif step.cautions and not record.cautions_read:
        walk.submit(want.ReadCautions(doer, step.id, at=walk.at), step, lane)
    elif held := held_values(walk.procedure, state, step):
        accept(walk, step, lane, held[0].name)
    elif step.hold is not None and record.hold != "released":
        release(walk, step, lane)
    elif walk.submit(want.BeginStep(doer, step.id, at=walk.at), step, lane):
        likely = step.expect_s or UNSAID_S
        walk.ready[lane] = walk.clock.tick + walk.chance.triangular(SHORTEST * likely, LONGEST * likely, likely)
        walk.free[step.by] = walk.ready[lane]


def within(walk: Walk, step: Step, lane: int) -> None:
    """Troubles, answers, the second look, the wait, the end."""
    state, doer = walk.state, walk.crew.get(step.by, "")
    record = state.record(step.id)
    if step.hold is not None and record.hold != "released":
        release(walk, step, lane)
        return
    if step.troubles and by_chance(walk, "trouble", step.id, record.attempt, walk.rates.trouble):
        met = walk.chance.choice(step.troubles)
        walk.submit(want.MeetTrouble(doer, step.id, met.id or met.sign, at=walk.at), step, lane)
        return
    for ask in step.asks:
        given = record.answers.get(ask.name)
        if ask.kind != "wait" and (given is None or given.verdict != "in"):
            typed = given.typed if given is not None and given.verdict == "unlikely" else answer(walk, state, step, ask)
            walk.submit(want.GiveAnswer(doer, step.id, ask.name, typed, at=walk.at), step, lane)
            return
    if step.second is not None and not record.looked_twice:
        look_twice(walk, step, lane, step.second.by)
        return
    if record.wait_from is not None and not record.wait_over:
        longest = max((ask.at_least_s for ask in step.asks if ask.kind == "wait"), default=0.0)
        over = record.wait_from.tick + longest
        if over > walk.clock.tick:
            walk.ready[lane] = over + 0.001
            return
    if held := held_values(walk.procedure, state, step):
        accept(walk, step, lane, held[0].name)
    elif walk.submit(want.EndStep(doer, step.id, at=walk.at), step, lane):
        afterwards(walk, step, lane, doer)


def answer(walk: Walk, state: RunState, step: Step, ask: Ask) -> str:
    """What is typed: within limits, or now and then out of one, and then often again."""
    known = state.record(step.id).answers.get(ask.name)
    values, scope = values_now(state), walk.procedure.scope
    rate = walk.rates.out_again if known is not None and known.verdict == "out" else walk.rates.out
    if walk.rates.out and walk.chance.random() < rate:
        beyond = outside(ask, values, scope, walk.chance)
        if beyond is not None:
            return beyond[0]
    return inside(ask, step, values, scope, walk.chance)


def look_twice(walk: Walk, step: Step, lane: int, role: str) -> None:
    """The second person sees the same, or now and then something else."""
    record = walk.state.record(step.id)
    asked = [ask for ask in step.asks if ask.kind != "wait"]
    seen = {ask.name: record.answers[ask.name].typed for ask in asked}
    together = step.second is None or step.second.how == "together"
    if asked and not together and walk.chance.random() < walk.rates.differs:
        ask = walk.chance.choice(asked)
        other = outside(ask, values_now(walk.state), walk.procedure.scope, walk.chance)
        if other is not None:
            seen[ask.name] = other[0]
    looked = want.GiveSecondLook(walk.crew.get(role, ""), step.id, tuple(seen.items()), at=walk.at)
    walk.submit(looked, step, lane)


def afterwards(walk: Walk, step: Step, lane: int, doer: str) -> None:
    """Once a step has ended: an answer is corrected, or somebody goes back to the step."""
    if walk.state.outcome or walk.state.halted:
        return
    if walk.chance.random() < walk.rates.corrected and step.second is None and step.repeat is None:
        numbers = [ask for ask in step.asks if ask.kind == "read" and ask.name in walk.state.values]
        if numbers and not walk.state.values[numbers[0].name].stale:
            typed = inside(numbers[0], step, values_now(walk.state), walk.procedure.scope, walk.chance)
            walk.submit(want.CorrectAnswer(doer, step.id, numbers[0].name, typed, "read wrongly", at=walk.at))
    if walk.chance.random() < walk.rates.back and may_go_back(walk, step, lane):
        walk.submit(want.GoBack(doer, step.id, BACK, at=walk.at))


def may_go_back(walk: Walk, step: Step, lane: int) -> bool:
    """Whether the list goes on in this phase and what the step needs holds."""
    position = walk.state.position
    if position.phase != walk.phase or position.cursors[lane].begun:
        return False
    at = flow.find(walk.procedure, position, step.id)
    return at is not None and at[1] < position.cursors[lane].step and not flow.unmet(position, step)


def release(walk: Walk, step: Step, lane: int) -> None:
    """Every point of the hold is confirmed."""
    assert step.hold is not None  # asked before
    by = walk.crew.get(step.hold.release, "")
    walk.submit(want.ReleaseHold(by, step.id, step.hold.confirm, at=walk.at), step, lane)


def accept(walk: Walk, step: Step, lane: int, name: str) -> None:
    """The nearest choice of pieces is accepted by who may."""
    by = walk.crew.get(releaser_of(walk.procedure, name), "")
    walk.submit(want.AcceptPieces(by, step.id, name, "near enough for this roll", at=walk.at), step, lane)


def by_chance(walk: Walk, what: str, step: str, attempt: int, rate: float) -> bool:
    """Decided once for each attempt."""
    key = (what, step, attempt)
    if key in walk.considered:
        return False
    walk.considered.add(key)
    return walk.chance.random() < rate
