"""State and intent to events, or a refusal with its reason. The one door through which a run changes.

Pure: the same procedure, state and intent always lead to the same events. Order is asked of `flow`, values of the
procedure's own arithmetic; this file only sends each intent to its theme and adds what follows by itself.
"""

from dataclasses import replace
from typing import NamedTuple, assert_never

from runner.engine import events as ev
from runner.engine import intents as want
from runner.engine.decisions import (
    answer,
    carried,
    identity,
    lifting,
    paper,
    pieces,
    review,
    run,
    step,
    ticks,
    training,
    trouble,
)
from runner.engine.decisions.corrected import come_too_late
from runner.engine.decisions.settle import broken, settled
from runner.engine.evolve import evolve
from runner.engine.intents import Intent, Refusal
from runner.engine.state import RunState
from runner.procedure.model import Procedure
from runner.procedure.site_facts import with_pieces
from runner.say.text import say

AnyIntent = want.AnyIntent
"""Every kind of intent."""


class Taken(NamedTuple):
    """What an intent led to."""

    events: tuple[ev.Event, ...]
    state: RunState
    """After these events."""


def decide(procedure: Procedure, state: RunState, intent: AnyIntent) -> tuple[ev.Event, ...] | Refusal:
    """The events that an intent leads to, or why it is refused; a refusal leaves no trace."""
    taken = take(procedure, state, intent)
    return taken if isinstance(taken, Refusal) else taken.events


def take(procedure: Procedure, state: RunState, intent: AnyIntent) -> Taken | Refusal:
    """The same, with the state after these events, which was made to know what follows by itself."""
    refused = _closed(state, intent)
    if refused is not None:
        return refused
    site = intent.facts if isinstance(intent, want.BeginRun) else state.site
    if site.pieces:
        procedure = with_pieces(procedure, site.pieces)
    taken = _decided(procedure, state, intent)
    if isinstance(taken, Refusal):
        return taken
    vouched = identity.vouched(state, intent)
    if isinstance(vouched, Refusal):
        return vouched
    late = paper.entered_late(state, intent)
    if isinstance(late, Refusal):
        return late
    if vouched or late or intent.told:
        told = tuple(ev.QualificationMissing("", intent.at, *row) for row in intent.told)
        taken = (*vouched, *late, *taken, *told)
    events, after = settled(procedure, state, _numbered(state, taken), intent.at)
    if isinstance(intent, want.CorrectAnswer):
        too_late = come_too_late(procedure, state, events, intent)
        for event in too_late:
            after = evolve(procedure, after, event)
        return Taken((*events, *too_late), after)
    if isinstance(intent, want.BeginRun):
        outside = broken(events)
        if outside:
            return Refusal(say("This job is outside what the procedure allows."), outside)
        unlifted = lifting.at_the_beginning(procedure, after, intent.at.utc[:10])
        if unlifted:
            return Refusal(say("The run would stop at a lift."), unlifted)
    return Taken(events, after)


def _closed(state: RunState, intent: Intent) -> Refusal | None:
    if state.outcome and not isinstance(intent, review.AFTER_END):
        return Refusal(say("The run is {outcome}; nothing is added to it.", outcome=say(state.outcome)))
    if not state.mode and not isinstance(intent, want.BeginRun):
        return Refusal(say("The run has not begun."))
    if not intent.by.strip():
        return Refusal(say("Say who you are."))
    return None


def _numbered(state: RunState, taken: tuple[ev.Event, ...]) -> tuple[ev.Event, ...]:
    """Exceptions noted together get numbers one after the other."""
    if not any(isinstance(event, ev.ExceptionNoted) for event in taken):
        return taken
    number = len(state.exceptions)
    numbered: list[ev.Event] = []
    for event in taken:
        if isinstance(event, ev.ExceptionNoted):
            number += 1
            event = replace(event, number=number)
        numbered.append(event)
    return tuple(numbered)


def _decided(procedure: Procedure, state: RunState, intent: AnyIntent) -> tuple[ev.Event, ...] | Refusal:
    match intent:
        case want.BeginRun():
            return run.begin_run(procedure, state, intent)
        case want.ReadCautions():
            return step.read_cautions(procedure, state, intent)
        case want.NameReleaser():
            return ticks.name_releaser(procedure, state, intent)
        case want.TickConfirmation():
            return ticks.tick_confirmation(procedure, state, intent)
        case want.TickRoller():
            return ticks.tick_roller(procedure, state, intent)
        case want.NameSecond():
            return answer.name_second(procedure, state, intent)
        case want.ReleaseHold():
            return step.release_hold(procedure, state, intent)
        case want.AcceptPieces():
            return pieces.accept_pieces(procedure, state, intent)
        case want.BeginStep():
            return step.begin_step(procedure, state, intent)
        case want.GiveAnswer():
            return answer.give_answer(procedure, state, intent)
        case want.GiveSecondLook():
            return answer.second_look(procedure, state, intent)
        case want.EndStep():
            return step.end_step(procedure, state, intent)
        case want.MeetTrouble():
            return trouble.meet_trouble(procedure, state, intent)
        case want.LeaveOut():
            return step.leave_out(procedure, state, intent)
        case want.GoBack():
            return trouble.go_back(procedure, state, intent)
        case want.NoteException():
            return trouble.note_exception(procedure, state, intent)
        case want.CloseException():
            return trouble.close_exception(state, intent)
        case want.ReadExceptions():
            return carried.read_exceptions(state, intent)
        case want.AcceptException():
            return carried.accept_exception(procedure, state, intent)
        case want.LookAt():
            return trouble.look_at(procedure, state, intent)
        case want.Pause():
            return run.pause(state, intent)
        case want.MakeSafe():
            return run.make_safe(procedure, state, intent)
        case want.DoSafeAct():
            return run.do_safe_act(procedure, state, intent)
        case want.SkipSafeAct():
            return run.skip_safe_act(procedure, state, intent)
        case want.Resume():
            return run.resume(procedure, state, intent)
        case want.HandOver():
            return run.hand_over(procedure, state, intent)
        case want.SignOn():
            return run.sign_on(procedure, state, intent)
        case want.CorrectAnswer():
            return answer.correct_answer(procedure, state, intent)
        case want.NoteTraining():
            return training.note_training(state, intent)
        case want.Finish():
            return run.finish(procedure, state, intent)
        case want.Abandon():
            return run.abandon(procedure, state, intent)
        case want.DisposeExceptions():
            return review.dispose(procedure, state, intent)
        case want.SignRun():
            return review.sign(procedure, state, intent)
        case _:
            assert_never(intent)
