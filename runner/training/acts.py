"""Acts of an answers file as the intents that they stand for, over the run as it is then."""

from runner.engine import intents as want
from runner.engine.decide import AnyIntent
from runner.engine.held import releaser_of
from runner.engine.shown import safe_acts
from runner.procedure.answers import Act
from runner.procedure.model import Step
from runner.training.door import Explained, Played

SHARES = {"missed": 0.0, "part": 0.5, "whole": 1.0}
"""How much of an answer was said, as the coach judges it."""


def intents_of(act: Act, run: Played, step: Step) -> tuple[AnyIntent, ...]:
    """The intents of one act at a step; the one who does the step acts, unless the act names another."""
    crew = run.state.crew
    doer = crew.get(step.by, "") or next(iter(crew.values()), "nobody")
    match act.act:
        case "note":
            kind, severity = act.given("kind", "other"), act.given("severity", "note")
            return (want.NoteException(doer, step.id, kind, severity, act.words),)
        case "pause":
            return (want.Pause(doer, act.words),)
        case "resume":
            return _resumed(run, doer)
        case "make_safe":
            return (want.MakeSafe(doer, act.words),)
        case "look":
            return tuple(want.LookAt(doer, state, value) for state, value in act.beside)
        case "go_back":
            return (want.GoBack(doer, act.words, act.given("reason")),)
        case "abandon":
            return *_made_safe(run, doer), want.Abandon(doer, act.words)
        case "close":
            return _closed(act, run, doer)
        case "correct":
            source = run.state.values[act.words].source if act.words in run.state.values else step.id
            return (want.CorrectAnswer(doer, source, act.words, act.given("typed"), act.given("reason")),)
        case "hand_over":
            holder = crew.get(act.words, "") or doer
            return (want.HandOver(holder, act.words, act.given("to"), act.given("read_back")),)
        case "accept":
            role = releaser_of(run.procedure, act.words)
            return (want.AcceptPieces(crew.get(role, "") or role, step.id, act.words, act.given("reason")),)
        case "explain":
            return _explained(act, run)
        case _:
            return _released(act, run, step)


def _resumed(run: Played, doer: str) -> tuple[AnyIntent, ...]:
    """What is left of the make-safe list is done before the run goes on."""
    left = [number for number in range(len(run.state.safe_acts)) if number not in run.state.safe_acts_done]
    return *(want.DoSafeAct(doer, number) for number in left), want.Resume(doer)


def _explained(act: Act, run: Played) -> tuple[AnyIntent, ...]:
    """The coach asks and judges; a run without a scenario has nobody who asks."""
    asks: Explained | None = getattr(run, "practice", None)
    judged = asks.explained(act.words, SHARES[act.given("judged")], act.given("words")) if asks is not None else None
    return (judged,) if judged is not None else ()


def _made_safe(run: Played, doer: str) -> tuple[AnyIntent, ...]:
    """Before a run is abandoned the acts of the make-safe list are done, in a played run as well."""
    if run.state.halted == "make-safe":
        return tuple(want.DoSafeAct(doer, number) for number in run.state.safe_acts_open)
    acts = range(len(safe_acts(run.procedure, run.state)))
    stop = want.MakeSafe(doer, "before the run is abandoned")
    return (stop, *(want.DoSafeAct(doer, number) for number in acts)) if acts else ()


def _closed(act: Act, run: Played, doer: str) -> tuple[AnyIntent, ...]:
    words = act.given("words", "dealt with")
    if act.words == "all":
        return tuple(want.CloseException(doer, noted.number, words) for noted in run.state.open_exceptions)
    number = int(act.words) if act.words.isdecimal() and len(act.words) < 10 else 0
    return (want.CloseException(doer, number, words),)


def _released(act: Act, run: Played, step: Step) -> tuple[AnyIntent, ...]:
    role = step.hold.release if step.hold is not None else ""
    by = act.given("by") or run.state.crew.get(role, "") or role
    ticked = act.confirm if act.confirm is not None else (step.hold.confirm if step.hold is not None else ())
    intents: tuple[AnyIntent, ...] = (want.ReleaseHold(by, step.id, ticked),)
    if step.cautions and not run.state.record(step.id).cautions_read:
        return (want.ReadCautions(run.state.crew.get(step.by, "") or step.by, step.id), *intents)
    return intents
