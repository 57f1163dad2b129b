"""A run played from a file of answers, with no terminal: the same engine, the same journal, and time that is stepped.

The record of such a run says that it was played. Nothing is invented: a reading, choice, scan or feed without an
answer ends the playing, and so does whatever the engine refuses, with the reason.
"""

from collections import Counter, deque

from runner.engine import events as ev
from runner.engine import flow
from runner.engine import intents as want
from runner.engine.decide import AnyIntent
from runner.engine.intents import Refusal
from runner.engine.moment import seconds_between
from runner.engine.state import RunState
from runner.procedure.answers import Act, Answers, Entry
from runner.procedure.model import Step
from runner.training.acts import intents_of
from runner.training.door import Played, Shows, Stepped, Until

ACT_SECONDS = 5.0
"""Played time that goes by with each act of a person."""

MOST_INTENTS = 100_000
"""Of one run; answers that send it in a circle end here."""


class Player:
    """Plays one run to its end, or to where it cannot go on; `stopped` says why then."""

    def __init__(
        self,
        run: Played,
        clock: Stepped,
        answers: Answers,
        shows: Shows | None = None,
        until: Until | None = None,
        act_s: float = ACT_SECONDS,
    ) -> None:
        self.run = run
        self.shows = shows
        """What the equipment shows where the answers do not say; None: nothing is invented."""
        self.until = until
        """Why the playing ends here, before each act; empty: it goes on."""
        self.act_s = act_s
        self.clock = clock
        self.answers = answers
        self.entries: dict[str, list[Entry]] = {}
        for entry in answers.entries:
            self.entries.setdefault(entry.step, []).append(entry)
        self.left_out: Counter[str] = Counter()
        self.typed: Counter[tuple[str, int, str]] = Counter()
        """How many of the listed texts of an ask were typed, by step, attempt and ask."""
        self.prepared: set[tuple[str, int]] = set()
        """Attempts whose acts before were queued."""
        self.waiting: deque[tuple[Act, Step]] = deque()
        """Acts that come next, each with the step that it stands at."""
        self.stopped = ""

    @property
    def state(self) -> RunState:
        """Of the run, now."""
        return self.run.state

    def play(self) -> str:
        """The outcome: finished, abandoned or unfinished."""
        for _ in range(MOST_INTENTS):
            if self.until is not None and not self.stopped:
                self.stopped = self.until()
            if self.state.outcome or self.stopped:
                break
            self.one()
        else:
            self.stopped = f"the answers go on for more than {MOST_INTENTS} acts"
        return self.state.outcome or "unfinished"

    def one(self) -> None:
        """One intent more, or the reason why there is none."""
        if self.waiting:
            act, step = self.waiting.popleft()
            for intent in intents_of(act, self.run, step):
                self.must(intent)
        elif self.state.halted:
            self.stopped = "the run is halted, and the answers do not resume it"
        elif flow.ended(self.run.procedure, self.state.position):
            self.must(want.Finish(self.anyone()))
        else:
            self.go_on()

    def go_on(self) -> None:
        """The first lane in which something can be done."""
        refused = ""
        for lane, cursor in enumerate(self.state.position.cursors):
            step = flow.current(self.run.procedure, self.state.position, lane)
            if step is None:
                continue
            intent = self.next_for(step, cursor.begun)
            if intent is None:
                return  # the reason is in `stopped`, or acts were queued
            decided = self.submit(intent, step)
            if not isinstance(decided, Refusal):
                return
            refused = refused or said(step, decided)
            if not isinstance(intent, want.BeginStep):
                break
        self.stopped = refused

    def next_for(self, step: Step, begun: bool) -> AnyIntent | None:
        """What comes next at a step that is up; None where acts were queued, or where the answers say nothing."""
        attempt = self.attempt(step, begun)
        listed = self.entries.get(step.id, [])
        entry = listed[attempt] if attempt < len(listed) else None
        if entry is None and self.answers.unlisted == "refuse":
            self.stopped = f"step {step.number} ({step.id}) has no entry for attempt {attempt + 1}"
            return None
        if entry is not None and entry.before and (step.id, attempt) not in self.prepared:
            self.prepared.add((step.id, attempt))
            self.waiting.extend((act, step) for act in entry.before)
            return None
        if begun:
            return self.within(step, entry, attempt)
        return self.towards(step, entry)

    def towards(self, step: Step, entry: Entry | None) -> AnyIntent:
        """Up to the beginning of a step."""
        doer, record = self.name(step.by), self.state.record(step.id)
        if entry is not None and entry.leave_out:
            authority = "" if step.optional == "reason" else self.name(step.optional)
            return want.LeaveOut(doer, step.id, entry.leave_out, authority)
        if step.cautions and not record.cautions_read:
            return want.ReadCautions(doer, step.id)
        if step.hold is not None and record.hold != "released" and not self.blocked(step):
            return want.ReleaseHold(self.name(step.hold.release), step.id, step.hold.confirm)
        return want.BeginStep(doer, step.id)

    def blocked(self, step: Step) -> bool:
        """True where the other list must go on first: nobody releases a hold for a step that may not begin."""
        at = flow.find(self.run.procedure, self.state.position, step.id)
        return at is not None and bool(flow.blocks(self.run.procedure, self.state.position, at[0]))

    def within(self, step: Step, entry: Entry | None, attempt: int) -> AnyIntent | None:
        """From the beginning of a step to its end."""
        record, doer = self.state.record(step.id), self.name(step.by)
        given = dict(entry.answers) if entry is not None else {}
        for ask in step.asks:
            known = record.answers.get(ask.name)
            if ask.kind == "wait" or (known is not None and known.verdict == "in"):
                continue
            texts = given.get(ask.name, ("all",) if ask.kind == "thread" else ())
            at = self.typed[step.id, attempt, ask.name]
            if ask.name not in given and self.shows is not None and not (entry is not None and entry.trouble):
                texts = (*texts[:at], *[self.shows(step, ask)] * (at + 1 - len(texts[:at])))
            if at >= len(texts):
                if entry is not None and entry.trouble:
                    break  # the trouble comes before this is answered
                self.stopped = f"step {step.number} ({step.id}) asks for {ask.name}, and the answers do not say"
                return None
            self.typed[step.id, attempt, ask.name] += 1
            return want.GiveAnswer(doer, step.id, ask.name, texts[at])
        if entry is not None and entry.trouble:
            return want.MeetTrouble(doer, step.id, entry.trouble)
        if step.second is not None and not record.looked_twice:
            return self.second_look(step, step.second.by, entry, attempt)
        if not record.wait_over and record.wait_from is not None:
            waited = seconds_between(record.wait_from, self.clock.now()) or 0.0
            longest = max((ask.at_least_s for ask in step.asks if ask.kind == "wait"), default=0.0)
            self.clock.advance(max(0.0, longest - waited - self.act_s))
        return want.EndStep(doer, step.id)

    def second_look(self, step: Step, role: str, entry: Entry | None, attempt: int) -> AnyIntent:
        """The second person types the next of the listed texts, the last one again, or the same as the first."""
        record, looks = self.state.record(step.id), self.typed[step.id, attempt, ""]
        self.typed[step.id, attempt, ""] += 1
        listed = {name: texts[min(looks, len(texts) - 1)] for name, texts in entry.second} if entry is not None else {}
        same = {ask.name: record.answers[ask.name].typed for ask in step.asks if ask.kind != "wait"}
        return want.GiveSecondLook(self.name(role), step.id, tuple({**same, **listed}.items()))

    def submit(self, intent: AnyIntent, step: Step | None = None) -> tuple[ev.Event, ...] | Refusal:
        """An intent, after the time that a person's act takes."""
        attempt = self.attempt(step, begun=self.is_begun(step)) if step is not None else 0
        self.clock.advance(self.act_s)
        decided = self.run.submit(intent)
        if step is not None and not isinstance(decided, Refusal):
            listed = self.entries.get(step.id, [])
            ended = any(
                isinstance(event, ev.StepDone | ev.TroubleMet | ev.StepLeftOut) and event.step == step.id
                for event in decided
            )
            self.left_out.update(event.step for event in decided if isinstance(event, ev.StepLeftOut))
            if ended and attempt < len(listed):
                self.waiting.extend((act, step) for act in listed[attempt].after)
        return decided

    def must(self, intent: AnyIntent) -> None:
        """An act whose refusal ends the playing."""
        decided = self.submit(intent)
        if isinstance(decided, Refusal):
            self.stopped = refusal_words(decided)

    def attempt(self, step: Step, begun: bool) -> int:
        """Which entry of a step serves now, counted from 0."""
        return self.state.record(step.id).attempt - (1 if begun else 0) + self.left_out[step.id]

    def is_begun(self, step: Step) -> bool:
        """True while the step is in progress."""
        at = flow.find(self.run.procedure, self.state.position, step.id)
        return at is not None and self.state.position.cursors[at[0]] == (at[1], True)

    def name(self, role: str) -> str:
        """Who has a role; the role itself where nobody has, so that the engine's refusal names it."""
        return self.state.crew.get(role, "") or role

    def anyone(self) -> str:
        """A name for acts that anybody may do."""
        return next(iter(self.state.crew.values()), "nobody")


def said(step: Step, refusal: Refusal) -> str:
    """A refusal with its step."""
    return f"step {step.number} ({step.id}): " + refusal_words(refusal)


def refusal_words(refusal: Refusal) -> str:
    """A refusal with what is missing, in one line."""
    if not refusal.missing:
        return refusal.reason
    return f"{refusal.reason.rstrip('.')}: {'; '.join(refusal.missing)}"
