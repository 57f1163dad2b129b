"""What was done on paper and is entered later: when it was done, judged before it counts.

The order of the steps holds as ever; only the time is another. A time on paper is never in the future, never before
the run began, and never before what the same person entered from paper before it. It is written in UTC, as the screen
shows the time, or with its offset.
"""

from datetime import UTC, datetime, timedelta

from runner.engine import events as ev
from runner.engine import intents as want
from runner.engine.decisions.identity import act_word
from runner.engine.intents import AnyIntent, Intent, Refusal
from runner.engine.state import RunState, name_key
from runner.say.text import mark, say

FROM_PAPER = (
    want.ReadCautions | want.TickConfirmation | want.TickRoller | want.ReleaseHold | want.AcceptPieces
    | want.BeginStep | want.GiveAnswer | want.GiveSecondLook | want.EndStep | want.MeetTrouble | want.LeaveOut
    | want.GoBack | want.NoteException | want.CloseException | want.LookAt | want.DoSafeAct | want.SkipSafeAct
    | want.HandOver | want.SignOn
)  # fmt: skip
"""What a paper form has room for."""

HOW = mark("Write 14:05 (UTC), 14:05:30, 14:05+01:00, or 2026-11-25 14:05.")
MINUTE_S = 60.0


def entered_late(state: RunState, intent: AnyIntent) -> tuple[ev.Event, ...] | Refusal:
    """The event that says when it was done on paper; none where it is entered as it is done."""
    if not intent.paper.strip():
        return ()
    if not isinstance(intent, FROM_PAPER):
        return Refusal(say("This is not entered from paper: it happens now."))
    done = time_on_paper(intent.paper, intent.at.utc)
    if isinstance(done, Refusal):
        return done
    if done > intent.at.utc:
        return Refusal(
            say("{typed} is not over yet: it is {now} UTC.", typed=intent.paper.strip(), now=intent.at.utc[11:16])
        )
    began = state.began.utc if state.began is not None else ""
    if done[:16] < began[:16]:
        return Refusal(
            say(
                "The run began at {began}; nothing of it was done at {done}.",
                began=words(began),
                done=words(done),
            )
        )
    before = state.papers.get(name_key(intent.by), "")
    if done < before:
        return Refusal(
            say(
                "What {by} entered before was done at {before}; this came after it.", by=intent.by, before=words(before)
            )
        )
    return (
        ev.EnteredLate(
            intent.by.strip(), intent.at, act_word(intent), getattr(intent, "step", ""), done, intent.paper.strip()
        ),
    )


def time_on_paper(typed: str, now: str) -> str | Refusal:
    """A time as typed, in UTC to the millisecond; without a day it is the last one that is over by now."""
    text = typed.strip().replace("T", " ").removesuffix("Z").strip()
    day, _, clock = text.rpartition(" ")
    try:
        at = datetime.fromisoformat(now)
        parsed = datetime.fromisoformat(f"{day or at.date().isoformat()}T{clock}")
    except ValueError:
        return Refusal(say("{typed} is no time. {how}", typed=typed.strip(), how=say(HOW)))
    if len(clock) < 4 or ":" not in clock:
        return Refusal(say("{typed} is no time. {how}", typed=typed.strip(), how=say(HOW)))
    done = parsed.replace(tzinfo=UTC) if parsed.tzinfo is None else parsed.astimezone(UTC)
    if not day and done > at:
        done -= timedelta(days=1)
    return done.strftime("%Y-%m-%dT%H:%M:%S.000Z")


def waited_on_paper(began: tuple[str, str], intent: Intent) -> float | None:
    """Seconds that a waiting time lasted by the paper, at least; None where one of its ends is not from paper.

    A time without seconds may be anywhere in its minute, so a minute is taken off: a wait is never made shorter.
    """
    if not began[0] or not intent.paper.strip():
        return None
    ended = time_on_paper(intent.paper, intent.at.utc)
    if isinstance(ended, Refusal):
        return None
    seconds = (datetime.fromisoformat(ended) - datetime.fromisoformat(began[0])).total_seconds()
    exact = has_seconds(began[1]) and has_seconds(intent.paper)
    return max(0.0, seconds if exact else seconds - MINUTE_S)


def has_seconds(typed: str) -> bool:
    """Whether a time was written to the second."""
    clock = typed.strip().replace("T", " ").rpartition(" ")[2]
    return clock.partition("+")[0].partition("-")[0].count(":") >= 2


def words(utc: str) -> str:
    """A moment as people read it."""
    return f"{utc[:10]} {utc[11:19]} UTC"
