"""Whose word an act takes, and how it was established that they are that person.

Without a site file names are as typed. With one, each person that it knows gives a PIN: at the first act after the
beginning or an interruption, and every time an act speaks for a second person's eyes. The PIN is checked outside; the
intent names those whose PIN was right. Stopping, making safe, pausing, noting and abandoning wait for nobody's PIN.
"""

from typing import assert_never

from runner.engine import events as ev
from runner.engine import intents as want
from runner.engine.decisions.check import same_person
from runner.engine.intents import AnyIntent, Refusal
from runner.engine.moment import Moment, seconds_between
from runner.engine.state import NOT_VERIFIED, VERIFIED, RunState, WrongPins, name_key
from runner.say.text import say

FREE_TRIES = 2
"""Slips of the finger cost no waiting."""
FIRST_WAIT_S, LONGEST_WAIT_S = 5.0, 300.0
"""Doubled with every further wrong one. Common practice, no source."""


def vouched(state: RunState, intent: AnyIntent) -> tuple[ev.Event, ...] | Refusal:
    """How it is known who they are, of all whose word the act takes; or whose PIN is missing."""
    if not state.unknown:
        return ()
    events: list[ev.Event] = []
    # after the end nothing is urgent, and others stand there than those who worked: everybody gives their PIN
    said = ((intent.by, True),) if state.outcome else speakers(intent)
    for name, anew in said:
        key = name_key(name)
        known = state.identities.get(key, "") if key in state.recognised else ""
        if any(same_person(name, other) for other in intent.verified):
            events.append(_given(name, intent, VERIFIED))
        elif any(same_person(name, other) for other in state.site_people):
            if anew or known != VERIFIED:
                return Refusal(say("{name} gives their PIN.", name=name), pin_of=name)
        elif state.unknown == "refused":
            return Refusal(stranger(name))
        elif not known:
            events.append(_given(name, intent, NOT_VERIFIED))
    return tuple(events)


def _given(name: str, intent: AnyIntent, how: str) -> ev.Event:
    return ev.IdentityGiven(name.strip(), intent.at, act_word(intent), getattr(intent, "step", ""), how)


def stranger(name: str) -> str:
    """The site file does not know a name and takes no others."""
    return say("{name} is not in the site file, which takes no other names.", name=name)


def strangers(intent: want.BeginRun) -> tuple[str, ...]:
    """What is missing where a crew has names that the site does not take, a line each."""
    if intent.unknown != "refused":
        return ()
    names = dict.fromkeys(name for _, name in intent.crew if name.strip())
    return tuple(stranger(n) for n in names if not any(same_person(n, other) for other in intent.site_people))


def speakers(intent: AnyIntent) -> tuple[tuple[str, bool], ...]:
    """The persons whose word an act takes, and of each whether a PIN given before does not do: where another person
    speaks than the one who works."""
    match intent:
        case (
            want.BeginRun() | want.MakeSafe() | want.DoSafeAct() | want.SkipSafeAct() | want.Pause()
            | want.NoteException() | want.Abandon() | want.NoteTraining()
        ):  # fmt: skip
            return ()
        case want.NameReleaser() | want.NameSecond() | want.TickConfirmation():
            return ()  # nothing counts of it until the release or the look, which gives the PIN
        case want.HandOver():
            return ((intent.to, True),)
        case want.LeaveOut():
            return ((intent.by, False), (intent.authority, True)) if intent.authority.strip() else ((intent.by, False),)
        case (
            want.ReleaseHold()
            | want.AcceptPieces()
            | want.AcceptException()
            | want.GiveSecondLook()
            | want.SignOn()
            | want.Resume()
            | want.DisposeExceptions()
            | want.SignRun()
        ):
            return ((intent.by, True),)
        case (
            want.ReadCautions() | want.BeginStep() | want.GiveAnswer() | want.EndStep() | want.MeetTrouble()
            | want.GoBack() | want.TickRoller() | want.CloseException() | want.ReadExceptions() | want.LookAt() | want.CorrectAnswer()
            | want.Finish()
        ):  # fmt: skip
            return ((intent.by, False),)
        case _:
            assert_never(intent)


def act_word(intent: AnyIntent) -> str:
    """An act as one word, as the record keeps it: release-hold."""
    name = type(intent).__name__
    return "".join(f"-{c.lower()}" if c.isupper() and at else c.lower() for at, c in enumerate(name))


def wait_after(tries: int) -> float:
    """Seconds without a further PIN after so many wrong ones in a row."""
    if tries <= FREE_TRIES:
        return 0.0
    return min(LONGEST_WAIT_S, FIRST_WAIT_S * 2.0 ** min(tries - FREE_TRIES - 1, 20))


def wait_left(wrong: WrongPins | None, opened: Moment, now: Moment) -> float:
    """Seconds to go before a PIN is taken again. After another boot the whole wait counts from when the run was opened."""
    if wrong is None:
        return 0.0
    passed = seconds_between(wrong.at, now)
    if passed is None:
        passed = seconds_between(opened, now)
    return wrong.wait_s if passed is None else max(0.0, wrong.wait_s - passed)


def crew_words(state: RunState) -> str:
    """How the crew is identified, in a line; of each the same, or who is not verified."""
    if not state.unknown:
        return say(state.identity)
    names = dict.fromkeys(name for name in state.crew.values() if name.strip())
    open_ = [name for name in names if state.identities.get(name_key(name)) != VERIFIED]
    if open_:
        return f"{say(NOT_VERIFIED)}: {', '.join(open_)}"
    return say(NOT_VERIFIED if NOT_VERIFIED in state.identities.values() else VERIFIED)
