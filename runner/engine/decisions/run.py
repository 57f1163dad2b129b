"""Beginning, halting, going on and ending a run, and who has which role."""

from runner.engine import events as ev
from runner.engine import flow
from runner.engine import intents as want
from runner.engine.decisions.carried import carried_events
from runner.engine.decisions.check import same_person, value_now
from runner.engine.decisions.identity import strangers
from runner.engine.intents import Refusal
from runner.engine.lookup import named_facts
from runner.engine.shown import role_label, safe_acts
from runner.engine.state import BY_PIN, NOT_VERIFIED, RunState
from runner.procedure.asks.ask import Misread
from runner.procedure.model import Procedure, steps_of
from runner.procedure.ticket import judge_input
from runner.say.text import say

Decided = tuple[ev.Event, ...] | Refusal


def begin_run(procedure: Procedure, state: RunState, intent: want.BeginRun) -> Decided:
    """The job's values and the crew are complete and allowed."""
    if state.mode:
        return Refusal(say("The run has begun already."))
    missing = [*_crew_missing(procedure, dict(intent.crew)), *strangers(intent)]
    typed, origins, inputs = dict(intent.inputs), dict(intent.origins), []
    for given in procedure.inputs:
        if given.name not in typed:
            missing.append(say("{ask} ({name}) is not given", ask=given.ask, name=given.name))
            continue
        judged = judge_input(given, typed[given.name])
        if isinstance(judged, Misread):
            missing.append(judged.message)
            continue
        inputs.append(
            ev.InputGiven(
                intent.by,
                intent.at,
                given.name,
                given.ask,
                typed[given.name],
                judged.shown,
                judged.value,
                judged.magnitude,
                judged.unit,
                judged.verdict,
                origins.get(given.name, ""),
            )
        )
    known = {given.name for given in procedure.inputs}
    missing += [say("{name} is no input of this procedure", name=name) for name in typed if name not in known]
    if missing:
        return Refusal(say("The run cannot begin."), tuple(missing))
    begun = ev.RunBegun(
        intent.by, intent.at, intent.run, intent.mode, intent.played, procedure.id, procedure.title,
        procedure.revision, procedure.status, procedure.digest, procedure.sources, intent.crew,
        BY_PIN if intent.unknown else NOT_VERIFIED, intent.program, intent.site_people, intent.unknown,
        procedure.equipment,
    )  # fmt: skip
    site = (ev.SiteRead("", intent.at, *intent.facts),) if intent.facts.said else ()
    return (begun, *site, *inputs, *carried_events(intent))


def _crew_missing(procedure: Procedure, crew: dict[str, str]) -> list[str]:
    """Everyone who does a step has a name; others may sign on later."""
    roles = dict(procedure.people)
    doers = {step.by for step in steps_of(procedure)}
    missing = [
        say("who is {label} ({role})?", label=label, role=role)
        for role, label in roles.items()
        if role in doers and not crew.get(role)
    ]
    return missing + [say("{role} is no role of this procedure", role=role) for role in crew if role not in roles]


def pause(state: RunState, intent: want.Pause) -> Decided:
    """The run is interrupted on purpose; the next intention is said."""
    if state.halted:
        return Refusal(say("The run is halted already."))
    return (ev.Paused(intent.by, intent.at, intent.intention.strip()),)


def make_safe(procedure: Procedure, state: RunState, intent: want.MakeSafe) -> Decided:
    """Never refused while the run is open: past every hold, from a pause as well."""
    acts = tuple(act.do for act in safe_acts(procedure, state))
    return (ev.MadeSafe(intent.by, intent.at, intent.words.strip(), acts),)


def do_safe_act(procedure: Procedure, state: RunState, intent: want.DoSafeAct) -> Decided:
    """One act of the list is done; any order."""
    acts = safe_acts(procedure, state)
    if state.halted != "make-safe" or not 0 <= intent.number < len(acts):
        return Refusal(say("There is no such act to do now."))
    if intent.number in state.safe_acts_done:
        return Refusal(say("This act is done already."))
    act = acts[intent.number]
    return (ev.SafeActDone(intent.by, intent.at, intent.number, act.do, named_facts(procedure, act.makes)),)


def skip_safe_act(procedure: Procedure, state: RunState, intent: want.SkipSafeAct) -> Decided:
    """One act of the list is not needed, with a reason; it may still be done afterwards."""
    acts = safe_acts(procedure, state)
    if state.halted != "make-safe" or not 0 <= intent.number < len(acts):
        return Refusal(say("There is no such act now."))
    if intent.number not in state.safe_acts_open:
        return Refusal(say("This act is dealt with already."))
    if not intent.reason.strip():
        return Refusal(say("Say why the act is not needed."))
    act = acts[intent.number].do
    return (ev.SafeActNotNeeded(intent.by, intent.at, intent.number, act, intent.reason.strip()),)


def resume(procedure: Procedure, state: RunState, intent: want.Resume) -> Decided:
    """The run goes on; what may have changed meanwhile is unconfirmed until looked at."""
    after = state.halted or "interruption"
    unconfirmed = tuple(
        (tracked.name, now)
        for tracked in procedure.states
        if not tracked.keeps and (now := value_now(state, procedure, tracked.name)) != "unknown"
    )
    resumed = ev.Resumed(intent.by, intent.at, after, unconfirmed, state.intention if state.halted else "")
    why = say("the run was interrupted after the release")
    up = [flow.current(procedure, state.position, lane) for lane in range(len(state.position.cursors))]
    held = [step.id for step in up if step is not None and state.record(step.id).hold == "released"]
    return (resumed, *(ev.HoldRevoked("", intent.at, step, why) for step in held))


def hand_over(procedure: Procedure, state: RunState, intent: want.HandOver) -> Decided:
    """A role passes on; the one who takes it has read back what is open."""
    holder, label = state.crew.get(intent.role, ""), role_label(procedure, intent.role)
    if not holder or not same_person(holder, intent.by):
        return Refusal(
            say("Only the one who is {person} hands it over.", person=f"{label} ({holder})" if holder else label)
        )
    if not intent.to.strip() or same_person(intent.to, holder):
        return Refusal(say("Say who takes over."))
    if not intent.read_back.strip():
        return Refusal(say("The one who takes over reads back what is open."))
    return (ev.HandedOver(intent.by, intent.at, intent.role, intent.to.strip(), intent.read_back.strip()),)


def sign_on(procedure: Procedure, state: RunState, intent: want.SignOn) -> Decided:
    """A role that nobody has is taken."""
    if intent.role not in dict(procedure.people):
        return Refusal(say("There is no role {role}.", role=intent.role), tuple(role for role, _ in procedure.people))
    holder = state.crew.get(intent.role, "")
    if holder:
        return Refusal(
            say("{role} is {holder}; hand the role over.", role=role_label(procedure, intent.role), holder=holder)
        )
    if not intent.by.strip():
        return Refusal(say("Say who signs on."))
    return (ev.SignedOn(intent.by.strip(), intent.at, intent.role),)


def finish(procedure: Procedure, state: RunState, intent: want.Finish) -> Decided:
    """Refused, with the list of what is missing, while anything is open that must not be."""
    missing = missing_to_finish(procedure, state)
    if missing:
        return Refusal(say("The run is not finished."), missing)
    return (ev.Finished(intent.by, intent.at, len(state.open_exceptions)),)


def missing_to_finish(procedure: Procedure, state: RunState) -> tuple[str, ...]:
    """What keeps the run from being finished, a thing a line; empty where nothing does."""
    missing = []
    if state.halted:
        missing.append(say("the run is halted; resume it"))
    if not flow.ended(procedure, state.position):
        for lane in range(len(state.position.cursors)):
            step = flow.current(procedure, state.position, lane)
            if step is not None:
                missing.append(say("step {number} is open", number=step.number))
    for at, value in flow.missing_at_end(procedure, state.position):
        missing.append(flow.need_words(procedure.states[at], value, state.position.states[at]))
    missing += [
        say("exception {number} is open: {words}", number=e.number, words=e.words)
        for e in state.open_exceptions
        if e.keeps
    ]
    return tuple(missing)


def abandon(procedure: Procedure, state: RunState, intent: want.Abandon) -> Decided:
    """The run ends unfinished, with a reason, once each act of the make-safe list is done or said to be not needed."""
    if not intent.reason.strip():
        return Refusal(say("Say why the run is abandoned."))
    missing = undone_safe_acts(procedure, state)
    if missing:
        return Refusal(say("Before a run is abandoned each act is done or said to be not needed."), missing)
    return (ev.Abandoned(intent.by, intent.at, intent.reason.strip()),)


def undone_safe_acts(procedure: Procedure, state: RunState) -> tuple[str, ...]:
    """Acts of the make-safe list that nobody has dealt with; all of them where nobody has stopped."""
    if state.halted == "make-safe":
        return tuple(state.safe_acts[number] for number in state.safe_acts_open)
    return tuple(act.do for act in safe_acts(procedure, state))
