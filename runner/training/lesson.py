"""A dry run with a scenario, behind the same door as any run: intents go in, and what the scenario has to say comes after.

The lesson decides nothing about the procedure: the engine does. It refuses what an absent person would do, lets faults come,
keeps on record what was shown, hinted and asked, and ends the run where the scenario says so or an assessment must end.
"""

from collections.abc import Callable, Iterator
from dataclasses import replace

from runner.engine import events as ev
from runner.engine import flow
from runner.engine import intents as want
from runner.engine.intents import NoteTraining, Refusal, Wanted, WithPin
from runner.engine.moment import seconds_between
from runner.engine.shown import prompt_for, role_label, values_now
from runner.engine.state import name_key
from runner.formula.quantity import Misread, read_quantity
from runner.procedure.asks.ask import Ask
from runner.procedure.model import Step
from runner.procedure.scenarios.equipment import Indication, indication
from runner.procedure.scenarios.model import Fault, Question, Scenario
from runner.record.behind import Behind
from runner.record.line import Entry
from runner.record.run import Run
from runner.say.text import say
from runner.training.follow import Followed, follow
from runner.training.hints import Hint, hint

AS_ABSENT = want.ReleaseHold | want.NameReleaser | want.TickConfirmation | want.GiveSecondLook | want.NameSecond
"""What nobody does who is not there."""


class Lesson(Behind[Run]):
    """One dry run with its scenario."""

    def __init__(self, run: Run, scenario: Scenario, advance: Callable[[float], None]) -> None:
        self.run, self.scenario, self.advance = run, scenario, advance
        self.followed, self.line = Followed(), 0
        self.dark = False
        """True once the power has failed, until the run is opened again."""
        self.said: list[str] = []
        """What was unsafe, the oldest first."""
        for entry in run.entries():
            self.take(entry.event)

    # What the screen knows of any run.

    def entries(self) -> Iterator[Entry]:
        """Everything that is kept."""
        return self.run.entries()

    @property
    def practice(self) -> "Lesson":
        """The screen asks a run for its scenario by this name."""
        return self

    # The scenario.

    @property
    def assessed(self) -> bool:
        """True in an assessment."""
        return self.followed.taken is not None and self.followed.taken.assessed

    @property
    def coach(self) -> str:
        """The coach's name; may be empty."""
        return self.followed.taken.coach if self.followed.taken is not None else ""

    @property
    def trainee(self) -> str:
        """The trainee's name."""
        return self.followed.taken.trainee if self.followed.taken is not None else ""

    def submit(self, wanted: Wanted) -> tuple[ev.Event, ...] | Refusal:
        """What the intent led to, with what the scenario adds; or why it was not taken."""
        intent = wanted.intent if isinstance(wanted, WithPin) else wanted
        if isinstance(intent, want.BeginStep) and self.owed():
            return Refusal(say("The last step of the scenario is done. The coach asks now."))
        refused = self.not_there(intent)
        if refused is not None:
            self.note("tried", getattr(intent, "step", ""), "", f"in the name of {intent.by}, who is not there")
            return refused
        before = len(self.followed.unsafe)
        decided = self.run.submit(wanted)
        if isinstance(decided, Refusal):
            for event in decided.kept:
                self.take(event)
            self.unsafe_since(before)
            return decided
        told = list(decided)
        for event in decided:
            self.take(event)
        told += self.after(before)
        return tuple(told)

    def begin(self) -> None:
        """Let come what comes at the very first step."""
        self.after(len(self.followed.unsafe))

    def take(self, event: ev.Event) -> None:
        """One more event of the record."""
        self.line += 1
        self.followed = follow(self.scenario, self.procedure, self.followed, event, self.line)

    def not_there(self, intent: want.Intent) -> Refusal | None:
        """Why somebody cannot do a thing: they are not there."""
        if not isinstance(intent, AS_ABSENT):
            return None
        for fault in self.faults_on():
            holder = self.state.crew.get(fault.absent, "") if fault.absent else ""
            if holder and name_key(holder) == name_key(intent.by):
                return Refusal(f"{intent.by} is not there ({role_label(self.procedure, fault.absent)}). {fault.words}")
        return None

    def faults_on(self) -> tuple[Fault, ...]:
        """Faults that came and have no right response yet."""
        return tuple(fault for name in self.followed.hanging() if (fault := self.scenario.fault(name)) is not None)

    def after(self, unsafe_before: int) -> list[ev.Event]:
        """What the scenario has to say after something happened."""
        told: list[ev.Event] = []
        if self.state.outcome or not self.state.mode or self.followed.taken is None:
            return told
        told += self.unsafe_since(unsafe_before)
        if told and self.assessed:
            return told
        if self.at_its_end():
            if not self.owed():
                told += self.note("over", self.scenario.stop_after, "", "the scenario ends here", ends=True)
            return told
        if self.state.halted or self.run.interrupted:
            return told
        for lane in range(len(self.state.position.cursors)):
            step = flow.current(self.procedure, self.state.position, lane)
            if step is not None:
                told += self.at(step, self.state.position.cursors[lane].begun)
        return told

    def unsafe_since(self, before: int) -> list[ev.Event]:
        """Keep what was unsafe since then; the first ends an assessment."""
        told: list[ev.Event] = []
        for act in self.followed.unsafe[before:]:
            words = f"unsafe: {act.act}, though: {self.words_of(act.fault)}"
            told += self.note("unsafe", "", act.fault, words, ends=self.assessed)
            self.said.append(words)
            if self.assessed:
                break
        return told

    def at_its_end(self) -> bool:
        """True once the last step of the scenario is done."""
        stop = self.scenario.stop_after
        return bool(stop) and stop in self.followed.done and not self.ahead(stop)

    def owed(self) -> tuple[Question, ...]:
        """Questions that the coach has still to ask at the end: nobody fails because they were not asked."""
        if self.state.played or self.state.outcome or not self.at_its_end():
            return ()
        judged = {one.deed.of for one in self.scenario.criteria if one.deed.kind == "explained"}
        return tuple(one for one in self.open_questions() if one.id in judged)

    def ahead(self, stop: str) -> bool:
        """True while the last step of the scenario is to be done again."""
        return flow.find(self.procedure, self.state.position, stop) is not None and self.state.record(
            stop
        ).status.value in ("to be done again", "begun", "ended in trouble")

    def at(self, step: Step, begun: bool) -> list[ev.Event]:
        """What comes, and is shown, at a step that is up."""
        told: list[ev.Event] = []
        taken = self.followed.taken
        for name, where in taken.faults if taken is not None else ():
            fault = self.scenario.fault(name)
            if where == step.id and name not in self.followed.came and fault is not None:
                told += self.note("fault", step.id, name, fault.words)
                self.dark = self.dark or fault.kind == "power-cut"
        if begun:
            for ask in step.asks:
                told += self.show(step, ask)
        return told

    def show(self, step: Step, ask: Ask) -> list[ev.Event]:
        """Keep what an ask shows, once for each attempt; give the answer where the scenario does."""
        record = self.state.record(step.id)
        known = record.answers.get(ask.name)
        if ask.kind in ("wait", "thread") or (known is not None and known.verdict == "in"):
            return []
        seen = self.indication(step, ask)
        newest = self.followed.shown.get(ask.name)
        told: list[ev.Event] = []
        if seen.value and (newest is None or newest.value != seen.value):
            told += self.note("shown", step.id, ask.name, seen.value)
        if seen.given and seen.value and known is None:
            told += self.note("given", step.id, ask.name, seen.value)
            answered = self.run.submit(
                want.GiveAnswer(self.state.crew.get(step.by, self.trainee), step.id, ask.name, seen.value)
            )
            if not isinstance(answered, Refusal):
                for event in answered:
                    self.take(event)
                told += answered
        return told

    def indication(self, step: Step, ask: Ask) -> Indication:
        """What an ask of a step shows now. A fault shows what it has until it was answered and the step begins anew."""
        attempt = max(1, self.state.record(step.id).attempt)
        came = (self.scenario.fault(name) for name in self.followed.came)
        faults = tuple(
            fault
            for fault in came
            if fault is not None
            and step.id in fault.at
            and (fault.id not in self.followed.answered or any(attempt <= len(one.values) for one in fault.shows))
        )
        return indication(self.procedure, self.scenario, ask, attempt, values_now(self.state), faults)

    def note(
        self, kind: str, step: str, about: str, words: str, number: float = 0.0, by: str = "", ends: bool = False
    ) -> list[ev.Event]:
        """Keep something of the scenario; what comes of it."""
        noted = ev.TrainingNoted(by, self.now(), kind, step, about, words, number)
        decided = self.run.submit(NoteTraining(by or self.coach or self.trainee, noted, ends))
        if isinstance(decided, Refusal):
            return []
        for event in decided:
            self.take(event)
        return list(decided)

    def words_of(self, fault: str) -> str:
        """What a fault looks like, without its last point."""
        found = self.scenario.fault(fault)
        return found.words.rstrip(".") if found is not None else fault

    # What trainee and coach ask of it, each as an intent for `submit`.

    def hint(self, step: Step, now: str) -> Hint | Refusal:
        """The next hint at a step."""
        if self.assessed:
            return Refusal("There are no hints in an assessment.")
        here = tuple(fault.id for fault in self.faults_on() if step.id in fault.at)
        return hint(self.scenario, self.procedure, step, here, self.followed.hints.get(step.id, 0), now)

    def hint_taken(self, step: Step, told: Hint) -> NoteTraining:
        """That a hint was taken."""
        return self.wanted("hint", step.id, "", told.words, float(told.level), self.trainee)

    @property
    def said_unsafe(self) -> str:
        """The newest unsafe act; empty where there was none."""
        return self.said[-1] if self.said else ""

    def open_questions(self) -> tuple[Question, ...]:
        """What the coach has not judged yet."""
        return tuple(one for one in self.scenario.questions if one.id not in self.followed.explained)

    def magnitude(self, ask: Ask, value: str) -> float | None:
        """The number of what is shown, in the unit of the ask; None for what is no number."""
        if ask.unit is None:
            return None
        read = read_quantity(value, ask.unit)
        return None if isinstance(read, Misread) else ask.unit.magnitude(read.si)

    def questions(self, step_id: str) -> tuple[Question, ...]:
        """What the coach asks at a step and has not judged yet."""
        return tuple(
            one for one in self.scenario.questions if one.at == step_id and one.id not in self.followed.explained
        )

    @property
    def question_ids(self) -> tuple[str, ...]:
        """Of all questions."""
        return tuple(one.id for one in self.scenario.questions)

    def explained(self, question: str, share: float, words: str) -> NoteTraining | None:
        """What the coach says of an answer, by the question's id."""
        found = next((one for one in self.scenario.questions if one.id == question), None)
        return self.judged(found, share, words) if found is not None else None

    def judged(self, question: Question, share: float, words: str) -> NoteTraining:
        """What the coach says of an answer."""
        return self.wanted(
            "question", question.at, question.id, words or question.ask, share, self.coach or self.trainee
        )

    def stopped(self, words: str) -> NoteTraining:
        """The coach stops it."""
        return replace(self.wanted("stopped", "", "", words, 0.0, self.coach or self.trainee), ends=True)

    def criteria_seen(self) -> NoteTraining:
        """The trainee has seen the criteria."""
        shown = self.followed.taken.criteria if self.followed.taken is not None else ()
        return self.wanted("criteria", "", "", "; ".join(words for _, words in shown), 0.0, self.trainee)

    def wait_left(self, step: Step) -> float:
        """Seconds that a step has still to wait."""
        record = self.state.record(step.id)
        if record.wait_from is None or record.wait_over:
            return 0.0
        longest = max((ask.at_least_s for ask in step.asks if ask.kind == "wait"), default=0.0)
        return max(0.0, longest - (seconds_between(record.wait_from, self.now()) or 0.0))

    def step_time(self, step: Step) -> NoteTraining:
        """Go through the wait at once; the record says by how much."""
        left = self.wait_left(step)
        self.advance(left)
        return self.wanted("time", step.id, "", f"the time was stepped by {left:.0f} s", left, self.trainee)

    def wanted(self, kind: str, step: str, about: str, words: str, number: float, by: str) -> NoteTraining:
        """An intent that keeps something."""
        return NoteTraining(by, ev.TrainingNoted(by, self.now(), kind, step, about, words, number))

    def prompt_words(self, step: Step) -> str:
        """What is to be done in the runner at a step, for the last hint."""
        for ask in step.asks:
            known = self.state.record(step.id).answers.get(ask.name)
            if ask.kind != "wait" and (known is None or known.verdict != "in"):
                seen = self.indication(step, ask)
                return f"{prompt_for(self.procedure, self.state, ask).question}: {seen.value}"
        return "Do it as it is written, then tell it as done."
