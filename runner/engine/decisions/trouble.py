"""What leaves the plain way: troubles, going back, answers out of limits, exceptions and looks at the press."""

from runner.engine import events as ev
from runner.engine import flow
from runner.engine import intents as want
from runner.engine.decisions.check import not_the_doer, same_person, step_up, unmet_words
from runner.engine.intents import Intent, Refusal
from runner.engine.lookup import changed_by, fact_of, index, step_named, trouble_named
from runner.engine.shown import fill_in, safe_acts
from runner.engine.state import EXCEPTION_KINDS, SEVERITIES, UNTOUCHED, KnownValue, RunState
from runner.procedure.model import UNKNOWN, Procedure, Step, Trouble
from runner.say.text import say

Decided = tuple[ev.Event, ...] | Refusal


def meet_trouble(procedure: Procedure, state: RunState, intent: want.MeetTrouble) -> Decided:
    """One of the step's troubles has come about: the attempt ends."""
    up = step_up(procedure, state, intent.step)
    if isinstance(up, Refusal):
        return up
    trouble = trouble_named(up.step, intent.trouble)
    if trouble is None:
        return Refusal(
            say("Step {number} has no such trouble: {trouble}.", number=up.step.number, trouble=intent.trouble)
        )
    if not up.begun:
        return Refusal(say("Step {number} has not begun. Note an exception instead.", number=up.step.number))
    refused = not_the_doer(procedure, state, up.step, intent.by)
    if refused is not None:
        return refused
    return _troubled(procedure, state, intent, up.step, trouble, intent.words, lately_of(state, up.step))


def ended_in_trouble(
    procedure: Procedure,
    state: RunState,
    intent: Intent,
    step: Step,
    otherwise: str,
    words: str,
    given: tuple[KnownValue, ...] = (),
) -> tuple[ev.Event, ...]:
    """An answer out of limits for the second time, or a repeat that did not get there: the author's `else`,
    or an exception where there is none (the step stays in progress then). `given` is the answer that led here."""
    trouble = trouble_named(step, otherwise)
    if trouble is None:
        return (out_of_limits(state, intent, step, words),)
    lately = lately_of(state, step) | {known.name: known for known in given}
    return _troubled(procedure, state, intent, step, trouble, words, lately, "value")


def lately_of(state: RunState, step: Step) -> dict[str, KnownValue]:
    """The answers of the attempt that is on, out of limits or not, for the text of its troubles."""
    units = {ask.name: ask.unit.text for ask in step.asks if ask.unit is not None}
    answers = state.record(step.id).answers
    return {
        name: KnownValue(name, given.value, given.shown, step.id, units.get(name, ""))
        for name, given in answers.items()
    }


def out_of_limits(state: RunState, intent: Intent, step: Step, words: str) -> ev.ExceptionNoted:
    """The exception for a value that is not as it should be."""
    number = len(state.exceptions) + 1
    return ev.ExceptionNoted(intent.by, intent.at, number, "value", "minor", words, step.id, "", blocking=False)


def _troubled(
    procedure: Procedure,
    state: RunState,
    intent: Intent,
    step: Step,
    trouble: Trouble,
    words: str,
    lately: dict[str, KnownValue],
    kind: str = "equipment",
) -> tuple[ev.Event, ...]:
    do, _ = fill_in(state, trouble.do, lately)
    name = trouble.id or trouble.sign
    said = f"{trouble.sign} {words}".strip()
    met = ev.TroubleMet(
        intent.by, intent.at, step.id, step.number, name, trouble.sign, do, trouble.way_on, trouble.back_to
    )
    number, severity = len(state.exceptions) + 1, "serious" if trouble.blocking else "minor"
    noted = ev.ExceptionNoted(intent.by, intent.at, number, kind, severity, said, step.id, "", trouble.blocking)
    match trouble.way_on:
        case "back_to":
            return met, noted, _back(procedure, state, intent, trouble.back_to, trouble.sign)
        case "stop":
            acts = tuple(act.do for act in safe_acts(procedure, state))
            return met, noted, ev.MadeSafe(intent.by, intent.at, trouble.sign, acts)
        case _:
            return met, noted


def _back(procedure: Procedure, state: RunState, intent: Intent, to: str, reason: str) -> ev.WentBack:
    """Steps of the list from `to` that had been touched, the values that came from them, and what rests on those."""
    at = flow.find(procedure, state.position, to)
    lane, first = at if at is not None else (0, 0)
    steps = flow.list_of(procedure, state.position, lane).steps
    touched = steps[first : state.position.cursors[lane].step + 1]
    again = tuple(s.id for s in touched if state.record(s.id) != UNTOUCHED)
    stale: dict[str, None] = {}
    for name, known in state.values.items():
        if known.source in again:
            stale[name] = None
            stale.update(dict.fromkeys(n for n in changed_by(procedure, name) if n in state.values))
    return ev.WentBack(intent.by, intent.at, to, reason, again, tuple(stale))


def go_back(procedure: Procedure, state: RunState, intent: want.GoBack) -> Decided:
    """To an earlier step of the same list whose needs are met now, with a reason."""
    step = step_named(procedure, intent.step)
    at = flow.find(procedure, state.position, intent.step)
    if step is None or at is None:
        return Refusal(say("Going back is possible to a step of the phase that is on."))
    if state.halted:
        return Refusal(say("The run is halted. Resume it first."))
    lane, place = at
    cursor = state.position.cursors[lane]
    if place > cursor.step or (place == cursor.step and not cursor.begun):
        return Refusal(say("Step {number} is not an earlier one.", number=step.number))
    refused = not_the_doer(procedure, state, step, intent.by)
    holders = {state.crew.get(s.by, "") for s in flow.list_of(procedure, state.position, lane).steps}
    if refused is not None and not any(same_person(intent.by, name) for name in holders if name):
        return refused
    if not intent.reason.strip():
        return Refusal(say("Say why you go back."))
    unmet = unmet_words(procedure, state, step)
    if unmet:
        return Refusal(say("Going back to step {number} is not possible now.", number=step.number), unmet)
    return (_back(procedure, state, intent, intent.step, intent.reason.strip()),)


def note_exception(procedure: Procedure, state: RunState, intent: want.NoteException) -> Decided:
    """Something is not as expected; taken at any time while the run is open."""
    if intent.kind not in EXCEPTION_KINDS or intent.severity not in SEVERITIES:
        return Refusal(
            say(
                "An exception is one of {kinds}, and one of {severities}.",
                kinds=", ".join(EXCEPTION_KINDS),
                severities=", ".join(SEVERITIES),
            )
        )
    if not intent.words.strip():
        return Refusal(say("Say in a few words what is not as expected."))
    if intent.step and step_named(procedure, intent.step) is None:
        return Refusal(say("There is no step {step}.", step=intent.step))
    number = len(state.exceptions) + 1
    return (
        ev.ExceptionNoted(
            intent.by, intent.at, number, intent.kind, intent.severity, intent.words.strip(), intent.step,
            intent.owner, blocking=False,
        ),
    )  # fmt: skip


def close_exception(state: RunState, intent: want.CloseException) -> Decided:
    """An open exception is dealt with, and how."""
    if intent.number not in {noted.number for noted in state.open_exceptions}:
        return Refusal(say("There is no open exception {number}.", number=intent.number))
    if not intent.words.strip():
        return Refusal(say("Say how it was dealt with."))
    return (ev.ExceptionClosed(intent.by, intent.at, intent.number, intent.words.strip()),)


def look_at(procedure: Procedure, state: RunState, intent: want.LookAt) -> Decided:
    """A person has looked and says what a state is; it is an exception when it differs."""
    fact = fact_of(procedure, intent.state, intent.value)
    if fact is None:
        at = index(procedure).states.get(intent.state)
        known = procedure.states[at].of if at is not None else tuple(index(procedure).states)
        return Refusal(say("There is no {state}: {value}.", state=intent.state, value=intent.value), known)
    at, value = fact
    tracked = procedure.states[at]
    for lane in flow.undone_by(procedure, state.position, (fact,)):
        busy = flow.current(procedure, state.position, lane)
        if busy is not None:
            return Refusal(
                say(
                    "Step {number} is in progress and changes {label}. Look when it has ended.",
                    number=busy.number,
                    label=tracked.label,
                )
            )
    now = state.position.states[at]
    was = tracked.of[now] if now != UNKNOWN else state.unconfirmed.get(tracked.name, "unknown")
    seen = ev.StateSeen(intent.by, intent.at, tracked.name, tracked.of[value], was)
    if was in ("unknown", tracked.of[value]):
        return (seen,)
    words = say("{label} was taken for {was} and is {value}", label=tracked.label, was=was, value=tracked.of[value])
    number = len(state.exceptions) + 1
    return seen, ev.ExceptionNoted(intent.by, intent.at, number, "equipment", "minor", words, "", "", blocking=False)
